"use strict";
// What keeps a cure, after the hazards of the line.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;

  // P.hazardList is what is dangerous, in the order in which it is to be dealt with. What holds at several stations
  // stands once; every condition is in sight, and who decides on it by its number below.
  P.hazardList = (list) => {
    const all = [];
    for (const x of list || []) {
      // Figures of the library name what is open by its place in the file.
      const figure = (x.notice.figure || "").replace(/safety\.(zone|flammables|decidedBy)/g, (_, k) => t("open." + k));
      const says = P.tidy(x.notice.condition + (figure ? " (" + figure + ")" : "") + ". ");
      const same = all.find((y) => y.says === says && y.open === x.open);
      if (!same) all.push({ says, open: x.open, notice: x.notice, at: x.station ? [x.station] : [] });
      else if (x.station && !same.at.includes(x.station)) same.at.push(x.station);
    }
    const who = new Map();
    all.forEach((x, i) => {
      const s = t("consult", x.notice.consult) + " " + t("decide", x.notice.decide);
      who.set(s, (who.get(s) || []).concat(i + 1));
    });
    return [
      h("h2", null, t("hazardsFirst")),
      h("p", { class: "hint" }, t("hazardsHint")),
      h(
        "ol",
        null,
        all.map((x) =>
          h(
            "li",
            null,
            x.open ? h("b", null, t("openHazard") + " ") : null,
            x.at.length ? h("b", null, x.at.join(", ") + ": ") : null,
            x.says,
          ),
        ),
      ),
      P.fold(
        t("consultAll"),
        [...who].map(([s, n]) => h("p", null, h("b", null, n.join(", ") + ": "), s)),
      ),
    ];
  };

  P.notSaid = (notices, hazards) => {
    const rest = (notices || []).filter((n) => !(hazards || []).some((x) => x.notice.condition === n.condition));
    return rest.length ? [h("h2", null, t("hazards")), rest.map((n) => P.notice(n))] : null;
  };

  const watches = (list, goods) => [
    h("h2", null, t("watch")),
    h("p", { class: "hint" }, t(goods ? "watchGoodsHint" : "watchHint")),
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
        list.map((w) =>
          h(
            "tr",
            null,
            h("th", { scope: "row" }, w.name),
            w.unused ? h("td", { colspan: 2 }, w.unused) : [h("td", null, w.action), h("td", null, w.limit)],
          ),
        ),
      ),
    ),
  ];

  V.keep = function (l) {
    const box = h("section", { "aria-live": "polite" }, h("p", null, t("computing")));
    const goods = P.isGoods(l);
    const asked = goods
      ? P.reply(box, "goodskeep", P.goodsRequest(l))
      : P.reply(box, "keep", Object.assign(P.request(l), { safety: P.safety(l) }));
    asked.then((r) => {
      if (!r) return;
      box.replaceChildren(
        ...[
          P.hazardList(r.hazards),
          (r.watches || []).length ? watches(r.watches, goods) : null,
          h("h2", null, t("tasks")),
          (r.tasks || []).map((x) =>
            P.fold(x.what, h("p", null, t("whoWhen", x.who, x.when)), x.limit && h("p", { class: "soft" }, x.limit)),
          ),
          h("h2", null, t("triggers")),
          h(
            "ul",
            null,
            (r.triggers || []).map((x) => h("li", null, x)),
          ),
          // Those that the list above does not say.
          P.notSaid(r.notices, r.hazards),
        ]
          .flat(3)
          .filter((x) => x),
      );
    });
    return [h("h1", { tabindex: -1 }, t("step.keep")), box, goods ? null : P.season(l)];
  };
})();
