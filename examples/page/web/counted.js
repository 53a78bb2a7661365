"use strict";
// Before and after for goods: what people counted or weighed, which needs no meter.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;

  V.counted = function (l) {
    const d = l.draft.counted || (l.draft.counted = { what: "events", unit: "g" });
    const out = h("section", { "aria-live": "polite" });
    const dose = l.goods.kind === "dose";
    if (!dose) d.what = "events";
    const set = (k) => (v) => {
      d[k] = v;
      P.save(l);
    };
    const list = (s) => {
      const n = P.numbers(s || "");
      if (n.fault) return n;
      const unit = d.what === "weights" ? " " + d.unit : "";
      return { list: n.list.map((x) => (x.sign === "-" ? "-" : "") + x.bare + unit) };
    };
    const work = async () => {
      const [before, after] = [list(d.before), list(d.after)];
      if (before.fault || after.fault) {
        P.refill(out, h("p", { class: "fault" }, before.fault || after.fault));
        return;
      }
      const r = await P.reply(out, "counts", { what: d.what, before: before.list, after: after.list });
      if (!r) return;
      P.refill(
        out,
        h("p", null, h("b", null, t("countedSays", r.before, r.after, r.says))),
        h("p", null, r.more < 0 ? t("compareNever") : t("countedMore", r.more)),
        h("p", { class: "soft" }, t("compareWeather.counted")),
      );
      P.mark("counted");
    };
    const asks = ["events", "weights"].map((w) => [w, t("counted." + w)]);
    const hint = t(d.what === "events" ? "countedHint" : "countedWeights");
    const what = (v) => {
      set("what")(v);
      P.paintNow();
    };
    const unit = ["g", "kg"].map((u) => [u, u]);
    return [
      h("h1", { tabindex: -1 }, t("step.counted")),
      h("p", null, t("countedText")),
      dose && P.choice(t("countedWhat"), asks, d.what, what),
      d.what === "weights" && P.selectField(t("countedUnit"), unit, d.unit, set("unit")),
      P.textField(t("countedBefore"), d.before, set("before"), hint, true),
      P.textField(t("countedAfter"), d.after, set("after"), hint, true),
      h("div", { class: "row" }, h("button", { class: "main", click: work }, t("compareWork"))),
      out,
    ];
  };
})();
