// A hand on the page: finds controls by the words that a person reads, taps and types.
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
  // tapOn taps what stands still, and waits until the tap came through and what it asked for is drawn: a browser makes a
  // click of a tap some time after the finger was lifted. A tap that the layout moved away from is made again, as a
  // person does.
  async tapOn(e, again = () => e) {
    this.taps++;
    for (let left = 3; ; left--) {
      await this.p.waitForFunction("performance.now() - P.since > 300", { polling: 20 });
      await e.evaluate(
        (x) =>
          new Promise((ok) => {
            x.tapped = false;
            x.addEventListener("click", () => (x.tapped = true), { capture: true, once: true });
            x.scrollIntoView({ block: "center" });
            let last;
            const frame = () => {
              const r = JSON.stringify(x.getBoundingClientRect());
              if (r === last || !x.isConnected) ok();
              else requestAnimationFrame(frame);
              last = r;
            };
            frame();
          }),
      );
      // Both ends of the touch are sent at once: a page that is busy when a finger comes down must not make it a long
      // press.
      const at = await e.clickablePoint().catch(() => null); // none where it was drawn anew meanwhile
      if (at) await this.touch([at.x, at.y]);
      const tapped = (x) => x.tapped;
      if (at && (await this.p.waitForFunction(tapped, { polling: 20, timeout: 15000 }, e).catch(() => null))) break;
      if (!left) throw new Error("taps missed: " + (await e.evaluate((x) => x.textContent + " " + x.isConnected)));
      e = await again();
    }
    await this.drawn();
  }
  // touch sends taps: place and, where it matters, time [s].
  async touch(...taps) {
    this.cdp ??= await this.p.createCDPSession();
    const send = (type, touchPoints, timestamp) =>
      this.cdp.send("Input.dispatchTouchEvent", { type, touchPoints, ...(timestamp ? { timestamp } : {}) });
    await Promise.all(
      taps.flatMap(([x, y, at]) => [send("touchStart", [{ x, y }], at), send("touchEnd", [], at && at + 0.02)]),
    );
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
    await this.tapOn(await this.button(words, root), () => this.button(words, root));
  }
  async enter() {
    this.keys++;
    await this.p.keyboard.press("Enter");
    await this.drawn();
  }
  // twice is an impatient finger: two taps on the same place, a tenth of a second apart by the clock of the screen,
  // however long the browser takes to come to them.
  async twice(words) {
    const b = await this.button(words);
    const [x, y] = await b.evaluate(async (e) => {
      e.scrollIntoView({ block: "center" });
      await new Promise((ok) => requestAnimationFrame(() => requestAnimationFrame(ok)));
      window.clicks = 0;
      if (!window.counts) window.addEventListener("click", () => window.clicks++, { capture: true });
      window.counts = true;
      const r = e.getBoundingClientRect();
      return [r.x + r.width / 2, r.y + r.height / 2];
    });
    await this.p.waitForFunction("performance.now() - P.since > 300", { polling: 20 });
    const at = Date.now() / 1000;
    await this.touch([x, y, at], [x, y, at + 0.1]);
    await this.p.waitForFunction("window.clicks >= 2", { polling: 20, timeout: 60000 });
    await this.drawn();
  }
  async step(name) {
    await this.p.evaluate((name) => P.go(P.line.id, name), name);
    await this.drawn();
  }
  // drawn waits until the view that the address names is drawn.
  async drawn() {
    await this.p.waitForFunction("P.at === location.hash", { polling: 20 });
  }
  // settled waits until the answer to what was typed is there.
  async settled(ms = 120000) {
    await this.p.waitForFunction("P.computing && !P.busy && !P.again && P.answer", { timeout: ms });
  }
  // still waits until nothing is being computed and two frames passed.
  async still() {
    await this.drawn();
    await this.p.waitForFunction("!P.computing || !P.waiting.size", { polling: 20 });
    await this.p.evaluate(() => new Promise((ok) => requestAnimationFrame(() => requestAnimationFrame(ok))));
  }
  async heading() {
    return this.p.$eval("h1", (e) => e.textContent);
  }
}
