"use strict";
// Parts of forms. Each writes at every keystroke, and keeps what cannot be read as it was typed.
(function () {
  const h = P.h,
    t = P.t;
  let count = 0;
  const fresh = () => "f" + ++count;

  P.units = {
    thickness: [
      ["µm", "mm", "mil"],
      ["mil", "µm", "mm"],
    ],
    width: [
      ["m", "mm", "in"],
      ["in", "m", "mm"],
    ],
    speed: [
      ["m/min", "m/s", "ft/min"],
      ["ft/min", "m/min", "m/s"],
    ],
    along: [
      ["m", "mm", "ft"],
      ["ft", "in", "m"],
    ],
    short: [
      ["mm", "cm", "in"],
      ["in", "mm", "cm"],
    ],
    temperature: [
      ["°C", "°F"],
      ["°F", "°C"],
    ],
    humidity: [["%RH"], ["%RH"]],
    pressure: [
      ["kPa", "mbar"],
      ["kPa", "inHg"],
    ],
    density: [["kg/m³"], ["kg/m³"]],
    field: [
      ["V", "kV", "kV/cm", "kV/in"],
      ["V", "kV", "kV/in", "kV/cm"],
    ],
    volts: [
      ["V", "kV"],
      ["V", "kV"],
    ],
    ohms: [
      ["Ω", "kΩ", "MΩ", "GΩ"],
      ["Ω", "kΩ", "MΩ", "GΩ"],
    ],
    charge: [
      ["nC", "µC"],
      ["nC", "µC"],
    ],
    time: [
      ["s", "min"],
      ["s", "min"],
    ],
    frequency: [["Hz"], ["Hz"]],
    perLength: [["µA/m"], ["µA/m"]],
    share: [["%"], ["%"]],
    gauge: [
      ["bar(g)", "mbar(g)", "psig"],
      ["psig", "bar(g)", "inWG"],
    ],
  };
  P.unitsOf = (kind) => P.units[kind][P.settings.units === "us" ? 1 : 0];
  P.split = function (s) {
    const m = /^([+-]?[\d.]+(?:e[+-]?\d+)?)\s*(.*)$/i.exec(s || "");
    return m ? [m[1], m[2]] : ["", ""];
  };

  // P.textField is a line of text of at most 120 characters.
  P.textField = function (label, value, on, hint, wide) {
    const id = fresh();
    return h(
      "div",
      { class: "field" },
      h("label", { for: id }, label),
      hint && h("p", { class: "hint", id: id + "h" }, hint),
      h(wide ? "textarea" : "input", {
        id,
        type: wide ? undefined : "text",
        maxlength: wide ? 2000 : 120,
        value: value || "",
        autocomplete: "off",
        "aria-describedby": hint ? id + "h" : undefined,
        input: (e) => on(wide ? e.target.value : e.target.value.replace(/[\u0000-\u001f\u007f]/g, " ")),
      }),
    );
  };

  // P.quantity is a number with its unit, kept as "220 m/min" under get and set; key names it for what cannot be read.
  P.quantity = function (label, kind, get, set, key, hint) {
    const id = fresh(),
      l = P.line;
    let [num, unit] = P.split(get());
    const list = P.unitsOf(kind).slice();
    if (unit && !list.includes(unit)) list.unshift(unit);
    if (!unit) unit = list[0];
    const raw = key && l.raw[key] !== undefined ? l.raw[key] : num;
    const fault = h("p", { class: "fault", id: id + "e", hidden: true });
    const input = h("input", {
      id,
      type: "text",
      inputmode: "decimal",
      maxlength: 40,
      autocomplete: "off",
      value: raw,
      "data-key": key,
      "aria-describedby": (hint ? id + "h " : "") + id + "e",
      input: write,
    });
    const pick =
      list.length > 1
        ? h(
            "select",
            { "aria-label": t("unitOf", label), change: write },
            list.map((u) => h("option", { value: u }, u)),
          )
        : h("span", null, list[0]);
    if (list.length > 1) pick.value = unit;
    function write() {
      const n = P.number(input.value);
      const u = list.length > 1 ? pick.value : list[0];
      fault.hidden = !n.fault;
      fault.textContent = n.fault || "";
      input.setAttribute("aria-invalid", n.fault ? "true" : "false");
      if (key) {
        if (n.fault) l.raw[key] = input.value;
        else delete l.raw[key];
      }
      set(n.text === undefined ? "" : n.text + (u === "%RH" ? u : " " + u));
    }
    if (key && l.raw[key] !== undefined) {
      const n = P.number(raw);
      fault.hidden = !n.fault;
      fault.textContent = n.fault || "";
    }
    return h(
      "div",
      { class: "field" },
      h("label", { for: id }, label),
      hint && h("p", { class: "hint", id: id + "h" }, hint),
      h("div", { class: "withunit" + (list.length > 1 ? "" : " fixed") }, input, pick),
      fault,
    );
  };

  // P.choice is one of a few, as radio buttons: [value, words] each; with a class they stand in one row.
  P.choice = function (legend, list, value, on, cls) {
    const name = fresh();
    return h(
      "fieldset",
      null,
      h("legend", null, legend),
      h(
        "div",
        { class: cls ? "quick " + cls : "" },
        list.map(([v, words]) =>
          h(
            "label",
            { class: "pick" },
            h("input", { type: "radio", name, value: v, checked: v === value, change: () => on(v) }),
            words,
          ),
        ),
      ),
    );
  };
  P.tick = function (words, value, on) {
    return h(
      "label",
      { class: "pick" },
      h("input", { type: "checkbox", checked: !!value, change: (e) => on(e.target.checked) }),
      words,
    );
  };
  P.selectField = function (label, list, value, on, hint) {
    const id = fresh();
    const s = h(
      "select",
      { id, change: (e) => on(e.target.value), "aria-describedby": hint ? id + "h" : undefined },
      list.map(([v, words]) => h("option", { value: v }, words)),
    );
    s.value = value;
    return h(
      "div",
      { class: "field" },
      h("label", { for: id }, label),
      hint && h("p", { class: "hint", id: id + "h" }, hint),
      s,
    );
  };

  // P.notice is a hazard notice of the library where the act is.
  P.notice = function (n, level) {
    if (!n) return null;
    return h(
      "div",
      { class: "caution" },
      h(level || "h3", null, t("caution")),
      h("p", null, P.tidy(n.condition + (n.figure ? " (" + n.figure + ")" : "") + ".")),
      h("p", { class: "soft" }, t("consult", n.consult)),
      h("p", { class: "soft" }, t("decide", n.decide)),
    );
  };
  P.caution = (code) => P.notice(P.start.cautions[code], "h2");

  // P.double says whether a tap that adds something is the second one of an impatient finger, by the time of the taps.
  let added = -Infinity;
  P.double = (e) => {
    if (e.isTrusted && e.timeStamp - added < 300) return true;
    added = e.timeStamp;
    return false;
  };

  // P.refill shows what there is of a list, laid flat, in place of what was shown.
  P.refill = (box, ...list) => box.replaceChildren(...list.flat(9).filter((x) => x));
  // P.sync makes the nodes the children of the box in this order, and leaves alone what stands there already.
  P.sync = function (box, nodes) {
    const wanted = new Set(nodes);
    let at = box.firstChild;
    const next = () => {
      while (at && !wanted.has(at)) {
        const gone = at;
        at = at.nextSibling;
        gone.remove();
      }
    };
    next();
    for (const n of nodes) {
      if (n === at) at = at.nextSibling;
      else box.insertBefore(n, at);
      next();
    }
  };
  P.faults = (list) =>
    h(
      "ul",
      null,
      list.slice(0, 20).map((f) => h("li", { class: "fault" }, f.text)),
    );
  // P.fold shuts the particulars behind a line that says what they come to. No caution goes in there.
  P.fold = (says, ...kids) => h("details", null, h("summary", null, says), ...kids);
  // On paper nothing can be opened.
  window.addEventListener("beforeprint", () => {
    for (const d of document.querySelectorAll("details:not([open])")) {
      d.dataset.shut = "1";
      d.open = true;
    }
  });
  window.addEventListener("afterprint", () => {
    for (const d of document.querySelectorAll("details[data-shut]")) {
      delete d.dataset.shut;
      d.open = false;
    }
  });
  // P.reply asks the computing; no answer, or faults, are shown in the box and give null.
  P.reply = async function (box, name, request) {
    const r = await P.ask(name, request);
    if (!r) P.refill(box, h("p", { class: "fault" }, t("notYet")));
    else if (r.faults && r.faults.length) P.refill(box, P.faults(r.faults));
    else return r;
    return null;
  };
  // P.mark counts what was worked out, for who waits for it from outside.
  P.mark = (k) => {
    const all = document.documentElement.dataset;
    all[k] = String(1 + Number(all[k] || 0));
  };
  // P.shutNotice says why nothing but earthing is shown, with the way to the question.
  P.shutNotice = (l) =>
    h(
      "div",
      { class: "caution" },
      h("h2", null, t("shutHead")),
      h("p", null, t("shut")),
      h("a", { class: "button", href: "#" + l.id + "/fire" }, t("step.fire")),
    );
})();
