// Browser checks of examples/page. Run by run.sh, which builds what they need: PAGE (the program), TREE (the
// repository), SURVEY (the program survey), RESULT (its JSON of its demonstration), SHOTS (a folder for pictures).
import test, { before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { setTimeout as wait } from "node:timers/promises";
import { createRequire } from "node:module";
import puppeteer from "puppeteer-core";
import { Hand, typeLine, typeReadings, csv } from "./hand.mjs";

const { PAGE, TREE, RESULT, SHOTS, SINGLE, SURVEY } = process.env;
const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
const demo = TREE + "/examples/survey/demo/";
const phone = { width: 390, height: 844, hasTouch: true, isMobile: true, deviceScaleFactor: 1 };
const steps = [
  "",
  "trouble",
  "fire",
  "web",
  "path",
  "path/0",
  "path/2",
  "path/4",
  "path/5",
  "path/8",
  "ground",
  "readings",
  "answer",
  "plan",
  "try",
  "compare",
  "keep",
  "files",
];
let server, url, browser;

before(
  async () => {
    mkdirSync(SHOTS, { recursive: true });
    server = spawn(PAGE, ["-addr", "127.0.0.1:0"], { cwd: TREE, stdio: ["ignore", "pipe", "inherit"] });
    url = await new Promise((ok) => server.stdout.on("data", (d) => ok(String(d).trim())));
    browser = await puppeteer.launch({
      executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
      headless: true,
      protocolTimeout: 300000,
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
      ],
    });
  },
  { timeout: 300000 },
);
after(async () => {
  await browser?.close();
  server?.kill();
});

// open gives a fresh device at the page; every request elsewhere and every error of the page is a failure.
async function open(t, at = url) {
  const c = await browser.createBrowserContext();
  const p = await c.newPage();
  p.setDefaultTimeout(120000);
  p.faults = [];
  await p.setViewport(phone);
  p.on("pageerror", (e) => p.faults.push(e.message));
  await p.evaluateOnNewDocument(() =>
    window.addEventListener("unhandledrejection", (e) => console.error("unhandled: " + e.reason)),
  );
  p.on("console", (m) => {
    if (m.type() === "error" && !/ERR_INTERNET_DISCONNECTED|ERR_FAILED|503/.test(m.text())) p.faults.push(m.text());
  });
  p.on("request", (r) => {
    if (!r.url().startsWith(url) && !/^(blob|data|file):/.test(r.url())) p.faults.push("asked " + r.url());
  });
  t.after(async () => {
    await c.close();
    assert.deepEqual(p.faults, []);
  });
  if (at) await p.goto(at);
  return [p, new Hand(p), c];
}
const ready = (p) => p.waitForFunction("P.compute.state === 'ready' && P.start", { timeout: 120000 });
async function openDemo(p) {
  await ready(p);
  await p.evaluate(
    async (l, s) => {
      await P.openFiles([new File([l], "l.json"), new File([s], "s.csv")]);
    },
    readFileSync(demo + "line.json", "utf8"),
    readFileSync(demo + "survey.csv", "utf8"),
  );
  await p.waitForFunction("P.answer && P.answer.verdict", { timeout: 120000 });
}
const result = () => readFileSync(RESULT, "utf8");

test(
  "plant A typed by hand at phone width gives the program's answer, bit for bit",
  { timeout: 900000 },
  async (t) => {
    const [p, h] = await open(t);
    await ready(p);
    const began = Date.now();
    await typeLine(h, JSON.parse(readFileSync(demo + "line.json", "utf8")));
    await typeReadings(h, csv(readFileSync(demo + "survey.csv", "utf8")));
    await h.settled();
    t.diagnostic(
      `typed in ${((Date.now() - began) / 1000).toFixed(0)} s; last answer took ${Math.round(await p.evaluate("P.answerMillis"))} ms`,
    );
    assert.equal(await p.evaluate("JSON.stringify(P.answer.faults)"), "[]");
    assert.equal(await p.evaluate("P.answer.result"), result());
    assert.match(await p.$eval("#strip", (e) => e.textContent), /Earth first: idler 5.*Main source: tension nip/);
    const kept = await p.evaluate("JSON.stringify(P.line.rows)");
    await p.reload();
    await p.waitForFunction("P.line && P.answer && P.answer.verdict");
    assert.equal(await p.evaluate("JSON.stringify(P.line.rows)"), kept, "a reload keeps every reading");
    assert.equal(await p.evaluate("P.answer.result"), result(), "and the answer");
  },
);

test("files open and save, and the answer is the program's", { timeout: 300000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  assert.equal(await p.evaluate("P.answer.result"), result());
  const saved = await p.evaluate(async () => P.ask("save", P.request(P.line)));
  assert.deepEqual(JSON.parse(saved.line), JSON.parse(readFileSync(demo + "line.json", "utf8")));
  assert.equal(saved.survey, readFileSync(demo + "survey.csv", "utf8"));
  await h.step("answer");
  assert.ok(
    !(await p.$eval("#main", (e) => e.textContent)).includes("Do not"),
    "unanswered, the question of fire keeps cures shut",
  );
  await h.step("fire");
  await h.pick("no: the assessment of this place says so");
  await h.step("answer");
  assert.ok(
    !(await p.$eval("#main", (e) => e.textContent)).includes("Do not"),
    "nor does an answer that nobody stands for open them",
  );
  await h.step("try");
  assert.deepEqual(
    await p
      .$$eval("#main select:first-of-type option", (e) => e.map((x) => x.value))
      .then((v) => v.slice(0, 2).includes("run")),
    false,
  );
  const refused = await p.evaluate(async () =>
    P.ask(
      "try",
      Object.assign(P.request(P.line), { safety: P.safety(P.line), changes: [{ do: "run", speed: "100 m/min" }] }),
    ),
  );
  assert.match(refused.faults[0].text, /not before/);
  await h.step("fire");
  await h.fill("Who assessed it, and when?", "invented");
  await h.step("answer");
  assert.match(await p.$eval("#main", (e) => e.textContent), /Do not/);
  // What the page saves, the program reads: its JSON and its report are those of the page, byte for byte.
  const dir = mkdtempSync(`${tmpdir()}/page-files-`);
  t.after(() => rmSync(dir, { recursive: true }));
  const names = await p.evaluate("P.fileNames(P.line)");
  writeFileSync(`${dir}/${names[0]}`, saved.line);
  writeFileSync(`${dir}/${names[1]}`, saved.survey);
  for (const units of ["metric", "us"]) {
    await p.evaluate((u) => {
      P.settings.units = u;
    }, units);
    const args = ["-line", names[0], "-survey", names[1], "-units", units, "-format", "json", "-html", "report.html"];
    const json = execFileSync(SURVEY, args, { cwd: dir, encoding: "utf8" });
    const answer = await p.evaluate(async () => P.ask("answer", P.request(P.line)));
    assert.equal(answer.result, json, units);
    const report = await p.evaluate(async () => P.ask("report", P.request(P.line)));
    assert.equal(report.html, readFileSync(`${dir}/report.html`, "utf8"), units);
  }
});

test("changes are tried and upkeep is told", { timeout: 300000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  await h.step("fire");
  await h.pick("no: the assessment of this place says so");
  await h.fill("Who assessed it, and when?", "invented");
  await h.step("try");
  await h.choose("Station", "idler 5");
  await h.tap("Add this change");
  await h.choose("What to change", "run");
  await h.quantity("New speed", "300 m/min");
  await h.twice("Add this change");
  assert.equal(await p.evaluate("P.line.tries.length"), 2);
  const began = Date.now();
  await h.tap("Work it out");
  await p.waitForFunction("document.documentElement.dataset.tried");
  t.diagnostic(
    `changes worked out in ${Date.now() - began} ms (${Math.round(await p.evaluate("P.compute.millis"))} ms of computing)`,
  );
  assert.match(await p.$eval("#main", (e) => e.textContent), /What it would be.*over the limit/);
  await p.screenshot({ path: `${SHOTS}/step-try-done.png`, fullPage: true });
  await h.step("plan");
  const then = Date.now();
  await h.tap("Work out the plan");
  await p.waitForFunction("document.documentElement.dataset.planned", { timeout: 120000 });
  t.diagnostic(
    `plan worked out in ${Date.now() - then} ms (${Math.round(await p.evaluate("P.compute.millis"))} ms of computing)`,
  );
  assert.match(await p.$eval("#main", (e) => e.textContent), /if nothing is done.*earth idler 5/);
  await p.screenshot({ path: `${SHOTS}/step-plan-done.png`, fullPage: true });
  const shut = await p.evaluate(async () => P.ask("plan", Object.assign(P.request(P.line), { safety: {}, aim: {} })));
  assert.ok(
    shut.stop && shut.cures.length && shut.cures.every((c) => c.step === "earth"),
    "unanswered, a plan holds earthing only: " + JSON.stringify(shut.cures.map((c) => c.step)),
  );
  await h.step("compare");
  await h.choose("Place", "A4 after nip");
  await h.fill("Moment of the change", "2026-01-14T10:31");
  await h.tap("Compare");
  await p.waitForFunction("document.documentElement.dataset.compared");
  assert.match(await p.$eval("#main", (e) => e.textContent), /2 readings before, 2 after.*not told from no change/);
  await p.screenshot({ path: `${SHOTS}/step-compare-done.png`, fullPage: true });
  await h.step("keep");
  await p.waitForFunction("/Who checks what/.test(document.getElementById('main').textContent)");
  await p.screenshot({ path: `${SHOTS}/step-keep-done.png`, fullPage: true });
});

test(
  "every step at phone width: no column off the screen, targets of 44 px, nothing serious for axe",
  { timeout: 600000 },
  async (t) => {
    const [p, h] = await open(t);
    const bad = [];
    const look = async (name) => {
      await wait(100);
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
              .filter(
                (e) => e.getClientRects().length && !e.matches(".hide") && e.getBoundingClientRect().height < 44,
              )
              .map((e) => `${name}: ${e.textContent.slice(0, 30)} is ${e.getBoundingClientRect().height} px high`),
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
    await p.setViewport({ width: 1100, height: 900 });
    await h.step("answer");
    await look("wide-answer").catch(() => {});
    assert.deepEqual(
      bad.filter((x) => !/1100 px wide/.test(x)),
      [],
    );
  },
);

test(
  "works with the network off, also after a reload; the single file asks for nothing",
  { timeout: 300000 },
  async (t) => {
    const [p] = await open(t);
    await openDemo(p);
    await p.evaluate(() => navigator.serviceWorker.ready);
    await p.setOfflineMode(true);
    await p.reload();
    await p.waitForFunction("P.line && P.answer && P.answer.verdict");
    const [q, h] = await open(t, "file://" + SINGLE);
    await q.setOfflineMode(true);
    await openDemo(q);
    assert.equal(await q.evaluate("P.answer.result"), result());
    await h.step("files");
  },
);

test("names with markup, line breaks and 10,000 characters are text or refused", { timeout: 300000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  const nasty = `<img src=x onerror="window.hit=1"><script>window.hit=1</script>&amp;'"`;
  await h.step("trouble");
  await h.fill("Name of the line", nasty);
  await h.step("path/2");
  await h.fill("Name", nasty);
  for (const s of steps) await h.step(s);
  await h.settled();
  assert.equal(await p.evaluate("window.hit"), undefined);
  assert.equal(await p.$$eval("#main img, #main script", (e) => e.length), 0);
  await h.step("path");
  assert.ok((await p.$eval("#main", (e) => e.textContent)).includes(nasty));
  assert.equal(await p.evaluate("P.answer.faults.length"), 0, "such a name still computes");
  await h.step("path/2");
  await p.evaluate(() => navigator.clipboard).catch(() => {});
  const name = await h.byLabel("Name", "input");
  await name.evaluate((e) => {
    e.focus();
    e.select();
    document.execCommand("insertText", false, "a\nb".padEnd(10000, "x"));
  });
  const kept = await p.evaluate("P.line.desc.stations[2].name");
  assert.ok(kept.length <= 120 && !/[\u0000-\u001f]/.test(kept), "kept " + kept.length);
  const line = readFileSync(demo + "line.json", "utf8");
  for (const bad of ["x".repeat(10000), "a\\nb\\n2. Main source: none"]) {
    const o = await p.evaluate(async (l) => P.ask("open", { line: l, survey: "" }), line.replaceAll("idler 1", bad));
    assert.equal(o.faults.length, 1);
    assert.equal(o.line, undefined);
  }
});

test("500 readings stay responsive", { timeout: 600000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  await p.evaluate(() => {
    const field = P.line.rows.filter((r) => r.quantity === "field meter");
    for (let i = 0; P.line.rows.length < 500; i++)
      P.line.rows.push(Object.assign({}, field[i % field.length], { id: P.id() }));
    P.save(P.line);
    P.line.care = true;
  });
  await h.step("readings");
  await h.choose("Where", "A4 after nip");
  await h.pick("− minus", "Sign on the display");
  // While the answer is computed, every key still comes through within a few frames.
  const slow = await p.evaluate(async () => {
    P.touch();
    const e = document.getElementById("display");
    let worst = 0;
    for (let i = 0; i < 30; i++) {
      const began = performance.now();
      e.value = String(4000 + i);
      e.dispatchEvent(new Event("input", { bubbles: true }));
      await new Promise((ok) => requestAnimationFrame(() => setTimeout(ok)));
      worst = Math.max(worst, performance.now() - began);
    }
    return worst;
  });
  await h.settled();
  t.diagnostic(
    `slowest key ${Math.round(slow)} ms, answer to 500 readings ${Math.round(await p.evaluate("P.answerMillis"))} ms`,
  );
  assert.ok(slow < 1000, `slowest key ${slow} ms`);
  await h.tap("Add this reading");
  await h.settled();
  assert.equal(await p.evaluate("P.line.rows.length"), 501);
});

test(
  "back button, double taps, half-typed entries and an interrupted load lose nothing",
  { timeout: 300000 },
  async (t) => {
    const [p, h] = await open(t);
    await ready(p);
    await h.twice("New line");
    await p.waitForFunction("Object.keys(P.lines).length > 0", { timeout: 10000 });
    await wait(300);
    assert.equal(await p.evaluate("Object.keys(P.lines).length"), 1);
    await h.fill("Name of the line", "slitter 3");
    await h.step("path");
    await h.twice("place to read");
    await wait(700);
    assert.equal(await p.evaluate("P.line.desc.stations.length"), 3);
    await h.fill("Name", "mid span");
    await p.goBack();
    await wait(100);
    assert.equal(await h.heading(), "The path");
    assert.equal(await p.evaluate("P.line.desc.stations[1].name"), "mid span");
    await h.step("readings");
    await h.tap("I have read this");
    await h.choose("Where", "mid span");
    await h.fill("The display shows", "4,25");
    await p.reload();
    await p.waitForFunction("P.line && document.getElementById('display')");
    assert.equal(await p.$eval("#display", (e) => e.value), "4,25", "half an entry survives a reload");
    await h.tap("Add this reading");
    assert.equal(await p.evaluate("P.line.rows.length"), 0, "no sign was chosen");
    await h.pick("− minus", "Sign on the display");
    await h.choose("Unit of: The display shows", "kV");
    await h.twice("Add this reading");
    await p.waitForFunction("P.line.rows.length > 0", { timeout: 10000 });
    await wait(300); // the second tap must have come through too
    assert.deepEqual(await p.evaluate("P.line.rows.map((r) => r.value + ' ' + r.unit)"), ["-4.25 kV"]);
    await h.fill("The display shows", "4,390");
    await h.tap("Add this reading");
    await p.waitForFunction("/two ways/.test(document.getElementById('entryfault').textContent)", { timeout: 10000 });
    // The computing does not come through: typing goes on, and a second try finds it.
    const [q, g] = await open(t, null);
    let cut = true;
    await q.setRequestInterception(true);
    q.on("request", (r) => {
      if (cut && r.url().endsWith("app.wasm.gz")) r.abort();
      else r.continue();
    });
    await q.goto(url);
    await q.waitForFunction("P.compute.state === 'failed'");
    await g.tap("New line");
    await g.fill("Name of the line", "typed without computing");
    cut = false;
    await g.tap("Try again");
    await ready(q);
    assert.equal(await q.evaluate("Object.values(P.lines)[0].desc.name"), "typed without computing");
  },
);

test("delete everything leaves nothing on the device", { timeout: 120000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  await p.evaluate(() => {
    location.hash = "";
  });
  await wait(100);
  p.on("dialog", (d) => d.accept());
  await h.tap("Delete everything from this device");
  await p.reload();
  assert.equal(await p.evaluate("Object.keys(P.lines).length + Object.keys(localStorage).length"), 0);
});

test("first answer and diagnosis on a slowed processor", { timeout: 600000 }, async (t) => {
  const [p] = await open(t, null);
  await p.emulateCPUThrottling(4);
  const began = Date.now();
  await p.goto(url);
  await ready(p);
  const up = Date.now() - began;
  await openDemo(p);
  const first = await p.evaluate("P.answerMillis");
  const all = [];
  for (let i = 0; i < 5; i++) {
    await p.evaluate(async () => {
      P.answer = null;
      await P.refresh();
    });
    all.push(await p.evaluate("P.answerMillis"));
  }
  t.diagnostic(
    `ready after ${up} ms, first answer ${Math.round(first)} ms, then ${all.map(Math.round)} ms for 42 readings, 4 times slowed page`,
  );
});
