"use strict";
// The steps of readings and of the ground check.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;
  const EARTH = "resistance to ground";
  P.conductors = (l) =>
    l.desc.stations.filter(
      (s) => (s.kind === "roller" || s.kind === "nip") && !(s.roller && s.roller.kind === "insulating"),
    );

  V.ground = function (l) {
    return [
      h("h1", { tabindex: -1 }, t("step.ground")),
      h("p", null, t("groundText")),
      P.caution("isolated-conductor"),
      P.caution("high-voltage"),
      P.entry(l, [EARTH]),
      h("h2", null, t("conductors")),
      conductorList(l),
      h("h2", null, t("taken")),
      P.readingList(l, (r) => r.quantity === EARTH),
    ];
  };
  function conductorList(l) {
    const box = h("ul", { class: "plain" });
    P.followers.push(() => {
      const g = (P.answer && P.answer.ground) || P.conductors(l).map((s) => ({ name: s.name }));
      box.replaceChildren(
        ...g.map((x) =>
          h(
            "li",
            { class: "card" },
            h("b", null, x.name),
            ": ",
            x.isolated
              ? h("span", { class: "fault" }, t("isolated"))
              : x.measured
                ? t("earthed")
                : h("span", { class: "fault" }, t("notMeasuredFine")),
          ),
        ),
      );
      if (!g.length) box.replaceChildren(h("li", null, t("noConductors")));
    });
    return box;
  }

  V.readings = function (l) {
    if (!l.care) {
      return [
        h("h1", { tabindex: -1 }, t("step.readings")),
        P.caution("reach-in"),
        P.caution("implant"),
        h(
          "div",
          { class: "row" },
          h(
            "button",
            {
              class: "main",
              click: () => {
                l.care = true;
                P.save(l);
                P.paint();
              },
            },
            t("careRead"),
          ),
        ),
      ];
    }
    return [
      h("h1", { tabindex: -1 }, t("step.readings")),
      h("p", { class: "hint" }, t("readingsText")),
      P.entry(l, ["field meter", "over-roller voltmeter", "pail charge", "decay time"]),
      P.meterForm(l),
      h("details", null, h("summary", null, t("reachAgain")), P.caution("reach-in")),
      h("h2", null, t("taken")),
      P.faultList("survey"),
      P.readingList(l, (r) => r.quantity !== EARTH),
    ];
  };
})();
