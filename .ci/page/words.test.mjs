// Another language is one more file: a table whose every text is marked, and nothing unmarked on any step but data.
import test from "node:test";
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { PAGE, TREE, open, ready, steps } from "./device.mjs";

test("the page speaks by its table of texts alone", { timeout: 600000 }, async (t) => {
  const ours = new Function(readFileSync(TREE + "/examples/page/web/words.js", "utf8") + ";return WORDS")();
  const marked = Object.entries(ours).map(([k, v]) => [k, k === "lang" ? "de" : `«${v}»`]);
  const dir = mkdtempSync(`${tmpdir()}/page-words-`);
  const lines = marked.map(([k, v]) => `  ${JSON.stringify(k)}: ${JSON.stringify(v)},`);
  writeFileSync(`${dir}/words.js`, `var WORDS = {\n${lines.join("\n")}\n};\n`);
  const args = ["-addr", "127.0.0.1:0", "-words", `${dir}/words.js`];
  const server = spawn(PAGE, args, { cwd: TREE, stdio: ["ignore", "pipe", "inherit"] });
  t.after(() => {
    server.kill();
    rmSync(dir, { recursive: true });
  });
  const at = await new Promise((ok) => server.stdout.on("data", (d) => ok(String(d).trim())));
  const [p, h] = await open(t, at);
  await ready(p);
  const bad = new Set();
  const look = async (step) => {
    const list = await p.evaluate(() => {
      // The library's own sentences and what it assumed are not the page's; materials and units are data.
      const not = ".caution p, .fault, #linefaults";
      const out = [];
      const walk = document.createTreeWalker(document.getElementById("page"), NodeFilter.SHOW_TEXT);
      for (let n = walk.nextNode(); n; n = walk.nextNode()) {
        const e = n.parentElement;
        if (e.closest("[data-library]") || /: missing$/.test(n.data)) continue;
        if (e.closest(not) && !n.data.includes("«")) continue;
        if (e.matches("option") && e.value && e.value === n.data) continue;
        out.push(n.data.trim());
      }
      for (const e of document.querySelectorAll("#page [aria-label]")) out.push(e.getAttribute("aria-label"));
      return out;
    });
    for (const s of list) if (/[A-Za-z]{3}/.test(s.replace(/«[^»]*»/g, ""))) bad.add(`${step}: ${s}`);
  };
  await look("home");
  await p.evaluate(() => {
    const l = P.newLine("xx");
    for (const kind of ["place", "roller", "nip", "ioniser"]) {
      P.line = l;
      P.addStation(l, l.desc.stations.length - 1).querySelector(`[data-kind=${kind}]`).click();
    }
    l.care = true;
    P.save(l);
  });
  for (const s of steps) {
    await p.evaluate((s) => P.go(Object.keys(P.lines)[0], s), s);
    await h.still();
    await look(s);
  }
  for (const kind of ["sheet", "dose"]) {
    await p.evaluate((k) => P.setBody(P.line, k), kind);
    for (const s of ["web", "stops", "measured", "outcome", "counted", "keep", "goodsfile"]) {
      await p.evaluate((s) => P.go(P.line.id, s), s);
      await h.still();
      await look(kind + " " + s);
    }
  }
  assert.deepEqual([...bad], []);
  assert.equal(await p.evaluate("document.documentElement.lang"), "de");
});
