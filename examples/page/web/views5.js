"use strict";
// Changes to try on the calibrated line, and what keeps a cure.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;

  // P.safety is what was answered about fire, as the computing takes it; P.shut says whether that is no answer.
  P.safety = function (l) {
    const a = l.asks,
      s = { decidedBy: (a.by || "").trim() };
    if (a.fire === "no") {
      s.flammables = "none";
      s.zone = "none";
    }
    if (a.fire === "yes") {
      s.flammables = a.flammables || "unknown";
      s.zone = a.zone || "unknown";
    }
    return s;
  };
  P.shut = function (l) {
    const s = P.safety(l);
    return !s.decidedBy || !s.zone || s.zone === "unknown" || !s.flammables || s.flammables === "unknown";
  };

  const can = {
    earth: (s) => (s.kind === "roller" || s.kind === "nip") && !(s.roller && s.roller.kind === "insulating"),
    "switch off": (s) => s.kind === "ioniser",
    "switch on": (s) => s.kind === "ioniser",
    clean: (s) => s.kind === "ioniser",
    move: (s) => s.kind === "ioniser",
    remove: (s) => s.kind !== "unwind" && s.kind !== "winder" && s.kind !== "place",
  };

  V.try = function (l) {
    const shut = P.shut(l),
      d = l.draft.try || (l.draft.try = { do: "earth" }),
      list = l.tries || (l.tries = []);
    const out = h("section", { "aria-live": "polite" });
    const form = h("form", {
      class: "card",
      novalidate: true,
      submit: (e) => {
        e.preventDefault();
        add();
      },
    });
    const chosen = h("ol");
    const fault = h("p", { class: "fault", role: "alert" });
    const keep = () => P.save(l);
    const words = (c) =>
      t(
        "do." + c.do,
        c.station,
        c.speed,
        [c.to && t("atPlace", c.to), c.gap && t("gapThere", c.gap), c.face && t("onFace", c.face)]
          .filter((x) => x)
          .join(", "),
      );

    function draw() {
      const whats = shut ? ["earth"] : ["earth", "run", "move", "clean", "switch off", "switch on", "remove"];
      if (!whats.includes(d.do)) d.do = "earth";
      const fits = can[d.do] ? l.desc.stations.filter(can[d.do]) : [];
      if (!fits.some((s) => s.name === d.station)) d.station = "";
      const q = (label, kind, k, hint) =>
        P.quantity(
          label,
          kind,
          () => d[k],
          (v) => {
            d[k] = v;
            keep();
          },
          "t." + k,
          hint,
        );
      form.replaceChildren(
        ...[
          P.selectField(
            t("whatChange"),
            whats.map((w) => [w, t("what." + w)]),
            d.do,
            (v) => {
              d.do = v;
              keep();
              draw();
            },
          ),
          d.do !== "run" &&
            P.selectField(
              t("station"),
              [["", t("choose")]].concat(fits.map((s) => [s.name, s.name])),
              d.station,
              (v) => {
                d.station = v;
                keep();
              },
            ),
          d.do === "run" && q(t("newSpeed"), "speed", "speed"),
          d.do === "move" && q(t("newPlace"), "along", "to", t("newPlaceHint")),
          d.do === "move" && q(t("gap"), "short", "gap"),
          d.do === "move" &&
            P.selectField(
              t("meets"),
              [
                ["", t("asNow")],
                ["A", t("faceA")],
                ["B", t("faceB")],
              ],
              d.face || "",
              (v) => {
                d.face = v;
                keep();
              },
            ),
          d.do !== "run" && d.do !== "earth" && P.caution("high-voltage"),
          d.do === "earth" && P.caution("isolated-conductor"),
          fault,
          h("button", { class: "main", type: "submit" }, t("addChange")),
        ].filter((x) => x),
      );
      chosen.replaceChildren(
        ...list.map((c, i) =>
          h(
            "li",
            null,
            words(c) + " ",
            h(
              "button",
              {
                class: "quiet",
                click: () => {
                  list.splice(i, 1);
                  keep();
                  draw();
                  out.replaceChildren();
                },
              },
              t("takeAway"),
              h("span", { class: "hide" }, " " + words(c)),
            ),
          ),
        ),
      );
    }
    function add() {
      fault.textContent = "";
      if (d.do === "run" ? !d.speed : !d.station) {
        fault.textContent = t("changeOpen");
        return;
      }
      const c = { do: d.do, station: d.do === "run" ? "" : d.station };
      if (d.do === "run") c.speed = d.speed;
      if (d.do === "move") Object.assign(c, { to: d.to || "", gap: d.gap || "", face: d.face || "" });
      if (!list.some((x) => JSON.stringify(x) === JSON.stringify(c))) list.push(c); // a double tap adds one
      keep();
      draw();
      out.replaceChildren();
    }
    async function work() {
      out.replaceChildren(h("p", null, t("computing")));
      const r = await P.ask("try", Object.assign(P.request(l), { safety: P.safety(l), changes: list }));
      if (!r) {
        out.replaceChildren(h("p", { class: "fault" }, t("notYet")));
        return;
      }
      if (r.faults.length) {
        out.replaceChildren(
          h(
            "ul",
            null,
            r.faults.map((f) => h("li", { class: "fault" }, f.text)),
          ),
        );
        return;
      }
      out.replaceChildren(
        ...[
          h("h2", null, t("wouldBe")),
          h("p", null, h("b", null, t("chanceNow", r.now, r.then))),
          r.far && h("p", { class: "fault" }, t("far")),
          r.guessed && h("p", { class: "hint" }, t("guessed", r.guessed.join(", "))),
          h("p", { class: "hint" }, t("triedHint")),
          r.stations.map((s) =>
            h(
              "div",
              { class: "card" },
              h("h3", null, s.name),
              s.net && h("p", null, t("netNow", s.net, s.over)),
              h("p", null, t("netThen", s.netThen, s.then)),
              s.show && h("p", { class: "soft" }, t("showThen", s.show)),
            ),
          ),
          r.side && r.side.length
            ? h(
                "ul",
                null,
                r.side.map((x) => h("li", null, x)),
              )
            : null,
          r.notices && r.notices.length ? [h("h2", null, t("hazards")), r.notices.map((n) => P.notice(n))] : null,
        ]
          .flat(3)
          .filter((x) => x),
      );
      document.documentElement.dataset.tried = String(1 + Number(document.documentElement.dataset.tried || 0));
    }
    draw();
    return [
      h("h1", { tabindex: -1 }, t("step.try")),
      h("p", null, t("tryText")),
      shut &&
        h(
          "div",
          { class: "caution" },
          h("h2", null, t("shutHead")),
          h("p", null, t("shut")),
          h("a", { class: "button", href: "#" + l.id + "/fire" }, t("step.fire")),
        ),
      form,
      h("h2", null, t("toTry")),
      chosen,
      h("div", { class: "row" }, h("button", { class: "main", click: work }, t("workOut"))),
      out,
    ];
  };

  V.keep = function (l) {
    const box = h("section", { "aria-live": "polite" }, h("p", null, t("computing")));
    P.ask("keep", Object.assign(P.request(l), { safety: P.safety(l) })).then((r) => {
      if (!r) {
        box.replaceChildren(h("p", null, t("notYet")));
        return;
      }
      if (r.faults && r.faults.length) {
        box.replaceChildren(
          h("p", null, t("answerFaults")),
          h(
            "ul",
            null,
            r.faults.slice(0, 20).map((f) => h("li", { class: "fault" }, f.text)),
          ),
        );
        return;
      }
      box.replaceChildren(
        ...[
          h("h2", null, t("hazardsFirst")),
          h("p", { class: "hint" }, t("hazardsHint")),
          h(
            "ol",
            null,
            (r.hazards || []).map((x) =>
              h(
                "li",
                null,
                x.open ? h("b", null, t("openHazard") + " ") : null,
                x.station ? h("b", null, x.station + ": ") : null,
                x.notice.condition + (x.notice.figure ? " (" + x.notice.figure + ")" : "") + ". ",
                h("span", { class: "soft" }, t("consult", x.notice.consult) + " " + t("decide", x.notice.decide)),
              ),
            ),
          ),
          h("h2", null, t("watch")),
          h("p", { class: "hint" }, t("watchHint")),
          h(
            "table",
            null,
            h("caption", { class: "hide" }, t("watch")),
            h(
              "thead",
              null,
              h(
                "tr",
                null,
                h("th", { scope: "col" }, t("station")),
                h("th", { scope: "col" }, t("watchMean")),
                h("th", { scope: "col" }, t("watchLimit")),
              ),
            ),
            h(
              "tbody",
              null,
              (r.watches || []).map((w) =>
                h(
                  "tr",
                  null,
                  h("th", { scope: "row" }, w.name),
                  w.unused ? h("td", { colspan: 2 }, w.unused) : [h("td", null, w.action), h("td", null, w.limit)],
                ),
              ),
            ),
          ),
          h("h2", null, t("tasks")),
          h(
            "ul",
            { class: "plain" },
            (r.tasks || []).map((x) =>
              h(
                "li",
                { class: "card" },
                h("b", null, x.what),
                h("p", null, t("whoWhen", x.who, x.when)),
                x.limit && h("p", { class: "soft" }, x.limit),
              ),
            ),
          ),
          h("h2", null, t("triggers")),
          h(
            "ul",
            null,
            (r.triggers || []).map((x) => h("li", null, x)),
          ),
          r.notices && r.notices.length ? [h("h2", null, t("hazards")), r.notices.map((n) => P.notice(n))] : null,
        ]
          .flat(3)
          .filter((x) => x),
      );
    });
    return [h("h1", { tabindex: -1 }, t("step.keep")), box];
  };
})();
