"use strict";
// Where one is: #, #line, #line/step, #line/path/3. The back button goes back one view.
(function () {
  const h = P.h,
    t = P.t;
  const root = document.getElementById("page");
  document.documentElement.lang = t("lang");
  document.title = t("title");
  const strip = h("p", { class: "strip", id: "strip", "aria-live": "polite", role: "status" });
  const toast = h("p", { class: "toast", role: "status", hidden: true });
  const main = h("main", { id: "main" });
  const where = h("span", { class: "where" });
  const nav = h("nav", { "aria-label": t("steps") });
  root.append(
    h("header", null, where, h("a", { class: "button quiet", href: "#" }, t("allLines"))),
    main,
    h("div", { class: "foot" }, h("div", null, toast, strip, nav)),
  );

  P.go = (id, step) => {
    const to = "#" + id + (step ? "/" + step : "");
    if (location.hash === to) P.paint();
    else location.hash = to;
  };
  P.say = function (text, undo) {
    toast.hidden = false;
    toast.replaceChildren(
      h("span", null, text),
      undo && P.undo
        ? h(
            "button",
            {
              click: () => {
                P.undo();
                toast.hidden = true;
              },
            },
            t("undo"),
          )
        : "",
    );
    clearTimeout(P.toastTimer);
    P.toastTimer = setTimeout(() => {
      toast.hidden = true;
    }, 12000);
  };

  // P.paint draws the view that the address names; stay keeps the place and the focus.
  P.paint = function (stay) {
    const [id, step, part] = decodeURIComponent(location.hash.replace(/^#/, "")).split("/");
    const l = P.lines[id];
    if (l !== P.line) {
      P.answer = null;
      P.line = l || null;
      P.refresh();
    }
    const other = l && !P.isGoods(l) && P.goodsOnly.includes(step); // the line was one of goods when this was noted
    P.step = l ? (!other && step) || "line" : "home";
    P.followers = [];
    const view = !l
      ? P.views.home()
      : P.step === "path" && part !== undefined
        ? P.views.station(l, Number(part))
        : (P.views[P.step] || P.views.line)(l);
    const y = window.scrollY;
    main.replaceChildren(...view.flat(9).filter((x) => x));
    where.textContent = l ? l.desc.name || t("unnamed") : t("title");
    document.title = (l ? (l.desc.name || t("unnamed")) + " – " : "") + t("title");
    const steps = l ? P.stepsOf(l) : P.steps,
      i = steps.indexOf(P.step);
    nav.replaceChildren(
      ...(l
        ? [
            h("a", { class: "button", href: "#" + id + (i > 0 ? "/" + steps[i - 1] : "") }, t("back")),
            h("a", { class: "button", href: "#" + id }, t("overview")),
            i < steps.length - 1
              ? h("a", { class: "button main", href: "#" + id + "/" + steps[i + 1] }, t("next"))
              : h("span"),
          ]
        : []),
    );
    nav.hidden = !l;
    P.paintLists();
    P.paintStrip();
    if (stay) window.scrollTo(0, y);
    else {
      window.scrollTo(0, 0);
      const head = main.querySelector("h1");
      if (head && P.painted) head.focus({ preventScroll: true });
    }
    P.painted = true;
    P.at = location.hash; // what is drawn
    if (!stay) P.since = performance.now();
  };
  // P.paintNow draws anew where one stands, with the focus on the same control.
  P.paintNow = function () {
    const all = () => [...main.querySelectorAll("input, select, button, textarea, a")];
    const at = all().indexOf(document.activeElement);
    P.paint(true);
    if (at >= 0 && all()[at]) all()[at].focus({ preventScroll: true });
  };
  P.paintLists = () => {
    for (const f of P.followers) f();
  };
  P.onAnswer = P.paintLists;

  // P.paintStrip is the one line of the verdict that stands under every step.
  P.paintStrip = function () {
    const l = P.line;
    let s = "";
    if (P.full) s = t("noRoom");
    else if (P.compute.state === "loading") s = t("loading");
    else if (P.compute.state === "failed") s = t("failed");
    else if (l && P.answerOf === l.id && P.answer) {
      const a = P.answer,
        v = a.verdict;
      if (v) s = (v.earth.startsWith("Earth first") ? v.earth + " " : "") + v.source;
      else if (a.faults && a.faults.length) s = t("missing", a.faults.length);
      else if (P.isGoods(l) && !l.goods.readings.length) s = t("complete");
      else if (a.sources && a.sources.length) s = t("goodsStrip", a.sources[0].name, a.sources[0].chance);
      else if (!l.rows.length) s = t("complete");
    } else if (l && P.busy) s = t("computing");
    if (strip.textContent !== s) strip.textContent = s;
    strip.hidden = !s;
    if (P.compute.state === "failed" && !document.getElementById("again"))
      strip.append(" ", h("button", { id: "again", click: () => P.startComputing() }, t("tryAgain")));
  };

  // The second tap of an impatient finger falls on a view that it never saw: it does nothing. Keys have no detail.
  window.addEventListener(
    "click",
    (e) => {
      if (!e.isTrusted || !e.detail || e.timeStamp - P.since > 300) return;
      e.preventDefault();
      e.stopPropagation();
    },
    true,
  );

  // A fault of ours is told, never swallowed; entries are kept as they were typed.
  window.addEventListener("unhandledrejection", (e) => P.say(t("ours", String(e.reason).slice(0, 200))));
  window.addEventListener("hashchange", () => P.paint());
  // Another window of the same page wrote: take it over unless something is being typed here.
  window.addEventListener("storage", (e) => {
    if (!e.key || !e.key.startsWith(P.prefix)) return;
    P.load();
    P.line = null;
    P.paint(true);
  });
  P.followers = [];
  P.load();
  P.paint();
  P.startComputing();
})();
