"use strict";
// The plan, and the comparison of before and after.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;

  V.plan = function (l) {
    const d = l.draft.plan || (l.draft.plan = { speed: l.desc.wish || "" });
    const out = h("section", { "aria-live": "polite" });
    const shut = P.shut(l);
    const work = async () => {
      out.replaceChildren(h("p", null, t("computing") + " " + t("planSlow")));
      const r = await P.reply(
        out,
        "plan",
        Object.assign(P.request(l), { safety: P.safety(l), aim: { speed: d.speed || "", faces: !!d.faces } }),
      );
      if (!r) return;
      const name = (s) => (s.what || []).join(", ") || s.step;
      const step = (s) =>
        h(
          "div",
          { class: "card" },
          h("h3", null, name(s), s.chosen ? " (" + t("chosen") + ")" : ""),
          // Earthing changes nothing on the web: two equal figures would read like a cure that failed.
          s.step === "earth" ? h("p", null, s.reason) : !r.stop && h("p", null, P.tidy(t("fromTo", s.before, s.after))),
          s.raises && s.raises.length ? h("p", { class: "fault" }, t("raises", s.raises.join(", "))) : null,
          P.fold(
            t("cureWhy"),
            h("p", { class: "soft" }, s.step),
            s.step !== "earth" && s.reason && h("p", null, s.reason),
          ),
        );
      // What is chosen is in sight; without a choice, all that is possible is.
      const cures = r.cures || [],
        chosen = cures.filter((s) => s.chosen || s.step === "earth" || r.stop),
        first = chosen.length ? chosen : cures,
        more = chosen.length ? cures.filter((s) => !chosen.includes(s)) : [];
      const refused = r.refused || [],
        prove = r.prove || [],
        fails = r.fails || [];
      // "above 99 %" is more than "61 %".
      const size = (f) => Number((f.chance.match(/[\d.]+/) || [0])[0]) + (/above/.test(f.chance) ? 0.5 : 0);
      const worst = fails.filter((f) => f.worst).sort((a, b) => size(b) - size(a))[0];
      P.refill(
        out,
        [
          r.stop && h("div", { class: "caution" }, h("h2", null, t("shutHead")), h("p", null, t("shut"))),
          !r.stop &&
            h(
              "p",
              null,
              h("b", null, P.tidy(t("chanceIf", r.before, r.after))),
              " ",
              t(r.reached ? "planReached" : "planMissed"),
            ),
          P.caution("isolated-conductor"),
          !r.stop && P.caution("high-voltage"),
          P.caution("not-an-approval"),
          cures.length && h("h2", null, t("cures")),
          first.map(step),
          more.length && P.fold(t("cureMore", more.length), more.map(step)),
          r.test && [h("h2", null, t("testNext")), h("p", null, r.test + ": " + r.why + ".")],
          !r.stop &&
            (r.fastest
              ? h("p", null, t("fastest", r.fastest), " ", r.binds ? t("binds", r.binds) : t("bindsSurvey"))
              : h("p", null, t("fastestNone"))),
          r.pair && h("p", null, t("pair", r.pair)),
          fails.length && h("h2", null, t("fails")),
          fails.length &&
            P.fold(
              worst
                ? t("failsWorst", worst.out ? t("outIs", worst.out) : t("allOn"), worst.chance, worst.worst)
                : t("fails"),
              fails.map((f) =>
                h(
                  "div",
                  { class: "card" },
                  h("h3", null, f.out ? t("outIs", f.out) : t("allOn")),
                  f.worst && h("p", null, t("worstAt", f.chance, f.worst)),
                  f.spare && h("p", { class: "soft" }, t("spare", f.changes)),
                ),
              ),
            ),
          prove.length && h("h2", null, t("prove")),
          prove.length &&
            P.fold(
              t("proveAll", prove.length),
              prove.map((x) =>
                h(
                  "div",
                  { class: "card" },
                  h("h3", null, t("proveAt", x.name, x.speed)),
                  h("p", null, t("expectPass", x.expect, x.pass)),
                ),
              ),
            ),
          refused.length && h("h2", null, t("refused")),
          refused.length && P.fold(refused.map(name).join(", "), refused.map(step)),
        ],
      );
      P.mark("planned");
    };
    return [
      h("h1", { tabindex: -1 }, t("step.plan")),
      h("p", null, t("planText")),
      shut && P.shutNotice(l),
      P.quantity(
        t("planSpeed"),
        "speed",
        () => d.speed,
        (v) => {
          d.speed = v;
          P.save(l);
        },
        "plan.speed",
        t("planSpeedHint"),
      ),
      P.tick(t("planFaces"), d.faces, (on) => {
        d.faces = on;
        P.save(l);
      }),
      h("div", { class: "row" }, h("button", { class: "main", click: work }, t("planWork"))),
      out,
    ];
  };

  V.compare = function (l) {
    const d = l.draft.compare || (l.draft.compare = {});
    const out = h("section", { "aria-live": "polite" });
    const places = l.desc.stations.filter((s) => s.kind === "place");
    if (!places.some((s) => s.name === d.station)) d.station = "";
    const work = async () => {
      const r = await P.reply(
        out,
        "compare",
        Object.assign(P.request(l), {
          station: d.station,
          moment: (d.moment || "").replace("T", " "),
          dwell: d.dwell || "",
        }),
      );
      if (!r) return;
      P.refill(
        out,
        [
          h("p", null, h("b", null, t("compareSays", r.before, r.after, r.says))),
          r.turned && h("p", { class: "fault" }, t("compareTurned")),
          h("p", null, r.more < 0 ? t("compareNever") : t("compareMore", r.more)),
          h("p", { class: "soft" }, t("compareWeather." + (r.weather || "out"))),
          r.flag && h("p", { class: "fault" }, t("compareFlag", r.flag)),
        ],
      );
      P.mark("compared");
    };
    return [
      h("h1", { tabindex: -1 }, t("step.compare")),
      h("p", null, t("compareText")),
      P.caution("reach-in"),
      P.selectField(
        t("compareWhere"),
        [["", t("choose")]].concat(places.map((s) => [s.name, s.name])),
        d.station,
        (v) => {
          d.station = v;
          P.save(l);
        },
      ),
      h(
        "div",
        { class: "field" },
        h("label", { for: "moment" }, t("compareWhen")),
        h("p", { class: "hint" }, t("compareWhenHint")),
        h("input", {
          id: "moment",
          type: "datetime-local",
          value: d.moment || "",
          change: (e) => {
            d.moment = e.target.value;
            P.save(l);
          },
        }),
      ),
      P.quantity(
        t("dwell"),
        "time",
        () => d.dwell,
        (v) => {
          d.dwell = v;
          P.save(l);
        },
        "compare.dwell",
        t("dwellHint"),
      ),
      h("div", { class: "row" }, h("button", { class: "main", click: work }, t("compareWork"))),
      out,
    ];
  };
})();
