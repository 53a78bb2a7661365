"use strict";
// The first steps: all lines, one line, what goes wrong, whether anything may burn, what moves.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;
  P.steps = [
    "trouble",
    "fire",
    "web",
    "path",
    "ground",
    "readings",
    "answer",
    "plan",
    "try",
    "compare",
    "keep",
    "files",
  ];
  const join = (list) => list.filter((x) => x).join(", ");

  V.home = function () {
    const list = Object.values(P.lines).sort((a, b) => b.changed - a.changed);
    let busy = false;
    const add = () => {
      if (busy) return; // a double tap makes one line
      busy = true;
      P.go(P.newLine("").id, "trouble");
    };
    return [
      h("h1", { tabindex: -1 }, t("title")),
      h("p", null, t("intro")),
      h("p", { class: "soft" }, t("stays")),
      P.noStore && h("p", { class: "fault" }, t("noStore")),
      P.damaged && h("p", { class: "fault" }, t("damaged")),
      h(
        "div",
        { class: "row" },
        h("button", { class: "main", click: add }, t("newLine")),
        h(
          "label",
          { class: "button" },
          t("openFiles"),
          h("input", {
            class: "hide",
            type: "file",
            multiple: true,
            accept: ".json,.csv",
            change: (e) => P.openFiles(e.target.files),
          }),
        ),
      ),
      h("div", { id: "opened", role: "status" }),
      h("h2", null, t("yourLines")),
      list.length
        ? h(
            "ul",
            { class: "plain" },
            list.map((l) =>
              h(
                "li",
                { class: "card" },
                h("h3", null, h("a", { href: "#" + l.id }, l.desc.name || t("unnamed"))),
                h("p", { class: "soft" }, t("lineSum", l.rows.length, P.when(l.changed))),
                h(
                  "button",
                  {
                    class: "quiet",
                    click: () => {
                      if (P.sure(t("sureOne", l.desc.name || t("unnamed")))) {
                        P.drop(l.id);
                        P.paint();
                      }
                    },
                  },
                  t("deleteOne"),
                  h("span", { class: "hide" }, " " + (l.desc.name || t("unnamed"))),
                ),
              ),
            ),
          )
        : h("p", null, t("noLines")),
      h("h2", null, t("settings")),
      P.choice(
        t("unitsAsk"),
        [
          ["metric", t("metric")],
          ["us", t("us")],
        ],
        P.settings.units,
        (v) => {
          P.settings.units = v;
          P.saveSettings();
        },
      ),
      h(
        "button",
        {
          click: () => {
            if (!P.sure(t("sureAll"))) return;
            for (const id of Object.keys(P.lines)) P.drop(id);
            try {
              localStorage.removeItem("pithball.settings");
            } catch (e) {
              P.noStore = true;
            }
            P.line = null;
            P.paint();
          },
        },
        t("deleteAll"),
      ),
      h("h2", null, t("about")),
      h("p", null, t("aboutText")),
    ];
  };
  P.when = (ms) => new Date(ms).toLocaleString(t("lang"), { dateStyle: "medium", timeStyle: "short" });

  // P.openFiles takes a line file, a survey file or both.
  P.openFiles = async function (list) {
    const said = document.getElementById("opened");
    const q = { line: "", survey: "" };
    for (const f of list) {
      if (f.size > 16e6) {
        said.replaceChildren(h("p", { class: "fault" }, t("tooBig", f.name)));
        return;
      }
      const s = await f.text();
      if (/^\s*\{/.test(s.replace(/^\ufeff/, ""))) q.line = s.replace(/^\ufeff/, "");
      else q.survey = s;
    }
    if (!q.line && !(q.survey && P.line)) {
      said.replaceChildren(h("p", { class: "fault" }, t("wantLine")));
      return;
    }
    const a = await P.ask("open", q);
    if (!a) {
      said.replaceChildren(h("p", { class: "fault" }, t("notYet")));
      return;
    }
    if (a.faults && a.faults.length) {
      P.refill(said, P.faults(a.faults));
      return;
    }
    const l = q.line ? P.newLine("") : P.line;
    if (a.line) l.desc = a.line;
    if (a.rows) l.rows = a.rows.map((r) => Object.assign({ id: P.id() }, r));
    P.save(l);
    P.go(l.id, "");
  };

  // What a step holds so far.
  P.done = {
    trouble: (l) =>
      join(l.asks.wrong.map((w) => t("wrong." + w))) || (l.asks.words ? l.asks.words.slice(0, 60) : t("open")),
    fire: (l) => (l.asks.fire ? t("fire." + l.asks.fire + ".short") : t("unanswered")),
    web: (l) =>
      (P.isGoods(l) ? t("body." + l.goods.kind) : null) ||
      join([l.desc.web.material, l.desc.web.thickness, l.desc.speed]) ||
      t("open"),
    path: (l) => t("nStations", l.desc.stations.length),
    ground: (l) => {
      const n = new Set(l.rows.filter((r) => r.quantity === "resistance to ground").map((r) => r.station)).size;
      return n ? t("nMeasured", n) : t("notMeasured");
    },
    readings: (l) => {
      const n = l.rows.filter((r) => r.quantity !== "resistance to ground").length;
      return n ? t("nReadings", n) : t("none");
    },
    answer: () => (P.answer && P.answer.verdict ? P.answer.outcome : t("notYetShort")),
    plan: () => "",
    compare: () => "",
    try: (l) => ((l.tries || []).length ? t("nChanges", l.tries.length) : ""),
    keep: () => "",
    files: () => "",
    stops: (l) => t("nStations", l.goods.stops.length),
    measured: (l) => (l.goods.readings.length ? t("nReadings", l.goods.readings.length) : t("none")),
    outcome: () => "",
    counted: () => "",
    goodsfile: () => "",
  };

  const nameField = (l) =>
    P.textField(
      t("lineName"),
      l.desc.name,
      (v) => {
        l.desc.name = v;
        P.touch();
      },
      t("lineNameHint"),
    );

  V.line = function (l) {
    return [
      h("h1", { tabindex: -1 }, l.desc.name || t("unnamed")),
      nameField(l),
      h("h2", null, t("theWay")),
      h(
        "ol",
        { class: "plain steps" },
        P.stepsOf(l).map((s, i) =>
          h(
            "li",
            null,
            h(
              "a",
              { href: "#" + l.id + "/" + s },
              h("b", null, i + 1 + ". " + t("step." + s)),
              h("span", null, P.tidy(P.done[s](l))),
            ),
          ),
        ),
      ),
    ];
  };

  V.trouble = function (l) {
    const a = l.asks;
    return [
      h("h1", { tabindex: -1 }, t("step.trouble")),
      nameField(l),
      h(
        "fieldset",
        null,
        h("legend", null, t("whatWrong")),
        h(
          "div",
          null,
          ["shock", "spark", "cling", "feed", "jam", "dust", "place", "sensor", "weight"].map((w) =>
            P.tick(t("wrong." + w), a.wrong.includes(w), (on) => {
              a.wrong = a.wrong.filter((x) => x !== w).concat(on ? [w] : []);
              P.save(l);
              P.paintNow();
            }),
          ),
        ),
      ),
      a.wrong.includes("shock") && P.caution("shock"),
      P.textField(
        t("since"),
        a.since,
        (v) => {
          a.since = v;
          P.save(l);
        },
        t("sinceHint"),
      ),
      P.textField(
        t("inWords"),
        a.words,
        (v) => {
          a.words = v;
          P.save(l);
        },
        null,
        true,
      ),
      P.textField(
        t("note"),
        l.desc.note,
        (v) => {
          if (v) l.desc.note = v;
          else delete l.desc.note;
          P.touch();
        },
        t("noteHint"),
        true,
      ),
    ];
  };

  V.fire = function (l) {
    const a = l.asks;
    const shut = h("p", { class: "fault", role: "status" }, t("fireShut"));
    P.followers.push(() => {
      shut.hidden = !P.shut(l);
    });
    return [
      h("h1", { tabindex: -1 }, t("step.fire")),
      h("p", null, t("fireText")),
      P.choice(
        t("fireAsk"),
        ["", "no", "yes", "unsure"].map((v) => [v, t("fire." + (v || "open"))]),
        a.fire,
        (v) => {
          a.fire = v;
          P.save(l);
          P.paintNow();
        },
      ),
      a.fire === "yes" &&
        P.selectField(
          t("flammables"),
          [
            ["", t("choose")],
            ["vapour", t("vapour")],
            ["gas", t("gas")],
            ["dust", t("dust")],
          ],
          a.flammables || "",
          (v) => {
            a.flammables = v;
            P.save(l);
            P.paintNow();
          },
        ),
      a.fire === "yes" &&
        P.selectField(
          t("zone"),
          [
            ["", t("choose")],
            ["none", t("zoneNone")],
          ].concat(["0", "1", "2", "20", "21", "22"].map((z) => [z, t("zoneN", z)])),
          a.zone || "",
          (v) => {
            a.zone = v;
            P.save(l);
            P.paintNow();
          },
          t("zoneHint"),
        ),
      (a.fire === "no" || a.fire === "yes") &&
        P.textField(
          t("fireBy"),
          a.by,
          (v) => {
            a.by = v;
            P.save(l);
            P.paintLists();
          },
          t("fireByHint"),
        ),
      a.fire === "yes" && h("p", { class: "fault" }, t("fireStop")),
      shut,
      P.caution("not-an-approval"),
      a.fire === "yes" && P.caution("ioniser-in-zone"),
      a.fire === "yes" && P.caution("brush-discharge"),
      a.fire === "yes" && P.caution("dust"),
      P.caution("implant"),
    ];
  };

  V.web = function (l) {
    if (P.isGoods(l)) return P.goodsMoves(l);
    const d = l.desc,
      w = d.web,
      air = d.air || (d.air = {});
    const q = (label, kind, o, k, hint) =>
      P.quantity(
        label,
        kind,
        () => o[k],
        (v) => {
          if (v) o[k] = v;
          else delete o[k];
          P.touch();
        },
        "web." + k,
        hint,
      );
    const names = P.start.webs.map((x) => x.name);
    if (w.material && !names.includes(w.material)) names.unshift(w.material);
    const typical = ["density", "relativePermittivity", "volumeResistivity", "humidity"];
    const pick = (v) => {
      if (v === w.material) return;
      w.material = v;
      for (const k of typical) delete w[k];
      P.touch();
      P.paintNow();
    };
    const er = w.relativePermittivity;
    return [
      h("h1", { tabindex: -1 }, t("step.web")),
      P.bodyChoice(l),
      P.selectField(
        t("material"),
        [["", t("choose")]].concat(names.map((n) => [n, n])),
        w.material || "",
        pick,
        t("materialHint"),
      ),
      P.textField(
        t("materialOwn"),
        w.material,
        (v) => {
          w.material = v;
          P.touch();
        },
        t("materialOwnHint"),
      ),
      q(t("thickness"), "thickness", w, "thickness"),
      q(t("width"), "width", w, "width"),
      q(t("speed"), "speed", d, "speed", t("speedHint")),
      q(t("wish"), "speed", d, "wish", t("wishHint")),
      h("h2", null, t("air")),
      h("p", { class: "hint" }, t("airHint")),
      q(t("temperature"), "temperature", air, "temperature"),
      q(t("humidity"), "humidity", air, "relativeHumidity"),
      h(
        "details",
        null,
        h("summary", null, t("more")),
        h(
          "div",
          null,
          q(t("pressure"), "pressure", air, "pressure"),
          q(t("density"), "density", w, "density"),
          P.plainNumber(t("permittivity"), er && typeof er === "object" ? String(er.value) : "", (v) => {
            if (v) w.relativePermittivity = { value: Number(v), spread: 0.05, kind: "lognormal" };
            else delete w.relativePermittivity;
            P.touch();
          }),
          P.selectField(
            t("water"),
            [
              ["", t("asMaterial")],
              ["inert", t("inert")],
              ["adsorbing", t("adsorbing")],
              ["absorbing", t("absorbing")],
            ],
            w.humidity || "",
            (v) => {
              if (v) w.humidity = v;
              else delete w.humidity;
              P.touch();
            },
          ),
        ),
      ),
      P.assumed(),
    ];
  };

  // P.plainNumber is a number without a unit.
  P.plainNumber = function (label, value, on, hint) {
    const e = h("p", { class: "fault", hidden: true });
    return h(
      "div",
      { class: "field" },
      hint && h("p", { class: "hint" }, hint),
      h(
        "label",
        null,
        label,
        h("input", {
          type: "text",
          inputmode: "decimal",
          maxlength: 40,
          autocomplete: "off",
          value,
          input: (ev) => {
            const n = P.number(ev.target.value);
            e.hidden = !n.fault;
            e.textContent = n.fault || "";
            if (!n.fault) on(n.text || "");
          },
        }),
      ),
      e,
    );
  };

  // P.assumed lists what was filled in; it follows the answer.
  P.assumed = function () {
    const list = h("ul", { "data-library": "" });
    const d = h("details", null, h("summary", null, t("assumed")), h("p", { class: "hint" }, t("assumedHint")), list);
    P.followers.push(() => {
      const a = (P.answer && P.answer.assumed) || [];
      d.hidden = !a.length;
      list.replaceChildren(...a.map((s) => h("li", null, s)));
    });
    return d;
  };
})();
