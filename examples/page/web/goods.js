"use strict";
// Sheets, parts, profiles and doses: their own description and readings, the same way through.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;
  const kinds = {
    sheet: ["pile", "pick", "roller", "board", "ioniser", "place", "stack"],
    part: ["mould", "slide", "drop", "ioniser", "place", "bin"],
    profile: ["die", "roller", "haul-off", "ioniser", "place", "coiler"],
    dose: ["hopper", "slide", "drop", "ioniser", "place", "container"],
  };
  Object.assign(P.units, {
    rate: [
      ["1/min", "1/h", "1/s"],
      ["1/min", "1/h", "1/s"],
    ],
    basis: [["g/m²"], ["g/m²"]],
    mass: [
      ["g", "kg"],
      ["g", "kg"],
    ],
    stream: [
      ["m/s", "m/min"],
      ["ft/min", "m/s"],
    ],
    sheet: [["µC/m²"], ["µC/m²"]],
    part: [
      ["nC", "µC"],
      ["nC", "µC"],
    ],
    profile: [
      ["µC/m", "nC/m"],
      ["µC/m", "nC/m"],
    ],
    dose: [
      ["nC/g", "µC/kg"],
      ["nC/g", "µC/kg"],
    ],
  });
  P.isGoods = (l) => !!l && !!l.goods;
  const way = ["trouble", "fire", "web", "stops", "measured", "outcome", "counted", "keep", "goodsfile"];
  P.goodsOnly = way.slice(3).filter((s) => s !== "keep");
  P.stepsOf = (l) => (P.isGoods(l) ? way : P.steps);

  // P.setBody turns a line into one of goods, or back into one of a web; what was typed of the other stays.
  P.setBody = function (l, kind) {
    if (kind === "web") {
      if (l.goods) l.goodsKept = l.goods;
      delete l.goods;
    } else if (!l.goods || l.goods.kind !== kind) {
      const k = kinds[kind];
      const old = l.goods || l.goodsKept;
      l.goods =
        old && old.kind === kind
          ? old
          : {
              kind,
              decays: [],
              conductors: [],
              readings: [],
              tries: [],
              stops: [k[0], k[k.length - 1]].map((s) => ({ name: t("stop." + s), kind: s })),
            };
    }
    P.answer = null;
    P.touch();
    P.paint();
  };
  P.bodyChoice = (l) =>
    P.choice(
      t("whatMoves"),
      ["web", "sheet", "part", "profile", "dose"].map((k) => [k, t("body." + k)]),
      P.isGoods(l) ? l.goods.kind : "web",
      (v) => P.setBody(l, v),
    );
  P.goodsRequest = function (l, changes) {
    const goods = Object.assign({}, l.goods, { name: l.desc.name || "", note: l.desc.note || "" });
    delete goods.tries;
    return { goods, safety: P.safety(l), changes: changes || [], units: P.settings.units };
  };
  // field is a quantity of an object, written at every key.
  const field = (label, kind, o, k, hint) =>
    P.quantity(
      label,
      kind,
      () => o[k],
      (v) => {
        if (v) o[k] = v;
        else delete o[k];
        P.touch();
      },
      undefined,
      hint,
    );

  P.goodsMoves = function (l) {
    const g = l.goods;
    return [
      h("h1", { tabindex: -1 }, t("step.web")),
      P.bodyChoice(l),
      g.kind === "profile" ? field(t("speed"), "speed", g, "speed") : field(t("rate"), "rate", g, "rate"),
      g.kind === "sheet" && field(t("basis"), "basis", g, "basis", t("basisHint")),
      g.kind === "dose" && field(t("doseMass"), "mass", g, "mass"),
      field(t("goodsLimit"), g.kind, g, "limit", t(g.kind === "sheet" ? "goodsLimitSheet" : "goodsLimitHint")),
      h("h2", null, t("air")),
      field(t("temperature"), "temperature", g, "temperature", t("goodsAirHint")),
      field(t("humidity"), "humidity", g, "humidity"),
      h("h2", null, t("decays")),
      h("p", { class: "hint" }, t("decaysHint")),
      many(
        g.decays,
        (d) => [field(t("decayTime"), "time", d, "time"), field(t("humidity"), "humidity", d, "humidity")],
        {
          add: t("addDecay"),
          make: () => ({}),
        },
      ),
      goodsFaults(),
    ];
  };

  // many is a list of cards, each with its fields and a button that takes it away.
  function many(list, fields, o) {
    const box = h("div");
    const draw = () => {
      box.replaceChildren(
        ...list.map((x, i) =>
          h(
            "div",
            { class: "card" },
            fields(x, i, draw),
            (!o.keep || !o.keep(i)) &&
              h(
                "button",
                {
                  class: "quiet",
                  "aria-label": t("takeAway") + " " + (x.name || i + 1),
                  click: () => {
                    list.splice(i, 1);
                    P.touch();
                    draw();
                  },
                },
                t("takeAway"),
              ),
          ),
        ),
        o.add
          ? h(
              "button",
              {
                click: () => {
                  list.push(o.make());
                  P.touch();
                  draw();
                },
              },
              o.add,
            )
          : "",
      );
    };
    draw();
    return box;
  }

  function goodsFaults() {
    const box = h("div", { role: "status" });
    P.followers.push(() => {
      const f = (P.answer && P.answer.faults) || [];
      P.refill(box, f.length ? [h("h2", null, t("stillMissing")), P.faults(f)] : []);
    });
    return box;
  }

  V.stops = function (l) {
    const g = l.goods;
    const name = (x) =>
      P.textField(t("stationName"), x.name, (v) => {
        for (const r of g.readings) if (r.station === x.name) r.station = v;
        x.name = v;
        P.touch();
      });
    const add = (kind, e) => {
      if (P.double(e)) return;
      let n = 1;
      while (g.stops.some((s) => s.name === t("stop." + kind) + " " + n)) n++;
      g.stops.splice(g.stops.length - 1, 0, { name: t("stop." + kind) + " " + n, kind });
      P.touch();
      P.paint(true);
    };
    const tick = (words, x, k) =>
      P.tick(words, x[k], (on) => {
        x[k] = on;
        P.touch();
      });
    return [
      h("h1", { tabindex: -1 }, t("step.stops")),
      h("p", null, t("stopsText")),
      many(
        g.stops,
        (x, i) => [
          h("h2", null, t("stop." + x.kind)),
          name(x),
          x.kind === "ioniser"
            ? [
                P.caution("high-voltage"),
                field(t("nozzleDistance"), "short", x, "distance"),
                field(t("nozzleAir"), "stream", x, "air"),
                field(t("nozzleRadius"), "short", x, "radius"),
              ]
            : null,
          x.kind === "slide" || x.kind === "roller" || x.kind === "board" ? tick(t("partOff"), x, "part") : null,
          i > 0 && x.kind !== "ioniser" && x.kind !== "drop" ? tick(t("liesEarthed"), x, "earthed") : null,
          field(t("dwellThere"), "time", x, "dwell", t("dwellThereHint")),
        ],
        { keep: (i) => i === 0 || i === g.stops.length - 1 },
      ),
      h("h2", null, t("addStop")),
      h("p", { class: "hint" }, t("addStopHint")),
      h(
        "div",
        { class: "two" },
        kinds[g.kind].slice(1, -1).map((k) => h("button", { click: (e) => add(k, e) }, t("stop." + k))),
      ),
      h("h2", null, t("conductorsBeside")),
      P.caution("isolated-conductor"),
      many(
        g.conductors,
        (x) => [
          P.textField(t("stationName"), x.name, (v) => {
            x.name = v;
            P.touch();
          }),
          field(t("quantity.ohms"), "ohms", x, "resistance", t("goodsOhmsHint")),
        ],
        { add: t("addConductor"), make: () => ({ name: t("conductor") + " " + (g.conductors.length + 1) }) },
      ),
      goodsFaults(),
    ];
  };

  V.measured = function (l) {
    const g = l.goods,
      d = l.draft.goods || (l.draft.goods = {});
    if (!g.stops.some((s) => s.name === d.station)) d.station = "";
    const fault = h("p", { class: "fault", role: "alert" });
    const list = h("div");
    const keep = (k) => (v) => {
      d[k] = v;
      P.save(l);
    };
    const draw = () => {
      list.replaceChildren(
        many(
          g.readings,
          (r) => [h("p", null, h("b", null, P.show({ value: r.charge, unit: "" })), " " + t("behindStop", r.station))],
          {},
        ),
      );
      if (!g.readings.length) list.replaceChildren(h("p", null, t("noneTaken")));
    };
    const form = h("form", { class: "card", novalidate: true });
    const fill = () =>
      form.replaceChildren(
        P.selectField(
          t("behindWhich"),
          [["", t("choose")]].concat(g.stops.map((s) => [s.name, s.name])),
          d.station,
          keep("station"),
        ),
        P.quantity(t("chargeRead"), g.kind, () => d.charge, keep("charge"), "goods.charge", t("chargeHint." + g.kind)),
        P.choice(
          t("sign"),
          [
            ["+", t("plus")],
            ["-", t("minus")],
          ],
          d.sign || "",
          keep("sign"),
          "sign",
        ),
        P.quantity(t("humidityThere"), "humidity", () => d.humidity, keep("humidity"), undefined, t("asLine")),
        fault,
        h("button", { class: "main", type: "submit" }, t("add")),
      );
    form.addEventListener("submit", (e) => {
      e.preventDefault();
      fault.textContent = !d.station ? t("chooseFirst") : !d.charge ? t("typeFirst") : !d.sign ? t("signFirst") : "";
      if (fault.textContent) return;
      const r = { station: d.station, charge: (d.sign === "-" ? "-" : "") + d.charge.replace(/^[-+]/, "") };
      if (d.humidity) r.humidity = d.humidity;
      g.readings.push(r);
      d.charge = "";
      P.touch();
      fill();
      draw();
    });
    fill();
    draw();
    return [
      h("h1", { tabindex: -1 }, t("step.measured")),
      P.caution("reach-in"),
      form,
      h("h2", null, t("taken")),
      list,
      goodsFaults(),
    ];
  };

  V.outcome = function (l) {
    const box = h("section", { "aria-label": t("step.outcome") });
    const card = (x) =>
      h(
        "li",
        { class: "card" },
        h("h3", null, x.what || x.step),
        h("p", { class: "soft" }, x.step),
        x.reason ? h("p", null, x.reason) : h("p", null, t("fromTo", x.before, x.after)),
      );
    P.followers.push(() => {
      const a = P.answer && P.answerOf === l.id ? P.answer : null;
      if (!a || !a.stops) {
        box.replaceChildren(h("p", null, t(a && a.faults && a.faults.length ? "answerFaults" : "computing")));
        return;
      }
      const list = (key, items) =>
        items && items.length ? [h("h2", null, t(key)), h("ul", { class: "plain" }, items)] : null;
      box.replaceChildren(
        ...[
          list(
            "conductorsBeside",
            (a.ground || []).map((x) =>
              h("li", null, x.name + ": " + t(!x.measured ? "notMeasuredFine" : x.isolated ? "isolated" : "earthed")),
            ),
          ),
          list(
            "whereFrom",
            (a.sources || []).map((x) => h("li", null, h("b", null, x.name), ": ", t("sourceIs", x.chance, x.gain))),
          ),
          list(
            "behindEach",
            (a.stops || []).map((x) =>
              h(
                "li",
                { class: "card" },
                h("h3", null, x.name),
                h("p", null, t("netNow", x.charge, x.over)),
                x.then && h("p", null, t("netThen", x.then, x.overThen)),
              ),
            ),
          ),
          a.stop && h("div", { class: "caution" }, h("h2", null, t("shutHead")), h("p", null, t("shut"))),
          list("cures", (a.cures || []).map(card)),
          list("refused", (a.refused || []).map(card)),
          a.rate && h("p", null, t("fastest", a.rate)),
          a.hazards && a.hazards.length && P.hazardList(a.hazards),
          P.caution("not-an-approval"),
        ]
          .flat(3)
          .filter((x) => x),
      );
    });
    return [h("h1", { tabindex: -1 }, t("step.outcome")), goodsFaults(), P.shut(l) ? null : tries(l), box].concat(
      l.goods.kind === "sheet" ? P.season(l) : [],
      P.assumed(),
    );
  };

  // tries are the changes to try, together, on what the readings left known.
  function tries(l) {
    const g = l.goods,
      list = g.tries || (g.tries = []);
    const stops = (kind) => g.stops.filter((s) => (kind === "nearer" ? s.kind === "ioniser" : s.part));
    return h(
      "details",
      { open: list.length > 0 },
      h("summary", null, t("step.try")),
      many(
        list,
        (x, i, draw) => [
          P.selectField(
            t("whatChange"),
            ["pace", "nearer", "moisten", "replace"].map((k) => [k, t("goodsDo." + k)]),
            x.do,
            (v) => {
              x.do = v;
              x.station = "";
              x.to = "";
              P.touch();
              draw();
            },
          ),
          x.do === "nearer" || x.do === "replace"
            ? P.selectField(
                t("station"),
                [["", t("choose")]].concat(stops(x.do).map((s) => [s.name, s.name])),
                x.station,
                (v) => {
                  x.station = v;
                  P.touch();
                },
              )
            : null,
          x.do === "pace" ? field(t("rate"), "rate", x, "to") : null,
          x.do === "nearer" ? field(t("nozzleDistance"), "short", x, "to") : null,
          x.do === "moisten" ? field(t("humidity"), "humidity", x, "to") : null,
        ],
        { add: t("addChange"), make: () => ({ do: "nearer", station: "", to: "" }) },
      ),
    );
  }

  V.goodsfile = function (l) {
    return [
      h("h1", { tabindex: -1 }, t("step.goodsfile")),
      h("p", null, t("goodsFileText")),
      h(
        "div",
        { class: "row" },
        h(
          "button",
          {
            id: "savegoods",
            click: () => {
              const a = P.answer;
              if (a && a.file)
                P.saveText(P.fileNames(l)[0].replace("-line.json", "-goods.json"), "application/json", a.file);
              else P.say(t("answerFaults"));
            },
          },
          t("saveGoods"),
        ),
        h("button", { class: "main", click: () => window.print() }, t("print")),
      ),
      V.outcome(l).slice(1),
    ];
  };
})();
