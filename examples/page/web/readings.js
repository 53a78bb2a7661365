"use strict";
// The entry of readings, and the ground check.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;
  const FIELD = "field meter",
    OVER = "over-roller voltmeter",
    EARTH = "resistance to ground",
    PAIL = "pail charge",
    DECAY = "decay time";
  const kindOf = { [FIELD]: "field", [OVER]: "volts", [EARTH]: "ohms", [PAIL]: "charge", [DECAY]: "time" };
  P.conductors = (l) =>
    l.desc.stations.filter(
      (s) => (s.kind === "roller" || s.kind === "nip") && !(s.roller && s.roller.kind === "insulating"),
    );
  const places = (l, quantity) =>
    quantity === FIELD
      ? l.desc.stations.filter((s) => s.kind === "place" || s.kind === "winder")
      : quantity === OVER
        ? l.desc.stations.filter((s) => s.kind === "roller" || s.kind === "nip")
        : quantity === EARTH
          ? l.desc.stations.filter((s) => s.kind !== "place")
          : l.desc.stations;
  const now = () => {
    const d = new Date();
    d.setMinutes(d.getMinutes() - d.getTimezoneOffset());
    return d.toISOString().slice(0, 16);
  };
  const meters = (l) =>
    l.desc.meters || [
      { name: "field meter", kind: "field meter" },
      { name: "voltmeter", kind: "voltmeter" },
    ];
  const meterFor = (l, quantity) =>
    (meters(l).find((m) => m.kind === (quantity === FIELD ? "field meter" : "voltmeter")) || {}).name || "";

  V.ground = function (l) {
    return [
      h("h1", { tabindex: -1 }, t("step.ground")),
      h("p", null, t("groundText")),
      P.caution("isolated-conductor"),
      P.caution("high-voltage"),
      entry(l, [EARTH]),
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
        P.caution("reach-in") || h("p", null, t("notYet")),
        P.caution("implant"),
        h(
          "div",
          { class: "row" },
          h(
            "button",
            {
              class: "main",
              disabled: !P.start,
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
      entry(l, [FIELD, OVER, PAIL, DECAY]),
      P.meterForm(l),
      h("details", null, h("summary", null, t("reachAgain")), P.caution("reach-in")),
      h("h2", null, t("taken")),
      P.faultList("survey"),
      P.readingList(l, (r) => r.quantity !== EARTH),
    ];
  };

  // entry is the form for one reading; what is typed so far is kept as the line's draft.
  function entry(l, quantities) {
    const key = quantities[0] === EARTH ? "ground" : "web";
    const d = l.draft[key] || (l.draft[key] = { quantity: quantities[0] });
    const box = h("form", {
      class: "card",
      novalidate: true,
      submit: (e) => {
        e.preventDefault();
        add();
      },
    });
    const said = h("p", { role: "status", class: "toast", hidden: true });
    const expected = h("p", { class: "hint", "aria-live": "polite", "data-expected": "" });
    let input, fault, asked;
    const keep = () => P.save(l);
    // look asks what a reading there should show, before it is typed; the same question is asked once.
    const look = async () => {
      const kind = kindOf[d.quantity];
      if ((kind !== "field" && kind !== "volts") || !d.station) {
        expected.textContent = asked = "";
        return;
      }
      const q = {
        station: d.station,
        quantity: d.quantity,
        face: d.face || "A",
        distance: d.distance || "25 mm",
        meter: d.meter || meterFor(l, d.quantity),
      };
      // The answer to come holds what was read before; another place is asked for once that is there.
      if (!P.computing || P.busy || !P.answer || P.answerOf !== l.id) return;
      const same = (r) => Object.entries(q).every(([k, v]) => r[k] === v || (k === "distance" && kind === "volts"));
      const read = l.rows.findIndex(same);
      const shown =
        P.answer.shown && P.answer.shown.length === l.rows.length && read >= 0 ? P.answer.shown[read] : null;
      if (shown && shown.expected) {
        asked = "";
        expected.textContent = t("expectedHere", shown.expected);
        return;
      }
      const mine = JSON.stringify([q, l.rows.length, l.changed]);
      if (mine === asked) return;
      asked = mine;
      const r = await P.ask("expect", Object.assign(P.request(l), { look: q }));
      if (asked === mine)
        expected.textContent = r && r.text ? t(r.assumed ? "expectedFirst" : "expectedHere", r.text) : "";
    };
    P.followers.push(look);

    function draw(focus) {
      const kind = kindOf[d.quantity],
        list = places(l, d.quantity);
      if (!list.some((s) => s.name === d.station)) d.station = "";
      const s = l.desc.stations.find((x) => x.name === d.station);
      const units = P.unitsOf(kind);
      if (!units.includes(d.unit)) d.unit = units[0];
      const signed = kind === "field" || kind === "volts" || kind === "charge";
      fault = h("p", { class: "fault", id: "entryfault", role: "alert" });
      input = h("input", {
        id: "display",
        type: "text",
        inputmode: "decimal",
        maxlength: 40,
        autocomplete: "off",
        value: d.typed || "",
        "aria-describedby": "entryfault",
        input: () => {
          d.typed = input.value;
          fault.textContent = "";
          input.removeAttribute("aria-invalid");
          const m = /^\s*([-\u2212+])/.exec(input.value);
          if (m) d.sign = m[1] === "+" ? "+" : "-";
          keep();
        },
      });
      const unit = h(
        "select",
        {
          "aria-label": t("unitOf", t("display")),
          change: (e) => {
            d.unit = e.target.value;
            keep();
          },
        },
        units.map((u) => h("option", { value: u }, u)),
      );
      unit.value = d.unit;
      const field = (label, k, hint) =>
        P.textField(
          label,
          d[k],
          (v) => {
            d[k] = v;
            keep();
          },
          hint,
        );
      const q = (label, kd, k, hint) =>
        P.quantity(
          label,
          kd,
          () => d[k],
          (v) => {
            d[k] = v;
            keep();
            if (k === "distance") look();
          },
          "r." + key + "." + k,
          hint,
        );
      box.replaceChildren(
        ...[
          quantities.length > 1 &&
            P.selectField(
              t("whatRead"),
              quantities.map((x) => [x, t("quantity." + kindOf[x])]),
              d.quantity,
              (v) => {
                d.quantity = v;
                d.station = "";
                keep();
                draw();
              },
            ),
          P.selectField(
            t(kind === "volts" ? "whichRoller" : kind === "ohms" ? "whichConductor" : "whichPlace"),
            [["", t("choose")]].concat(list.map((x) => [x.name, x.name])),
            d.station || "",
            (v) => {
              d.station = v;
              const last = l.rows.filter((r) => r.station === v && r.quantity === d.quantity).pop();
              d.face = last ? last.face : kind === "volts" ? freeFace(l, v) : d.face || "A";
              d.sign = "";
              keep();
              draw();
            },
          ),
          !list.length && h("p", { class: "fault" }, t("noPlaces")),
          kind === "volts" && P.caution("reach-in"),
          s &&
            kind === "field" &&
            h(
              "p",
              { class: "hint" },
              s.past
                ? t("stands.past", s.past.x || "?")
                : s.gap
                  ? t("stands.gap", s.gap)
                  : s.kind === "winder"
                    ? ""
                    : t("stands.none"),
            ),
          (kind === "field" || kind === "volts") &&
            P.choice(
              t("faceSeen"),
              [
                ["A", t("faceA")],
                ["B", t("faceB")],
              ],
              d.face || "A",
              (v) => {
                d.face = v;
                keep();
                look();
              },
            ),
          kind === "field" && q(t("distance"), "short", "distance", t("distanceHint")),
          (kind === "field" || kind === "volts") && expected,
          h(
            "div",
            { class: "field" },
            h("label", { for: "display" }, t("display")),
            h("div", { class: "withunit" }, input, unit),
          ),
          signed &&
            P.choice(
              t("sign"),
              [
                ["+", t("plus")],
                ["-", t("minus")],
              ],
              d.sign || "",
              (v) => {
                d.sign = v;
                keep();
                fault.textContent = "";
              },
              "sign",
            ),
          fault,
          P.tick(t(kind === "ohms" ? "overOhms" : "over"), d.over, (on) => {
            d.over = on;
            keep();
          }),
          h("button", { class: "main", type: "submit" }, t("add")),
          said,
          h(
            "details",
            {
              open: d.open,
              toggle: (e) => {
                d.open = e.target.open;
              },
            },
            h("summary", null, t("moreReading")),
            h(
              "div",
              null,
              h(
                "div",
                { class: "field" },
                h("label", { for: "when" + key }, t("when")),
                h("p", { class: "hint" }, t("whenHint")),
                h("input", {
                  id: "when" + key,
                  type: "datetime-local",
                  value: d.when || "",
                  change: (e) => {
                    d.when = e.target.value;
                    keep();
                  },
                }),
              ),
              kind === "field" || kind === "volts"
                ? P.selectField(
                    t("meter"),
                    meters(l)
                      .filter((m) => m.kind === (kind === "field" ? "field meter" : "voltmeter"))
                      .map((m) => [m.name, m.name]),
                    d.meter || meterFor(l, d.quantity),
                    (v) => {
                      d.meter = v;
                      keep();
                    },
                  )
                : null,
              q(t("cross"), "along", "cross", t("crossHint")),
              P.choice(
                t("running"),
                [
                  ["running", t("isRunning")],
                  ["stopped", t("isStopped")],
                ],
                d.running || (kind === "ohms" ? "stopped" : "running"),
                (v) => {
                  d.running = v;
                  keep();
                },
              ),
              q(t("speedThen"), "speed", "speed", t("asLine")),
              q(t("temperatureThere"), "temperature", "temperature", t("asLine")),
              q(t("humidityThere"), "humidity", "humidity", t("asLine")),
              kind === "field" || kind === "volts" ? q(t("zero"), "volts", "zero", t("zeroHint")) : null,
              field(t("remark"), "remark", t("remarkHint")),
            ),
          ),
        ].filter((x) => x),
      );
      if (focus) input.focus();
      look();
    }

    function add() {
      const kind = kindOf[d.quantity],
        n = P.number(input.value);
      const wrong = (text, el) => {
        fault.textContent = text;
        (el || input).setAttribute("aria-invalid", "true");
        (el || input).focus();
      };
      if (!d.station) {
        wrong(t("chooseFirst"), box.querySelectorAll("select")[quantities.length > 1 ? 1 : 0]);
        return;
      }
      if (n.fault) {
        wrong(n.fault);
        return;
      }
      if (n.empty && !(d.over && kind !== "ohms")) {
        wrong(t("typeFirst"));
        return;
      }
      const signed = kind === "field" || kind === "volts" || kind === "charge";
      let value = n.text || "";
      const zero = value !== "" && Number(value) === 0;
      if (signed && !zero && !d.sign) {
        wrong(t("signFirst"), box.querySelector(".sign input"));
        return;
      }
      const bare = value.replace(/^-/, "");
      if (signed && !zero) value = (d.sign === "-" ? "-" : "") + bare;
      if (d.over) value = signed ? (d.sign === "-" ? "-OL" : "+OL") : ">" + bare;
      const air = l.desc.air || {},
        stopped = (d.running || (kind === "ohms" ? "stopped" : "running")) === "stopped";
      const r = {
        id: P.id(),
        station: d.station,
        quantity: d.quantity,
        face: kind === "field" || kind === "volts" ? d.face || "A" : "",
        distance: kind === "field" ? d.distance || "25 mm" : "",
        "cross-web position": d.cross || "",
        repeat: String(
          1 +
            l.rows.filter(
              (x) =>
                x.station === d.station &&
                x.quantity === d.quantity &&
                (x.face || "") === (kind === "field" || kind === "volts" ? d.face || "A" : ""),
            ).length,
        ),
        "date and time": (d.when || now()).replace("T", " "),
        "line speed": stopped ? "0 m/min" : d.speed || l.desc.speed || "",
        "running or stopped": stopped ? "stopped" : "running",
        "air temperature": d.temperature || air.temperature || "",
        "air humidity": d.humidity || air.relativeHumidity || "",
        meter: kind === "field" || kind === "volts" ? d.meter || meterFor(l, d.quantity) : "",
        zero: kind === "field" || kind === "volts" ? d.zero || "0 V" : "",
        value,
        unit: d.unit,
        remark: (d.remark || "").trim(),
      };
      if (r.zero && /\//.test(d.unit)) r.zero = "0 " + d.unit; // volts cannot be taken from a field
      for (const k of Object.keys(r)) if (r[k] === "") delete r[k];
      l.rows.push(r);
      d.typed = "";
      d.over = false;
      P.touch();
      draw(true);
      said.hidden = false;
      said.replaceChildren(h("span", null, t("added", d.station, P.show(r))));
      box.append(said);
      P.paintLists();
    }
    draw();
    return box;
  }
  // freeFace is the face that does not lie on the roller.
  function freeFace(l, name) {
    const s = l.desc.stations.find((x) => x.name === name);
    const on =
      s &&
      (s.touches ||
        (Array.isArray(s.change) && s.change.length === 1 && s.change[0].face) ||
        (s.kind === "roller" ? "B" : ""));
    return on === "A" ? "B" : "A";
  }
})();
