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

  // P.readingList shows readings by station, each beside what was expected there.
  P.readingList = function (l, wanted) {
    const box = h("div", { "data-list": "readings" });
    let most = 60;
    const draw = () => {
      const by = new Map();
      l.rows.forEach((r, i) => {
        if (wanted(r)) {
          if (!by.has(r.station)) by.set(r.station, []);
          by.get(r.station).push([r, i]);
        }
      });
      const shown =
        P.answer && P.answerOf === l.id && P.answer.shown && P.answer.shown.length === l.rows.length
          ? P.answer.shown
          : null;
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
        out.push(
          h(
            "section",
            { class: "card" },
            h("h3", null, name),
            part.map(([r, i]) => {
              const s = shown && shown[i];
              return h(
                "div",
                { class: "reading" },
                h(
                  "div",
                  null,
                  h(
                    "p",
                    null,
                    h("b", null, P.show(r)),
                    r.face ? " " + t("onFace", r.face) : "",
                    r.distance ? ", " + t("atDistance", r.distance) : "",
                  ),
                  s && s.expected && h("p", { class: "soft" }, t("expected", s.expected)),
                  s && s.remark && r.quantity !== "resistance to ground" && h("p", { class: "fault" }, s.remark),
                  h("p", { class: "soft" }, t("fileLine", i + 2), r.remark ? ": " + r.remark : ""),
                ),
                h(
                  "button",
                  {
                    class: "quiet",
                    "aria-label": t("deleteReading", P.show(r), name),
                    click: () => {
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
                    },
                  },
                  t("delete"),
                ),
              );
            }),
          ),
        );
      }
      if (!out.length) out.push(h("p", null, t("noneTaken")));
      if (hidden)
        out.push(
          h(
            "button",
            {
              click: () => {
                most += 300;
                draw();
              },
            },
            t("showMore", hidden),
          ),
        );
      box.replaceChildren(...out);
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
