"use strict";
// The readings taken, each beside what was expected of it, and the meters.
(function () {
  const h = P.h,
    t = P.t;
  P.show = (r) =>
    (r.value || "")
      .replace(/^-/, "−")
      .replace(/OL$/, t("overShort"))
      .replace(/^>/, t("atLeast") + " ") +
    " " +
    (r.unit || "");

  // P.readingList shows readings by station, each beside what was expected there. A row is made once; an answer changes
  // its words, and a new reading adds its own row, so that nothing else moves and the focus stays.
  P.readingList = function (l, wanted) {
    const box = h("div", { "data-list": "readings" });
    const rows = new Map(),
      cards = new Map();
    let most = 60;
    const say = (e, text) => {
      if (e.textContent !== text) e.textContent = text;
      e.hidden = !text;
    };
    const drop = (r) => {
      const at = l.rows.indexOf(r);
      l.rows.splice(at, 1);
      P.undo = () => {
        l.rows.splice(at, 0, r);
        P.touch();
        P.paintLists();
      };
      P.touch();
      P.paintLists();
      P.say(t("deleted", P.show(r)), true);
    };
    const rowOf = (r) => {
      const says = JSON.stringify(r),
        old = rows.get(r.id);
      if (old && old.says === says) return old;
      const x = { says, expected: h("p", { class: "soft" }), remark: h("p", { class: "fault" }) };
      x.line = h("p", { class: "soft" });
      const face = r.face ? " " + t("onFace", r.face) : "",
        far = r.distance ? ", " + t("atDistance", r.distance) : "";
      const gone = { class: "quiet", "aria-label": t("deleteReading", P.show(r), r.station), click: () => drop(r) };
      x.node = h(
        "div",
        { class: "reading" },
        h("div", null, h("p", null, h("b", null, P.show(r)), face, far), x.expected, x.remark, x.line),
        h("button", gone, t("delete")),
      );
      rows.set(r.id, x);
      return x;
    };
    const draw = () => {
      const by = new Map();
      l.rows.forEach((r, i) => {
        if (!wanted(r)) return;
        if (!by.has(r.station)) by.set(r.station, []);
        by.get(r.station).push([r, i]);
      });
      // What was answered before stays beside its reading until the next answer is there.
      const shown = P.shown(l);
      const out = [];
      let n = 0,
        hidden = 0;
      for (const [name, list] of [...by].reverse()) {
        const part = list
          .slice()
          .reverse()
          .filter(() => ++n <= most);
        hidden += list.length - part.length;
        if (!part.length) continue;
        if (!cards.has(name)) cards.set(name, [h("section", { class: "card" }), h("h3", null, name)]);
        const [card, head] = cards.get(name);
        const nodes = part.map(([r, i]) => {
          const s = shown.get(r.id),
            x = rowOf(r);
          say(x.expected, s && s.expected ? t("expected", s.expected) : "");
          say(x.remark, (s && r.quantity !== "resistance to ground" && s.remark) || "");
          say(x.line, t("fileLine", i + 2) + (r.remark ? ": " + r.remark : ""));
          return x.node;
        });
        P.sync(card, [head, ...nodes]);
        out.push(card);
      }
      if (!out.length) out.push(h("p", null, t("noneTaken")));
      const more = () => {
        most += 300;
        draw();
      };
      if (hidden) out.push(h("button", { click: more }, t("showMore", hidden)));
      P.sync(box, out);
    };
    P.followers.push(draw);
    return box;
  };

  // meterForm keeps what is known of the meters; the defaults are told among the assumed.
  P.meterForm = function (l) {
    const box = h("details", null, h("summary", null, t("meters")));
    const make = () => {
      if (!l.desc.meters) {
        l.desc.meters = [
          {
            name: "field meter",
            kind: "field meter",
            nominal: "25 mm",
            guarded: true,
            fullScale: "20 kV",
            gain: "6%",
            offset: "40 V",
            placing: "3 mm",
            spots: "20%",
          },
          { name: "voltmeter", kind: "voltmeter", fullScale: "500 V", gain: "4%", offset: "3 V", spots: "5%" },
        ];
      }
      return l.desc.meters;
    };
    const list = l.desc.meters || JSON.parse(JSON.stringify([])).concat(make());
    list.forEach((m, i) => {
      const q = (label, kind, k, hint) =>
        P.quantity(
          label,
          kind,
          () => m[k],
          (v) => {
            if (v) m[k] = v;
            else delete m[k];
            P.touch();
          },
          "m" + i + "." + k,
          hint,
        );
      box.append(
        h(
          "fieldset",
          null,
          h("legend", null, t(m.kind === "field meter" ? "fieldMeter" : "voltMeter")),
          h(
            "div",
            null,
            P.textField(t("meterName"), m.name, (v) => {
              for (const r of l.rows) if (r.meter === m.name) r.meter = v;
              for (const k of ["web", "ground"]) if (l.draft[k] && l.draft[k].meter === m.name) l.draft[k].meter = v;
              m.name = v;
              P.touch();
            }),
            m.kind === "field meter" && q(t("nominal"), "short", "nominal", t("nominalHint")),
            q(t("fullScale"), "volts", "fullScale"),
          ),
        ),
      );
    });
    return box;
  };
})();
