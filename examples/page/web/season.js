"use strict";
// When in a year the line runs over its limit.
(function () {
  const h = P.h,
    t = P.t;
  P.units.surface = [["µC/m²"], ["µC/m²"]];
  const names = (m) => new Date(2001, m, 15).toLocaleString(t("lang"), { month: "short" });

  P.season = function (l) {
    const d = l.draft.season || (l.draft.season = {});
    const out = h("section", { "aria-live": "polite" });
    const q = (label, kind, k, hint) =>
      P.quantity(
        label,
        kind,
        () => d[k],
        (v) => {
          d[k] = v;
          P.save(l);
        },
        "season." + k,
        hint,
      );
    const work = async () => {
      const unit = P.settings.units === "us" ? " °F" : " °C";
      const months = (d.months || "")
        .replace(/[\u2212\u2013]/g, "-")
        .split(/[\s;]+/)
        .filter((x) => x)
        .map((x) => x.replace(",", ".") + unit);
      const season = { months };
      for (const k of ["charge", "limit", "dwell", "temperature", "hall"]) season[k] = d[k] || "";
      if (P.isGoods(l)) season.decays = l.goods.decays;
      const r = await P.reply(out, "forecast", Object.assign(P.request(l), { season }));
      if (!r) return;
      P.refill(
        out,
        r.never
          ? [h("p", null, t("seasonNever"))]
          : [
              h("p", null, h("b", null, t("seasonBelow", r.below)), " ", t("seasonDew", r.dewPoint, r.outdoor)),
              h("p", null, t("seasonHours", r.hours), " ", r.driest && t("seasonSurvey", r.driest)),
              h(
                "ul",
                { class: "plain" },
                r.months.map((x, m) => h("li", null, names(m) + ": " + Math.round(100 * x) + " %")),
              ),
              r.wet && h("p", { class: "fault" }, t("seasonWet")),
              r.flag && h("p", { class: "fault" }, t("compareFlag", r.flag)),
              P.caution("humidity"),
            ],
      );
      P.mark("foreseen");
    };
    return h(
      "details",
      null,
      h("summary", null, t("season")),
      h("p", { class: "hint" }, t(P.isGoods(l) ? "decaysHint" : "seasonHint")),
      q(t("seasonCharge"), "surface", "charge"),
      q(t("goodsLimit"), "surface", "limit", P.isGoods(l) ? null : t("seasonLimitHint")),
      q(t("dwell"), "time", "dwell", t("dwellHint")),
      q(t("temperatureThere"), "temperature", "temperature"),
      q(t("seasonHall"), "temperature", "hall"),
      P.textField(
        t("seasonMonths", P.settings.units === "us" ? "°F" : "°C"),
        d.months,
        (v) => {
          d.months = v;
          P.save(l);
        },
        t("seasonMonthsHint"),
      ),
      h("div", { class: "row" }, h("button", { class: "main", click: work }, t("seasonWork"))),
      out,
    );
  };
})();
