"use strict";
// One station of the path.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;

  // maker asks for what the maker's sheet of a powered ioniser says; its data replace what is assumed of any bar.
  function maker(o, i, keep) {
    const bar = o.bar || {};
    const set = (k, v) => {
      if (v) bar[k] = v;
      else delete bar[k];
      if (bar.kind) {
        o.bar = bar;
        for (const assumed of ["conductivity", "zone", "supply"]) delete o[assumed];
      } else delete o.bar;
      keep();
      P.touch();
    };
    const ask = (k, words, kind) =>
      P.quantity(t(words), kind, () => bar[k], (v) => set(k, v), "s" + i + ".bar." + k);
    const change = (v) => {
      set("kind", v);
      P.paint();
    };
    const list = ["", "DC", "AC", "pulsed"].map((k) => [k, k || t("maker.none")]);
    return [
      P.selectField(t("maker"), list, bar.kind || "", change, t("makerHint")),
      bar.kind && [
        ask("voltage", "makerVoltage", "volts"),
        bar.kind !== "DC" && ask("frequency", "makerFrequency", "frequency"),
        ask("start", "makerStart", "volts"),
        ask("pitch", "makerPitch", "short"),
        ask("current", "makerCurrent", "perLength"),
        ask("output", "makerOutput", "share"),
        ask("gauge", "makerGauge", "gauge"),
        ask("hole", "makerHole", "short"),
        ask("holePitch", "makerHolePitch", "short"),
        ask("captured", "makerCaptured", "share"),
        ask("at", "makerAt", "speed"),
      ],
    ];
  }

  V.station = function (l, i) {
    const list = l.desc.stations,
      s = list[i];
    if (!s) return V.path(l);
    const first = i === 0,
      end = i === list.length - 1;
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
        "s" + i + "." + k,
        hint,
      );
    const kid = (k) => (s[k] && typeof s[k] === "object" ? s[k] : {});
    const keep = (k, v) => {
      if (Object.keys(v).length) s[k] = v;
      else delete s[k];
    };
    const body = [
      h("h1", { tabindex: -1 }, s.name || t("unnamed")),
      h("p", { class: "soft" }, t("kind." + P.kindOf(s))),
      P.textField(
        t("stationName"),
        s.name,
        (v) => {
          const old = s.name;
          s.name = v;
          for (const r of l.rows) if (r.station === old) r.station = v;
          for (const o of list) if (o.off) o.off = o.off.map((x) => (x === old ? v : x));
          P.touch();
        },
        t("stationNameHint"),
      ),
      q(t("position"), "along", s, "at", t("positionHint")),
    ];
    if (s.kind === "roller" || s.kind === "nip") {
      const r = kid("roller");
      body.push(
        P.quantity(
          t("diameter"),
          "short",
          () => P.times(r.radius, 2),
          (v) => {
            if (v) r.radius = P.times(v, 0.5);
            else delete r.radius;
            keep("roller", r);
            P.touch();
          },
          "s" + i + ".radius",
          t("diameterHint"),
        ),
      );
      if (s.kind === "roller") {
        const now = s.touches || (Array.isArray(s.change) && s.change[0] ? s.change[0].face : "B");
        body.push(
          P.choice(
            t("touches"),
            [
              ["A", t("faceA")],
              ["B", t("faceB")],
            ],
            now,
            (v) => {
              s.touches = v;
              P.touch();
            },
          ),
        );
      }
      body.push(
        P.tick(t("coverKeeps"), r.kind === "insulating", (on) => {
          if (on) r.kind = "insulating";
          else {
            delete r.kind;
            delete r.cover;
          }
          keep("roller", r);
          P.touch();
          P.paintNow();
        }),
      );
      if (r.kind === "insulating")
        body.push(
          P.quantity(
            t("coverTime"),
            "time",
            () => r.cover,
            (v) => {
              if (v) r.cover = v;
              else delete r.cover;
              P.touch();
            },
            "s" + i + ".cover",
            t("coverTimeHint"),
          ),
        );
    }
    if (s.kind === "ioniser") {
      const o = kid("ioniser");
      body.push(
        P.caution("high-voltage"),
        P.choice(
          t("meets"),
          [
            ["A", t("faceA")],
            ["B", t("faceB")],
          ],
          o.face || "A",
          (v) => {
            o.face = v;
            keep("ioniser", o);
            P.touch();
          },
        ),
        P.quantity(
          t("barDistance"),
          "short",
          () => o.distance,
          (v) => {
            if (v) o.distance = v;
            else delete o.distance;
            keep("ioniser", o);
            P.touch();
          },
          "s" + i + ".distance",
          t("barDistanceHint"),
        ),
        P.tick(t("passive"), o.passive, (on) => {
          if (on) {
            o.passive = true;
            delete o.bar;
          } else delete o.passive;
          keep("ioniser", o);
          P.touch();
        }),
        !o.passive && maker(o, i, () => keep("ioniser", o)),
      );
    }
    if (s.kind === "place" || s.kind === "ioniser") body.push(behind(l, s, i));
    if (s.kind === "place") {
      const bars = list.slice(0, i).filter((x) => x.kind === "ioniser");
      if (bars.length)
        body.push(
          h(
            "fieldset",
            null,
            h("legend", null, t("barsOff")),
            h(
              "div",
              null,
              bars.map((b) =>
                P.tick(b.name, (s.off || []).includes(b.name), (on) => {
                  const off = (s.off || []).filter((x) => x !== b.name).concat(on ? [b.name] : []);
                  if (off.length) s.off = off;
                  else delete s.off;
                  P.touch();
                }),
              ),
            ),
          ),
          P.caution("high-voltage"),
        );
    }
    if (s.kind === "winder")
      body.push(
        P.tick(t("earthedCore"), s.earthed, (on) => {
          if (on) s.earthed = true;
          else delete s.earthed;
          P.touch();
        }),
        P.caution("shock"),
      );
    // What comes and goes with the answer stands last, so that no button moves under a finger.
    body.push(h("a", { class: "button main", href: "#" + l.id + "/path" }, t("backToPath")));
    if (!end) body.push(h("h2", null, t("whatNext")), P.addStation(l, i + 1));
    if (!first && !end)
      body.push(
        h(
          "details",
          null,
          h("summary", null, t("moveOrRemove")),
          h(
            "div",
            { class: "row" },
            h(
              "button",
              {
                click: () => {
                  const n = l.rows.filter((r) => r.station === s.name).length;
                  if (n && !P.sure(t("sureStation", s.name, n))) return;
                  l.rows = l.rows.filter((r) => r.station !== s.name);
                  list.splice(i, 1);
                  for (const o of list)
                    if (o.off) {
                      o.off = o.off.filter((x) => x !== s.name);
                      if (!o.off.length) delete o.off;
                    }
                  P.clearRaw(l);
                  P.touch();
                  P.go(l.id, "path");
                },
              },
              t("removeStation"),
            ),
            i > 1 &&
              !end &&
              h(
                "button",
                {
                  click: () => {
                    list.splice(i - 1, 0, list.splice(i, 1)[0]);
                    P.clearRaw(l);
                    P.touch();
                    P.go(l.id, "path/" + (i - 1));
                  },
                },
                t("earlier"),
              ),
            i < list.length - 2 &&
              !first &&
              h(
                "button",
                {
                  click: () => {
                    list.splice(i + 1, 0, list.splice(i, 1)[0]);
                    P.clearRaw(l);
                    P.touch();
                    P.go(l.id, "path/" + (i + 1));
                  },
                },
                t("later"),
              ),
          ),
        ),
      );
    body.push(P.faultsOf(i));
    return body;
  };
  P.times = function (s, f, digits) {
    const [n, u] = P.split(s);
    return n === "" ? "" : Number((Number(n) * f).toPrecision(digits || 12)) + " " + u;
  };
  P.faultsOf = function (i) {
    const box = h("div", { role: "status" });
    P.followers.push(() => {
      const f = ((P.answer && P.answer.faults) || []).filter((x) => x.text.startsWith("stations[" + i + "]"));
      box.replaceChildren(
        ...f.map((x) => h("p", { class: "fault" }, x.text.replace(/^stations\[\d+\]( \([^)]*\))?\.?/, ""))),
      );
    });
    return box;
  };

  // behind asks what stands behind the web: metal at a distance, or a roller just passed.
  function behind(l, s, i) {
    const box = h("div");
    const draw = () => {
      const near = !!s.past;
      const p = s.past || {};
      box.replaceChildren(
        P.choice(
          t("behind"),
          [
            ["gap", t("behind.gap")],
            ["past", t("behind.past")],
          ],
          near ? "past" : "gap",
          (v) => {
            if (v === "past") {
              delete s.gap;
              s.past = { radius: "50 mm" };
            } else delete s.past;
            P.touch();
            draw();
          },
        ),
        near
          ? h(
              "div",
              null,
              P.quantity(
                t("pastDiameter"),
                "short",
                () => P.times(p.radius, 2),
                (v) => {
                  if (v) p.radius = P.times(v, 0.5);
                  else delete p.radius;
                  P.touch();
                },
                "s" + i + ".past.radius",
              ),
              P.quantity(
                t("pastX"),
                "short",
                () => p.x,
                (v) => {
                  if (v) p.x = v;
                  else delete p.x;
                  P.touch();
                },
                "s" + i + ".past.x",
                t("pastXHint"),
              ),
            )
          : P.quantity(
              t("gap"),
              "short",
              () => s.gap,
              (v) => {
                if (v) s.gap = v;
                else delete s.gap;
                P.touch();
              },
              "s" + i + ".gap",
              t("gapHint"),
            ),
      );
    };
    draw();
    return box;
  }
})();
