"use strict";
// The form for readings. One number or several go in; the next place in path order is one tap away, and what stays the
// same from reading to reading stays.
(function () {
  const h = P.h,
    t = P.t;
  const kinds = {
    "field meter": "field",
    "over-roller voltmeter": "volts",
    "resistance to ground": "ohms",
    "pail charge": "charge",
    "decay time": "time",
  };
  // Where across the web a spot lies, as a share of its width from the edge.
  const spots = { front: 1 / 6, middle: 1 / 2, back: 5 / 6 };
  const after = { front: "middle", middle: "back", back: "front" };
  const stations = (l, kind) =>
    l.desc.stations.filter((s) => {
      const roller = s.kind === "roller" || s.kind === "nip";
      if (kind === "field") return s.kind === "place" || s.kind === "winder";
      if (kind === "volts") return roller;
      return kind !== "ohms" || s.kind !== "place";
    });
  const now = () => {
    const d = new Date();
    d.setMinutes(d.getMinutes() - d.getTimezoneOffset());
    return d.toISOString().slice(0, 16);
  };
  const meters = (l, kind) =>
    (
      l.desc.meters || [
        { name: "field meter", kind: "field meter", nominal: "25 mm" },
        { name: "voltmeter", kind: "voltmeter" },
      ]
    ).filter((m) => m.kind === (kind === "field" ? "field meter" : "voltmeter"));
  const onWeb = (kind) => kind === "field" || kind === "volts";
  const signed = (kind) => onWeb(kind) || kind === "charge";

  // P.numbers reads the display's figures: one, or several with spaces or semicolons between them, each with its sign
  // or without. What can be read in two ways is refused.
  P.numbers = function (s) {
    const x = s.trim();
    if (/^[-+\u2212]?[1-9]\d? \d{3}$/.test(x))
      return { fault: t("oneOrTwo", x, x.replace(" ", ""), x.replace(" ", " ; ")) };
    const list = x.split(/[;\s]+|,\s+/).filter((w) => w);
    const out = [];
    for (const w of list) {
      const n = P.number(w);
      if (n.fault) return n;
      const sign = /^[-\u2212\u2013\u2014]/.test(w) ? "-" : w[0] === "+" ? "+" : "";
      out.push({ bare: n.text.replace(/^-/, ""), sign });
    }
    return { list: out };
  };

  // freeFace is the face that does not lie on the roller.
  function freeFace(l, name) {
    const s = l.desc.stations.find((x) => x.name === name);
    const change = s && Array.isArray(s.change) && s.change.length === 1 && s.change[0].face;
    const on = s && (s.touches || change || (s.kind === "roller" ? "B" : ""));
    return on === "A" ? "B" : "A";
  }

  // P.entry is the form for readings of some quantities; what is typed so far is kept as the line's draft.
  P.entry = function (l, quantities) {
    const key = quantities[0] === "resistance to ground" ? "ground" : "web";
    const d = l.draft[key] || (l.draft[key] = { quantity: quantities[0] });
    const kind = () => kinds[d.quantity];
    const keep = () => P.save(l);
    const set = (k, more) => (v) => {
      d[k] = v;
      keep();
      if (more) more();
    };
    const box = h("form", {
      class: "card",
      novalidate: true,
      submit: (e) => {
        e.preventDefault();
        if (add()) draw(true);
      },
    });
    const said = h("p", { role: "status", class: "toast", hidden: true });
    const expected = h("p", { class: "hint", "aria-live": "polite", "data-expected": "" });
    let input, fault, asked;
    const meter = () => d.meter || (meters(l, kind())[0] || {}).name || "";
    const nominal = () => (meters(l, "field").find((m) => m.name === meter()) || {}).nominal || "25 mm";
    const distance = () => d.distance || nominal();
    const read = (s) => l.rows.some((r) => r.station === s.name && r.quantity === d.quantity);

    // following is the place after the one chosen, in path order and round to its beginning, that was not read yet.
    const following = () => {
      const list = kind() === "ohms" ? P.conductors(l) : stations(l, kind());
      const at = list.findIndex((s) => s.name === d.station) + 1;
      return ([...list.slice(at), ...list.slice(0, at)].find((s) => !read(s) && s.name !== d.station) || {}).name;
    };
    const place = (name) => {
      const last = l.rows.filter((r) => r.station === name && r.quantity === d.quantity).pop();
      d.station = name;
      d.face = last ? last.face : kind() === "volts" ? freeFace(l, name) : d.face || "A";
      if (last && last.distance && last.distance !== distance()) d.distance = last.distance;
      if (d.spot) d.spot = "front";
      d.sign = "";
      keep();
    };

    // look asks what a reading there should show, before it is typed; the same question is asked once.
    const look = async () => {
      if (!onWeb(kind()) || !d.station) {
        expected.textContent = asked = "";
        return;
      }
      const q = {
        station: d.station,
        quantity: d.quantity,
        face: d.face || "A",
        distance: kind() === "field" ? distance() : "25 mm",
        meter: meter(),
      };
      // The answer to come holds what was read before; another place is asked for once that is there.
      if (!P.computing || P.busy || !P.answer || P.answerOf !== l.id) return;
      const same = (r) => Object.entries(q).every(([k, v]) => r[k] === v || (k === "distance" && kind() === "volts"));
      const at = l.rows.findIndex(same);
      const shown = P.answer.shown && P.answer.shown.length === l.rows.length && at >= 0 ? P.answer.shown[at] : null;
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

    const q = (label, kd, k, hint) =>
      P.quantity(label, kd, () => d[k], set(k, k === "distance" ? look : null), "r." + key + "." + k, hint);
    const faces = [
      ["A", t("faceA")],
      ["B", t("faceB")],
    ];
    const signs = [
      ["+", t("plus")],
      ["-", t("minus")],
    ];

    function draw(focus) {
      const list = stations(l, kind());
      if (!list.some((s) => s.name === d.station)) place("");
      if (!d.station && !d.asked) place(following() || "");
      d.asked = true;
      box.replaceChildren(...[...where(list), ...display(), said, more()].flat(9).filter((x) => x));
      if (focus) input.focus();
      look();
    }

    function where(list) {
      const k = kind();
      const s = l.desc.stations.find((x) => x.name === d.station);
      const stands = () =>
        s.past
          ? t("stands.past", s.past.x || "?")
          : s.gap
            ? t("stands.gap", s.gap)
            : s.kind === "winder"
              ? ""
              : t("stands.none");
      return [
        quantities.length > 1 &&
          P.selectField(
            t("whatRead"),
            quantities.map((x) => [x, t("quantity." + kinds[x])]),
            d.quantity,
            (v) => {
              d.quantity = v;
              d.asked = false;
              place("");
              draw();
            },
          ),
        P.selectField(
          t(k === "volts" ? "whichRoller" : k === "ohms" ? "whichConductor" : "whichPlace"),
          [["", t("choose")]].concat(list.map((x) => [x.name, x.name])),
          d.station || "",
          (v) => {
            place(v);
            draw();
          },
        ),
        !list.length && h("p", { class: "fault" }, t("noPlaces")),
        k === "volts" && P.caution("reach-in"),
        s && k === "field" && h("p", { class: "hint" }, stands()),
        onWeb(k) && P.choice(t("faceSeen"), faces, d.face || "A", set("face", look), "face"),
        k === "field" && q(t("distance"), "short", "distance", t("distanceHint", nominal())),
        onWeb(k) && expected,
      ];
    }

    function display() {
      const k = kind(),
        units = P.unitsOf(k);
      if (!units.includes(d.unit)) d.unit = units[0];
      fault = h("p", { class: "fault", id: "entryfault", role: "alert" });
      input = h("input", {
        id: "display",
        type: "text",
        inputmode: "decimal",
        enterkeyhint: "done",
        maxlength: 200,
        autocomplete: "off",
        value: d.typed || "",
        "aria-describedby": "displayhint entryfault",
        input: () => {
          d.typed = input.value;
          fault.textContent = "";
          input.removeAttribute("aria-invalid");
          const m = /^\s*([-\u2212+])[^-\u2212+]*$/.exec(input.value);
          if (m) d.sign = m[1] === "+" ? "+" : "-";
          keep();
        },
      });
      const unit = h(
        "select",
        { "aria-label": t("unitOf", t("display")), change: (e) => set("unit")(e.target.value) },
        units.map((u) => h("option", { value: u }, u)),
      );
      unit.value = d.unit;
      const next = d.station && following();
      return [
        h(
          "div",
          { class: "field" },
          h("label", { for: "display" }, t("display")),
          h("p", { class: "hint", id: "displayhint" }, t("displayHint")),
          h("div", { class: "withunit" }, input, unit),
        ),
        signed(k) && sign(),
        onWeb(k) && l.desc.web.width && !d.cross && P.choice(t("spot"), crossing(), d.spot || "", set("spot"), "spot"),
        fault,
        P.tick(t(k === "ohms" ? "overOhms" : "over"), d.over, set("over")),
        h("button", { class: "main wide", type: "submit" }, t("add")),
        next &&
          h("button", { class: "wide", type: "button", "data-next": "", click: () => goOn(next) }, t("goOn", next)),
      ];
    }
    // sign gives the display back to a finger that chose, and leaves the keyboard's focus where it is.
    function sign() {
      let finger = false;
      const chosen = () => {
        fault.textContent = "";
        if (finger) input.focus();
        finger = false;
      };
      const e = P.choice(t("sign"), signs, d.sign || "", set("sign", chosen), "sign");
      e.addEventListener("pointerdown", () => (finger = true));
      return e;
    }
    const crossing = () => [["", t("spot.none")]].concat(Object.keys(spots).map((s) => [s, t("spot." + s)]));

    // goOn adds what is typed, if anything, and goes to the next place.
    function goOn(next) {
      if ((input.value.trim() !== "" || d.over) && !add()) return;
      place(next);
      draw(true);
    }

    function more() {
      const k = kind();
      const states = [
        ["running", t("isRunning")],
        ["stopped", t("isStopped")],
      ];
      return h(
        "details",
        { open: d.open, toggle: (e) => (d.open = e.target.open) },
        // The event of the toggle comes later than the next choice may draw the form anew.
        h("summary", { click: (e) => (d.open = !e.currentTarget.parentNode.open) }, t("moreReading")),
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
              change: (e) => set("when")(e.target.value),
            }),
          ),
          onWeb(k)
            ? P.selectField(
                t("meter"),
                meters(l, k).map((m) => [m.name, m.name]),
                meter(),
                set("meter"),
              )
            : null,
          q(t("cross"), "along", "cross", t("crossHint")),
          P.choice(t("running"), states, d.running || (k === "ohms" ? "stopped" : "running"), set("running")),
          q(t("speedThen"), "speed", "speed", t("asLine")),
          q(t("temperatureThere"), "temperature", "temperature", t("asLine")),
          q(t("humidityThere"), "humidity", "humidity", t("asLine")),
          onWeb(k) ? q(t("zero"), "volts", "zero", t("zeroHint")) : null,
          P.textField(t("remark"), d.remark, set("remark"), t("remarkHint")),
        ),
      );
    }

    // add takes down what is typed and says whether it did.
    function add() {
      const k = kind(),
        n = P.numbers(input.value);
      const wrong = (text, el) => {
        fault.textContent = text;
        (el || input).setAttribute("aria-invalid", "true");
        (el || input).focus();
        return false;
      };
      if (!d.station) return wrong(t("chooseFirst"), box.querySelectorAll("select")[quantities.length > 1 ? 1 : 0]);
      if (n.fault) return wrong(n.fault);
      let list = n.list;
      if (d.over && signed(k)) list = [{ bare: "1", sign: list.length ? list[0].sign : "" }];
      if (!list.length) return wrong(t("typeFirst"));
      const bare = (x) => signed(k) && !x.sign && Number(x.bare) !== 0;
      const mixed = list.length > 1 && list.some((x) => x.sign) && list.some(bare);
      if (mixed) return wrong(t("allSigns"));
      if (list.some(bare) && !d.sign) return wrong(t("signFirst"), box.querySelector(".sign input"));
      const rows = list.map((x) => row(k, x));
      d.typed = "";
      d.over = false;
      P.touch();
      said.hidden = false;
      said.replaceChildren(h("span", null, t("added", d.station, rows.map(P.show).join(", "))));
      P.paintLists();
      if (k === "ohms") place(following() || d.station);
      return true;
    }

    // row is one reading, put down at once.
    function row(k, x) {
      const air = l.desc.air || {};
      const stopped = (d.running || (k === "ohms" ? "stopped" : "running")) === "stopped";
      const face = onWeb(k) ? d.face || "A" : "";
      const minus = signed(k) && Number(x.bare) !== 0 && (x.sign || d.sign) === "-";
      let value = (minus || (!signed(k) && x.sign === "-") ? "-" : "") + x.bare;
      if (d.over) value = signed(k) ? (minus ? "-OL" : "+OL") : ">" + x.bare;
      const before = l.rows.filter(
        (r) => r.station === d.station && r.quantity === d.quantity && (r.face || "") === face,
      );
      const r = {
        id: P.id(),
        station: d.station,
        quantity: d.quantity,
        face,
        distance: k === "field" ? distance() : "",
        "cross-web position": d.cross || (onWeb(k) && d.spot ? P.times(l.desc.web.width, spots[d.spot], 3) : ""),
        repeat: String(1 + before.length),
        "date and time": (d.when || now()).replace("T", " "),
        "line speed": stopped ? "0 m/min" : d.speed || l.desc.speed || "",
        "running or stopped": stopped ? "stopped" : "running",
        "air temperature": d.temperature || air.temperature || "",
        "air humidity": d.humidity || air.relativeHumidity || "",
        meter: onWeb(k) ? meter() : "",
        zero: onWeb(k) ? d.zero || "0 V" : "",
        value,
        unit: d.unit,
        remark: (d.remark || "").trim(),
      };
      if (r.zero && /\//.test(d.unit)) r.zero = "0 " + d.unit; // volts cannot be taken from a field
      for (const c of Object.keys(r)) if (r[c] === "") delete r[c];
      l.rows.push(r);
      if (d.spot && onWeb(k)) d.spot = after[d.spot];
      return r;
    }
    draw();
    return box;
  };
})();
