// A hand on the page: finds controls by the words that a person reads, taps and types.
import { setTimeout as wait } from "node:timers/promises";

export class Hand {
  // taps and keys count what a person does: a choice in a list is two taps.
  constructor(page) {
    this.p = page;
    this.taps = this.keys = 0;
  }
  // byLabel finds a control by the text of its label.
  async byLabel(text, kinds = "input, select, textarea") {
    const e = await this.p.evaluateHandle(
      (text, kinds) => {
        for (const l of document.querySelectorAll("#main label")) {
          const c = l.control;
          const own = [...l.childNodes]
            .filter((n) => n.nodeType === 3 || n.tagName === "SPAN")
            .map((n) => n.textContent)
            .join("")
            .trim();
          if (own === text && c && c.matches(kinds)) return c;
        }
        return (
          [...document.querySelectorAll("#main [aria-label]")].find((e) => e.getAttribute("aria-label") === text) ||
          null
        );
      },
      text,
      kinds,
    );
    const el = e.asElement();
    if (!el) throw new Error("no control called " + text + " at " + this.p.url());
    return el;
  }
  async fill(label, text) {
    const e = await this.byLabel(label, "input:not([type=radio]):not([type=checkbox]), textarea");
    const [there, focused] = await e.evaluate((x) => [x.value, x === document.activeElement]);
    if (there === text) return; // a person types nothing that stands there already
    if (!focused) this.taps++;
    this.keys += text.length;
    await e.evaluate((x) => {
      x.scrollIntoView({ block: "center" });
      x.focus();
      x.select && x.type !== "datetime-local" && x.select();
    });
    if (await e.evaluate((x) => x.type === "datetime-local")) {
      await e.evaluate((x, v) => {
        x.value = v;
        x.dispatchEvent(new Event("change", { bubbles: true }));
      }, text);
    } else if (text === "") await this.p.keyboard.press("Backspace");
    else await this.p.keyboard.type(text);
  }
  // quantity types a number and picks its unit, from text such as "2.63 m".
  async quantity(label, text, comma) {
    const m = /^([-+\d.e]+)\s*(.*)$/.exec(text);
    await this.fill(label, comma ? m[1].replace(".", ",") : m[1]);
    const unit = await this.byLabel("Unit of: " + label, "select").catch(() => null);
    if (!unit || (await unit.evaluate((e) => e.value)) === m[2]) return;
    this.taps += 2;
    await unit.select(m[2]);
  }
  async choose(label, value) {
    const e = await this.byLabel(label, "select");
    if ((await e.evaluate((x) => x.value)) !== value) this.taps += 2;
    await e.select(value);
  }
  // pick taps a radio button or a box by its words, within the group that the legend names.
  async pick(words, legend) {
    const e = await this.p.evaluateHandle(
      (words, legend) => {
        const root = legend
          ? [...document.querySelectorAll("#main fieldset")].find(
              (f) => f.querySelector("legend").textContent === legend,
            )
          : document.getElementById("main");
        return (
          (root &&
            [...root.querySelectorAll("label")].find(
              (l) => l.textContent.trim() === words && l.querySelector("input"),
            )) ||
          null
        );
      },
      words,
      legend,
    );
    if (!e.asElement()) throw new Error("nothing to pick: " + words);
    if (await e.evaluate((x) => x.control.type === "radio" && x.control.checked)) return;
    await this.tapOn(e.asElement());
  }
  async tapOn(e) {
    this.taps++;
    await e.evaluate((x) => x.scrollIntoView({ block: "center" }));
    await e.tap();
  }
  async button(words, root = "#main, .foot") {
    const e = await this.p.evaluateHandle(
      (words, root) =>
        [...document.querySelectorAll(root)]
          .flatMap((r) => [...r.querySelectorAll("button, a, summary")])
          .find((b) => b.textContent.trim() === words && !b.disabled) || null,
      words,
      root,
    );
    if (!e.asElement()) throw new Error("no button " + words + " at " + this.p.url());
    return e.asElement();
  }
  async tap(words, root) {
    await this.tapOn(await this.button(words, root));
    await wait(30);
  }
  async twice(words) {
    const b = await this.button(words);
    await b.evaluate((x) => x.scrollIntoView({ block: "center" }));
    await b.tap();
    await b.tap().catch(() => {});
    await wait(50);
  }
  async step(name) {
    await this.p.evaluate((name) => P.go(P.line.id, name), name);
    await wait(60);
  }
  // settled waits until the answer to what was typed is there.
  async settled(ms = 120000) {
    await this.p.waitForFunction("P.computing && !P.busy && !P.again && P.answer", { timeout: ms });
  }
  async heading() {
    return this.p.$eval("h1", (e) => e.textContent);
  }
}

// typeLine types a description as a person would from paper; what is not typed is what the page assumes.
export async function typeLine(h, d) {
  await h.tap("New line");
  await h.fill("Name of the line", d.name);
  await h.fill("A line for the report", d.note);
  await h.pick("people get shocks");
  await h.fill("Since when?", "January");
  await h.tap("Next");
  await h.pick("no: the assessment of this place says so");
  await h.fill("Who assessed it, and when?", "invented");
  await h.tap("Next");
  await h.choose("Material", d.web.material);
  await h.quantity("Thickness", d.web.thickness);
  await h.quantity("Width", d.web.width, true);
  await h.quantity("Speed now", d.speed);
  await h.quantity("Speed wanted", d.wish);
  await h.quantity("Temperature", d.air.temperature);
  await h.quantity("Relative humidity", d.air.relativeHumidity.replace("%RH", " %RH"));
  await h.tap("More about it");
  await h.quantity("Air pressure", d.air.pressure, true);
  await h.tap("Next");
  const add = {
    place: "place to read",
    roller: "metal roller",
    nip: "nip of two rollers",
    ioniser: "ioniser with power",
  };
  for (const [i, s] of d.stations.entries()) {
    if (s.kind === "unwind") continue;
    if (s.kind === "winder") await h.step("path/" + i);
    else await h.tap(s.kind === "roller" && /lay-on/.test(s.name) ? "lay-on roller" : add[s.kind]);
    await h.fill("Name", s.name);
    await h.quantity("Position along the web", s.at, i % 2 === 0);
    if (s.kind === "roller" && s.change[0].face === "A") await h.pick("face A", "The web lies on it with");
    if (s.past) {
      await h.pick("a roller that the web has just left");
      await h.quantity("Diameter of that roller", 2 * parseFloat(s.past.radius) + " mm");
      await h.quantity("Past the roller by", s.past.x);
    } else if (s.gap) await h.quantity("Distance to the metal behind", s.gap);
    for (const o of s.off || []) await h.pick(o, "Ionisers switched off while readings are taken here");
    if (s.ioniser && s.ioniser.bar) await typeMaker(h, s.ioniser.bar);
    await h.tap("Back to the path");
  }
}

// typeMaker types what the maker's sheet of a bar says.
async function typeMaker(h, bar) {
  await h.choose("What the maker's sheet calls it", bar.kind);
  await h.quantity("Voltage of the points", bar.voltage);
  await h.quantity("Frequency", bar.frequency);
  await h.quantity("Voltage at which corona starts", bar.start);
  await h.quantity("Distance between points", bar.pitch);
  await h.quantity("Current of each polarity per length, clean", bar.current);
  await h.quantity("Share left by dirt and wear", bar.output);
}

// typeReadings types the rows of a survey in their order.
export async function typeReadings(h, rows) {
  const words = {
    "field meter": "field meter at the web",
    "over-roller voltmeter": "voltmeter over an earthed roller",
  };
  let step = "",
    quantity = "",
    station = "",
    remark = "";
  for (const r of rows) {
    const ground = r.quantity === "resistance to ground";
    if (step !== (ground ? "ground" : "readings")) {
      step = ground ? "ground" : "readings";
      await h.step(step);
      if (!ground) {
        await h.tap("I have read this");
        await h.tap("The meters");
        const names = await h.p.$$("fieldset input[maxlength='120']");
        for (const [i, n] of ["meter 1", "voltmeter 1"].entries()) {
          const e = names[i];
          await e.evaluate((x) => {
            x.scrollIntoView({ block: "center" });
            x.focus();
            x.select();
          });
          await h.p.keyboard.type(n);
        }
        await h.step("readings");
      }
      await h.tap("More about this reading");
      quantity = station = "";
      remark = "";
    }
    if (!ground && quantity !== r.quantity) {
      quantity = r.quantity;
      await (await h.byLabel("What was read", "select")).select(quantity);
      void words;
      station = "";
    }
    if (station !== r.station) {
      station = r.station;
      await h.choose(ground ? "Which conductor" : quantity === "field meter" ? "Where" : "Over which roller", station);
    }
    if (!ground) {
      await h.pick("face " + r.face, "The meter looks at");
      await h.pick(Number(r.value) < 0 ? "− minus" : "+ plus", "Sign on the display");
    }
    await h.fill("The display shows", r.value.replace("-", "").replace(".", Number(r.value) % 1 ? "," : "."));
    await h.choose("Unit of: The display shows", r.unit);
    await h.fill("When", r["date and time"].replace(" ", "T"));
    if (r["cross-web position"]) await h.quantity("Position across the web", r["cross-web position"]);
    await h.quantity("Temperature there", r["air temperature"]);
    await h.quantity("Humidity there", r["air humidity"].replace("%RH", " %RH"));
    if (remark !== r.remark) {
      remark = r.remark;
      await h.fill("Remark", remark);
    }
    await h.tap("Add this reading");
  }
}

// csv reads the survey's file, which quotes some names.
export function csv(text) {
  const rows = text
    .trim()
    .split(/\r?\n/)
    .map((l) =>
      [...l.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)].map((m) => m[1].replace(/^"|"$/g, "").replaceAll('""', '"')),
    );
  const head = rows.shift();
  return rows.map((r) => Object.fromEntries(head.map((k, i) => [k, r[i] || ""])));
}
