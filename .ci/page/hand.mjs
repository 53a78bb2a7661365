// A hand on the page: finds controls by the words that a person reads, taps and types.
import { setTimeout as wait } from "node:timers/promises";

export class Hand {
  // taps, keys and looks count what a person does: a choice in a list is two taps, a look goes to the paper.
  constructor(page) {
    this.p = page;
    this.taps = this.keys = this.looks = 0;
  }
  // seconds is what a person needs for them, by a keystroke-level model: 1.1 s for a tap that has to find its place and
  // about 0.3 s for a key (from memory, Card, Moran and Newell, Comm. ACM 23 (1980) 396), 0.35 s here for a thumb, and
  // 2 s for each look at the paper. A model, not a person.
  get seconds() {
    return 1.1 * this.taps + 0.35 * this.keys + 2 * this.looks;
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
    // Both ends of the touch are sent at once: a page that is busy when a finger comes down must not make it a long press.
    const at = await e.clickablePoint();
    this.cdp ??= await this.p.createCDPSession();
    const touch = (type, touchPoints) => this.cdp.send("Input.dispatchTouchEvent", { type, touchPoints });
    await Promise.all([touch("touchStart", [{ x: at.x, y: at.y }]), touch("touchEnd", [])]);
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
  async enter() {
    this.keys++;
    await this.p.keyboard.press("Enter");
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
