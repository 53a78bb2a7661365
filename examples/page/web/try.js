"use strict";
// Changes to try on the calibrated line.
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
    cover: (s) => s.kind === "roller" || s.kind === "nip",
    load: (s) => s.kind === "roller" || s.kind === "nip",
    wrap: (s) => s.kind === "roller" || s.kind === "nip",
    core: (s) => s.kind === "winder",
  };
  // In the order in which cures are looked for: earth, source, leak, ions, screen, speed.
  const everything = ["earth", "cover", "load", "wrap", "remove", "moisten", "warm", "add", "move", "clean"].concat([
    "switch on",
    "switch off",
    "core",
    "run",
  ]);

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
    const chosen = h("ol"),
      none = h("p", { class: "hint" }, t("noneTaken"));
    const fault = h("p", { class: "fault", role: "alert" });
    const keep = () => P.save(l);
    const words = (c) =>
      t(
        "do." + c.do,
        c.station,
        c.speed || c.to,
        [
          c.to && t("atPlace", c.to),
          c.gap && t("gapThere", c.gap),
          c.face && t("onFace", c.face),
          c.metal && t("earthedMetal"),
          c.passive && t("passive"),
          c.times && t("timesNow", c.times),
        ]
          .filter((x) => x)
          .join(", "),
      );

    function draw() {
      const whats = shut ? ["earth"] : everything;
      if (!whats.includes(d.do)) d.do = "earth";
      const fits = can[d.do] ? l.desc.stations.filter(can[d.do]) : [];
      if (can[d.do] && !fits.some((s) => s.name === d.station)) d.station = "";
      const set = (k) => (v) => {
        d[k] = v;
        keep();
      };
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
          can[d.do] &&
            P.selectField(
              t("station"),
              [["", t("choose")]].concat(fits.map((s) => [s.name, s.name])),
              d.station,
              (v) => {
                d.station = v;
                keep();
              },
            ),
          d.do === "add" && P.textField(t("newBar"), d.bar, set("bar"), t("stationNameHint")),
          d.do === "run" && q(t("newSpeed"), "speed", "speed"),
          d.do === "moisten" && q(t("humidity"), "humidity", "damp", t("moistenHint")),
          d.do === "warm" && q(t("temperature"), "temperature", "warm", t("warmHint")),
          (d.do === "move" || d.do === "add") && q(t("newPlace"), "along", "to", t("newPlaceHint")),
          (d.do === "move" || d.do === "add") && q(t("gap"), "short", "gap"),
          (d.do === "move" || d.do === "add" || d.do === "cover") &&
            P.selectField(
              t(d.do === "cover" ? "touchesNew" : "meets"),
              [
                ["", t(d.do === "cover" ? "choose" : "asNow")],
                ["A", t("faceA")],
                ["B", t("faceB")],
              ].slice(d.do === "add" ? 1 : 0),
              d.face || (d.do === "add" ? "A" : ""),
              set("face"),
            ),
          d.do === "add" && P.tick(t("passive"), d.passive, set("passive")),
          d.do === "cover" && P.tick(t("earthedMetal"), d.metal, set("metal")),
          ["cover", "load", "wrap"].includes(d.do) &&
            P.plainNumber(t("times." + d.do), d.times || "", set("times"), t("timesHint." + d.do)),
          ["add", "move", "clean", "switch off", "switch on"].includes(d.do) && P.caution("high-voltage"),
          (d.do === "moisten" || d.do === "warm") && P.caution("humidity"),
          ["cover", "load", "wrap", "remove", "core"].includes(d.do) && P.caution("reach-in"),
          d.do === "earth" && P.caution("isolated-conductor"),
          fault,
          h("button", { class: "main", type: "submit" }, t("addChange")),
        ].filter((x) => x),
      );
      none.hidden = list.length > 0;
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
      const open =
        (can[d.do] && !d.station) ||
        (d.do === "run" && !d.speed) ||
        (d.do === "moisten" && !d.damp) ||
        (d.do === "warm" && !d.warm) ||
        (d.do === "add" && (!(d.bar || "").trim() || !d.to)) ||
        (d.do === "cover" && !d.face) ||
        ((d.do === "load" || d.do === "wrap") && !d.times);
      if (open) {
        fault.textContent = t("changeOpen");
        return;
      }
      const c = { do: d.do, station: can[d.do] ? d.station : d.do === "add" ? d.bar.trim() : "" };
      if (d.do === "run") c.speed = d.speed;
      if (d.do === "moisten") c.to = d.damp;
      if (d.do === "warm") c.to = d.warm;
      if (d.do === "move" || d.do === "add")
        Object.assign(c, { to: d.to || "", gap: d.gap || "", face: d.face || (d.do === "add" ? "A" : "") });
      if (d.do === "add") c.passive = !!d.passive;
      if (d.do === "cover") Object.assign(c, { face: d.face, metal: !!d.metal });
      if (["cover", "load", "wrap"].includes(d.do)) c.times = d.times || "";
      if (!list.some((x) => JSON.stringify(x) === JSON.stringify(c))) list.push(c); // a double tap adds one
      keep();
      draw();
      out.replaceChildren();
    }
    async function work() {
      out.replaceChildren(h("p", null, t("computing")));
      const r = await P.reply(out, "try", Object.assign(P.request(l), { safety: P.safety(l), changes: list }));
      if (!r) return;
      P.refill(
        out,
        [
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
              h("p", { class: "soft" }, t("facesThen", s.facesThen)),
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
        ],
      );
      P.mark("tried");
    }
    draw();
    return [
      h("h1", { tabindex: -1 }, t("step.try")),
      h("p", null, t("tryText")),
      shut && P.shutNotice(l),
      form,
      h("h2", null, t("toTry")),
      none,
      chosen,
      h("div", { class: "row" }, h("button", { class: "main", click: work }, t("workOut"))),
      out,
    ];
  };
})();
