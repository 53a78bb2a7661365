"use strict";
// The stations in the order of the path.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;
  const added = ["place", "roller", "covered", "lay-on", "nip", "ioniser", "passive"];

  P.kindOf = (s) =>
    (s.as === "lay-on" ? s.as : null) ||
    (s.kind === "ioniser" && s.ioniser && s.ioniser.passive
      ? "passive"
      : s.kind === "roller" && s.roller && s.roller.kind === "insulating"
        ? "covered"
        : s.kind);
  const freeName = (l, stem) => {
    for (let i = 1; ; i++) {
      const n = stem + " " + i;
      if (!l.desc.stations.some((s) => s.name === n)) return n;
    }
  };
  const begin = {
    place: () => ({ kind: "place" }),
    roller: () => ({ kind: "roller" }),
    nip: () => ({ kind: "nip" }),
    covered: () => ({ kind: "roller", roller: { kind: "insulating" } }),
    "lay-on": () => ({ kind: "roller", as: "lay-on", roller: { radius: "60 mm" } }),
    ioniser: () => ({ kind: "ioniser" }),
    passive: () => ({ kind: "ioniser", ioniser: { passive: true } }),
  };

  // order puts the stations by their position; those without one stay where they are.
  P.metres = function (s) {
    const [n, u] = P.split(s.at);
    const f = { m: 1, mm: 1e-3, cm: 1e-2, ft: 0.3048, in: 0.0254 }[u];
    return n === "" || f === undefined ? NaN : Number(n) * f;
  };
  P.clearRaw = (l) => {
    for (const k of Object.keys(l.raw)) if (/^s\d/.test(k)) delete l.raw[k];
  };

  // P.addStation offers the kinds of stations; the one that is tapped comes to stand at that place in the path.
  P.addStation = function (l, at) {
    const list = l.desc.stations;
    const add = (kind, e) => {
      if (P.double(e)) return;
      const s = begin[kind]();
      const before = list[at - 1];
      const one = { name: freeName(l, t("stem." + kind)), kind: s.kind, as: kind };
      Object.assign(one, s);
      if (before && before.at) one.at = before.at;
      list.splice(at, 0, one);
      P.clearRaw(l);
      P.save(l);
      P.refresh();
      P.go(l.id, "path/" + at);
    };
    return h(
      "div",
      { class: "two" },
      added.map((k) => h("button", { click: (e) => add(k, e), "data-kind": k }, t("kind." + k))),
    );
  };

  V.path = function (l) {
    const list = l.desc.stations;
    return [
      h("h1", { tabindex: -1 }, t("step.path")),
      h("p", null, t("pathText")),
      h("p", { class: "hint" }, t("facesHint")),
      h(
        "ol",
        { class: "plain path" },
        list.map((s, i) =>
          h(
            "li",
            { class: s.kind === "place" ? "place" : "" },
            h("a", { class: "stationlink", href: "#" + l.id + "/path/" + i }, h("b", null, s.name || t("unnamed"))),
            h(
              "p",
              { class: "soft" },
              t("kind." + P.kindOf(s)),
              s.at ? ", " + t("atPlace", s.at) : ", " + t("noPosition"),
            ),
          ),
        ),
      ),
      h("h2", null, t("addStation")),
      h("p", { class: "hint" }, t("addHint")),
      P.addStation(l, list.length - 1),
      h("div", { id: "linefaults" }, P.faultList("line")),
      P.assumed(),
    ];
  };

  // P.faultList follows the faults of the description or the survey.
  P.faultList = function (where) {
    const box = h("div", { role: "status" });
    P.followers.push(() => {
      const f = ((P.answer && P.answer.faults) || []).filter((x) => x.where === where || !x.where);
      box.replaceChildren(
        ...(f.length
          ? [
              h("h2", null, t("stillMissing")),
              h(
                "ul",
                null,
                f.slice(0, 30).map((x) => h("li", null, P.faultLink(x))),
              ),
            ]
          : []),
      );
    });
    return box;
  };
  P.faultLink = function (f) {
    const m = /^stations\[(\d+)\]/.exec(f.text);
    const to = m
      ? "path/" + m[1]
      : /^(web|speed|wish|air)/.test(f.text)
        ? "web"
        : /^(name|note)/.test(f.text)
          ? "trouble"
          : f.where === "survey"
            ? "readings"
            : "path";
    return h("a", { href: "#" + P.line.id + "/" + to }, f.row >= 0 ? t("atReading", f.row + 2, f.text) : f.text);
  };
})();
