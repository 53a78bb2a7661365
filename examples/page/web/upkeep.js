"use strict";
// What keeps a cure, after the hazards of the line.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;

  // P.hazardList is what is dangerous, in the order in which it is to be dealt with.
  P.hazardList = (list) => [
    h("h2", null, t("hazardsFirst")),
    h("p", { class: "hint" }, t("hazardsHint")),
    h(
      "ol",
      null,
      (list || []).map((x) =>
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
  ];

  V.keep = function (l) {
    const box = h("section", { "aria-live": "polite" }, h("p", null, t("computing")));
    P.reply(box, "keep", Object.assign(P.request(l), { safety: P.safety(l) })).then((r) => {
      if (!r) return;
      box.replaceChildren(
        ...[
          P.hazardList(r.hazards),
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
    return [h("h1", { tabindex: -1 }, t("step.keep")), box, P.season(l)];
  };
})();
