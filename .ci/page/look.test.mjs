// What a person sees, hears and reaches at each step.
import test from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { SHOTS, open, openDemo, ready, steps } from "./device.mjs";

const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

test(
  "every step at phone width: no column off the screen, targets of 44 px, nothing serious for axe",
  { timeout: 600000 },
  async (t) => {
    const [p, h] = await open(t);
    const bad = [];
    const look = async (name) => {
      await h.still();
      await p.screenshot({ path: `${SHOTS}/${name}.png`, fullPage: true });
      const w = await p.evaluate(() => document.documentElement.scrollWidth);
      if (w > 390) bad.push(`${name}: ${w} px wide`);
      bad.push(
        ...(await p.evaluate(
          (name) =>
            [
              ...document.querySelectorAll(
                "button, a.button, a.stationlink, .steps a, select, input[type=text], label.pick, summary",
              ),
            ]
              .filter((e) => e.getClientRects().length && !e.matches(".hide"))
              .map((e) => [e, e.getBoundingClientRect()])
              .filter(([, r]) => r.height < 44 || r.width < 44)
              .map(([e, r]) => `${name}: ${e.textContent.slice(0, 30)} is ${r.width} by ${r.height} px`),
          name,
        )),
      );
      if (!(await p.evaluate("window.axe !== undefined"))) await p.evaluate(readFileSync(axe, "utf8"));
      const r = await p.evaluate(async () =>
        axe.run(document, {
          runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
          rules: { "color-contrast-enhanced": { enabled: true } },
        }),
      );
      for (const v of r.violations)
        if (v.impact !== "minor")
          bad.push(
            `${name}: ${v.impact} ${v.id}: ${v.nodes
              .slice(0, 2)
              .map((n) => n.html.slice(0, 120))
              .join(" | ")}`,
          );
    };
    await ready(p);
    await look("home");
    await openDemo(p);
    for (const s of steps) {
      await h.step(s);
      await look("step-" + (s.replace("/", "-") || "overview"));
      if (s === "readings") {
        await h.tap("I have read this");
        await h.choose("Where", "A4 after nip");
        await look("step-readings-read");
      }
      if (s === "fire") {
        await h.pick("yes");
        await look("step-fire-yes");
        await h.pick("no: the assessment of this place says so");
      }
    }
    await p.evaluate(() => P.setBody(P.line, "part"));
    for (const s of ["web", "stops", "measured", "outcome", "counted", "keep", "goodsfile"]) {
      await h.step(s);
      await look("goods-step-" + s);
    }
    await p.evaluate(() => P.setBody(P.line, "web"));
    await p.setViewport({ width: 1100, height: 900 });
    await h.step("answer");
    await look("wide-answer").catch(() => {});
    assert.deepEqual(
      bad.filter((x) => !/1100 px wide/.test(x)),
      [],
    );
  },
);

test("every step by keyboard, with names for a screen reader", { timeout: 600000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  await p.evaluate(() => {
    P.line.care = true;
  });
  const bad = [];
  for (const s of steps) {
    await h.step(s);
    // What can be reached, in the order in which it stands; of a group of radio buttons one.
    const want = await p.evaluate(() => {
      const all = [...document.querySelectorAll("a[href], button, input, select, textarea, summary")].filter(
        (e) =>
          e.getClientRects().length &&
          !e.disabled &&
          e.tabIndex >= 0 &&
          (e.tagName === "SUMMARY" || !e.closest("details:not([open])")),
      );
      const group = new Set();
      const one = all.filter((e) => {
        if (e.type !== "radio") return true;
        if (group.has(e.name)) return false;
        return group.add(e.name);
      });
      one.forEach((e, i) => {
        if (e.type === "radio") for (const r of document.getElementsByName(e.name)) r.dataset.reach = String(i);
        else e.dataset.reach = String(i);
      });
      document.activeElement.blur();
      window.getSelection().removeAllRanges();
      return one.length;
    });
    await p.evaluate(() => {
      document.body.tabIndex = -1;
      document.body.focus();
      document.body.removeAttribute("tabindex");
    });
    const got = [];
    for (let i = 0; i < want + 12 && got.length < want; i++) {
      await p.keyboard.press("Tab");
      const [at, ring] = await p.evaluate(() => {
        const e = document.activeElement;
        const shown = e.matches("input.hide") || e.type === "radio" || e.type === "checkbox" ? e.closest("label") : e;
        const of = (x) => getComputedStyle(x);
        const ring = [e, shown].some((x) => x && of(x).outlineStyle !== "none" && parseFloat(of(x).outlineWidth) >= 2);
        return [Number(e.dataset.reach ?? -1), ring];
      });
      if (at === got.at(-1)) continue; // a date has several parts
      got.push(at);
      if (!ring) bad.push(`${s}: the focus on control ${at} does not show`);
    }
    const out = got.find((x, i) => x !== i);
    if (out !== undefined) bad.push(`${s}: ${want} controls, reached ${got}`);
    const tree = await p.accessibility.snapshot({ interestingOnly: true });
    const walk = (n) => {
      if (/^(button|link|textbox|combobox|radio|checkbox|menulistpopup)$/i.test(n.role) && !(n.name || "").trim())
        bad.push(`${s}: a ${n.role} without a name`);
      (n.children || []).forEach(walk);
    };
    walk(tree);
    const heads = await p.$$eval("h1", (e) => e.length);
    if (heads !== 1) bad.push(`${s}: ${heads} main headings`);
  }
  assert.deepEqual(bad, []);
});

test("a reading by keyboard alone, and the verdict is announced", { timeout: 300000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  await p.evaluate(() => {
    P.line.care = true;
    P.line.rows = P.line.rows.filter((r) => r.quantity === "resistance to ground");
    P.save(P.line);
  });
  await h.step("readings");
  await p.evaluate(() => {
    const s = document.getElementById("strip");
    window.said = [];
    new MutationObserver(() => window.said.push(s.textContent)).observe(s, {
      childList: true,
      characterData: true,
      subtree: true,
    });
  });
  const live = await p.$eval("#strip", (e) => [e.getAttribute("aria-live"), e.getAttribute("role")]);
  assert.deepEqual(live, ["polite", "status"]);
  const focus = async (words) => {
    for (let i = 0; i < 40; i++) {
      await p.keyboard.press("Tab");
      if (await p.evaluate((w) => (document.activeElement.labels?.[0]?.textContent || "").startsWith(w), words)) return;
    }
    assert.fail("no way to " + words + " by the Tab key");
  };
  await p.focus("h1");
  await focus("Where");
  await p.keyboard.type("A4 after");
  await p.waitForFunction("/before any reading/.test(document.querySelector('[data-expected]').textContent)");
  await focus("The display shows");
  await p.keyboard.type("3990");
  await focus("+ plus");
  await p.keyboard.press("ArrowRight"); // to minus
  await p.focus("#display");
  await p.keyboard.press("Enter");
  await p.waitForFunction("P.line.rows.some((r) => r.value === '-3990' && r.unit === 'V')");
  await p.waitForFunction("window.said.some((s) => /Main source|Cannot|source/.test(s))", { timeout: 60000 });
  await p.waitForFunction("/Expected here: .* kV\\.$/.test(document.querySelector('[data-expected]').textContent)");
});
