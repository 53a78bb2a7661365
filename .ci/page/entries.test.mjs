// An entry to 60 readings: how long until its verdict is painted, and that nothing else on the page moves for it.
import test from "node:test";
import assert from "node:assert/strict";
import { open, openDemo } from "./device.mjs";

// sixty opens the demonstration with as many readings, at the form.
async function sixty(t) {
  const [p, h] = await open(t);
  await openDemo(p);
  await p.evaluate(() => {
    const field = P.line.rows.filter((r) => r.quantity === "field meter");
    for (let i = 0; P.line.rows.length < 60; i++)
      P.line.rows.push(Object.assign({}, field[i % field.length], { id: P.id() }));
    P.line.care = true;
    P.touch();
  });
  await h.step("readings");
  await h.choose("Where", "A4 after nip");
  await h.pick("− minus", "Sign on the display");
  await h.settled();
  return [p, h];
}

// QUIET=1, on a machine that does nothing else, makes the limit count.
test("a verdict anew after each of 30 entries", { timeout: 600000 }, async (t) => {
  const [p] = await sixty(t);
  const work = () =>
    p.evaluate(async () => {
      const until = async (f) => {
        while (!f()) await new Promise((ok) => setTimeout(ok, 5));
      };
      const answers = () => Number(document.documentElement.dataset.answers);
      const all = [];
      for (let k = 0; k < 30; k++) {
        await until(() => !P.busy && !P.waiting.size);
        const e = document.getElementById("display"),
          n = answers(),
          count = P.line.rows.length;
        e.value = String(4000 + 7 * k);
        e.dispatchEvent(new Event("input", { bubbles: true }));
        const began = performance.now();
        const seen = new Promise((ok) => {
          const o = new MutationObserver(() => {
            if (answers() === n) return;
            o.disconnect();
            requestAnimationFrame(() => setTimeout(ok));
          });
          o.observe(document.documentElement, { attributes: true });
        });
        e.form.requestSubmit();
        await seen;
        all.push(Math.round(performance.now() - began));
        if (P.line.rows.length !== count + 1) throw new Error("not taken down");
        P.line.rows.pop();
      }
      return all.sort((a, b) => a - b);
    });
  const early = await work();
  await p.waitForFunction("P.warmed", { timeout: 300000 });
  const late = await work();
  const say = (x) => `median ${x[15]} ms, at most ${x[29]} ms`;
  t.diagnostic(`to 60 readings, typed at once: ${say(early)}; by the pace of a person: ${say(late)}`);
  if (process.env.QUIET) assert.ok(late[15] < 200 && late[29] < 400, say(late));
});

test("an entry adds its own row and moves no other", { timeout: 300000 }, async (t) => {
  const [p, h] = await sixty(t);
  await p.evaluate(() => {
    window.before = [...document.querySelectorAll("#main .reading")];
    window.lost = 0;
    const see = () => {
      // Beside each reading stands what was expected there, also while the next answer is computed.
      if (P.busy && window.before.some((e) => !/Expected|not used/i.test(e.textContent))) window.lost++;
      if (!window.seen) requestAnimationFrame(see);
    };
    see();
  });
  const n = await p.evaluate("window.before.length");
  assert.ok(n > 40, n + " rows");
  await p.evaluate(() => {
    const e = document.getElementById("display");
    e.value = "4100";
    e.dispatchEvent(new Event("input", { bubbles: true }));
    e.form.requestSubmit();
  });
  await h.settled();
  await h.still();
  const [now, same, lost] = await p.evaluate(() => {
    window.seen = true;
    const all = [...document.querySelectorAll("#main .reading")];
    return [all.length, window.before.filter((e) => all.includes(e)).length, window.lost];
  });
  assert.deepEqual([now, same, lost], [n + 1, n, 0]);
});
