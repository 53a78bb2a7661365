// The way from paper to the answer, and that it is the program's.
import test from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { typeLine, typePaper, typeReadings, csv } from "./type.mjs";
import { DRAWN, SHOTS, SURVEY, demo, open, openDemo, ready, result, resultOf } from "./device.mjs";

test("plant A typed by hand at phone width gives the program's answer, bit for bit", { timeout: 900000 }, async (t) => {
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
  assert.equal(await resultOf(p), result());
  assert.match(await p.$eval("#strip", (e) => e.textContent), /Earth first: idler 5.*Main source: tension nip/);
  const kept = await p.evaluate("JSON.stringify(P.line.rows)");
  await p.reload();
  await p.waitForFunction("P.line && P.answer && P.answer.verdict");
  assert.equal(await p.evaluate("JSON.stringify(P.line.rows)"), kept, "a reload keeps every reading");
  assert.equal(await resultOf(p), result(), "and the answer");
});

test("plant A from its paper to its verdict in ten minutes, by count of taps and keys", { timeout: 900000 }, async (t) => {
  const [p, h] = await open(t);
  await ready(p);
  const d = JSON.parse(readFileSync(demo + "line.json", "utf8"));
  const rows = csv(readFileSync(demo + "survey.csv", "utf8"));
  await typeLine(h, Object.assign({}, d, { note: "" }));
  const line = [h.taps, h.keys, h.looks, h.seconds];
  await typePaper(h, rows, d.web.width);
  await h.settled();
  t.diagnostic(`line: ${line[0]} taps, ${line[1]} keys, ${line[2]} looks: ${(line[3] / 60).toFixed(1)} min`);
  t.diagnostic(`all: ${h.taps} taps, ${h.keys} keys, ${h.looks} looks: ${(h.seconds / 60).toFixed(1)} min`);
  // What was typed is what the paper says, and the verdict is that of the survey's file.
  const typed = await p.evaluate("P.line.rows");
  const key = (r) => [r.station, r.quantity, r.face || "", r.distance || "", r.value, r.unit].join("|");
  assert.deepEqual(typed.map(key), rows.map(key));
  assert.equal(await p.evaluate("JSON.stringify(P.answer.faults)"), "[]");
  assert.match(await p.$eval("#strip", (e) => e.textContent), /Earth first: idler 5.*Main source: tension nip/);
  assert.ok(h.seconds <= 600, `${h.seconds.toFixed(0)} s by the model`);
});

test("files open and save, and the answer is the program's", { timeout: 300000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  assert.equal(await resultOf(p), result());
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
    assert.equal(await resultOf(p), json, units);
    const report = await p.evaluate(async () => P.ask("report", P.request(P.line)));
    assert.equal(report.html, readFileSync(`${dir}/report.html`, "utf8"), units);
    // With the answers about the place its hazards stand in both.
    const safety = await p.evaluate("P.safety(P.line)");
    writeFileSync(`${dir}/site.json`, JSON.stringify({ safety }));
    execFileSync(SURVEY, args.concat("-site", "site.json"), { cwd: dir, encoding: "utf8" });
    const placed = await p.evaluate(async () =>
      P.ask("report", Object.assign(P.request(P.line), { safety: P.safety(P.line) })),
    );
    assert.equal(placed.html, readFileSync(`${dir}/report.html`, "utf8"), units);
    assert.match(placed.html, /Antistatic agents and solvents/);
    assert.doesNotMatch(report.html, /Antistatic agents and solvents/);
  }
});

test("forty invented surveys of two kinds of plant give the program's answer, bit for bit", { timeout: 600000 }, async (t) => {
  const [p] = await open(t);
  await ready(p);
  const all = readdirSync(DRAWN);
  assert.ok(all.length >= 40);
  const outcomes = new Set();
  for (const d of all) {
    const file = (name) => readFileSync(`${DRAWN}/${d}/${name}`, "utf8");
    const got = await p.evaluate(
      async (line, survey) => {
        const o = await P.ask("open", { line, survey });
        if (o.faults.length) return JSON.stringify(o.faults);
        const q = { line: o.line, rows: o.rows, units: "metric", names: ["line.json", "survey.csv"] };
        const r = await P.ask("result", q);
        return r.result || JSON.stringify(r.faults);
      },
      file("line.json"),
      file("survey.csv"),
    );
    assert.equal(got, file("result.json"), d);
    outcomes.add(JSON.parse(got).outcome);
  }
  assert.ok(outcomes.size > 3, [...outcomes].join());
});

test("changes are tried and upkeep is told", { timeout: 300000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  await h.step("fire");
  await h.pick("no: the assessment of this place says so");
  await h.fill("Who assessed it, and when?", "invented");
  // Particulars are folded away behind what they come to, a caution never.
  const short = async (name) => {
    const px = await p.evaluate("document.documentElement.scrollHeight");
    assert.ok(px < 5000, `${name}: ${px} px long on a phone`);
    assert.ok(await p.evaluate("!!document.querySelector('#main summary')"), name);
    assert.equal(await p.evaluate("document.querySelectorAll('#main details .caution').length"), 0, name);
  };
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
  // Each change by its own words: what is asked of it, and that it is worked out.
  const ways = {
    cover: async () => {
      await h.choose("Station", "tension nip");
      await h.choose("The new cover touches", "A");
      await h.fill("Strength of the new pair, as a share of the old one", "0,1");
    },
    load: async () => {
      await h.choose("Station", "tension nip");
      await h.fill("New load, as a share of the load now", "0.5");
    },
    wrap: async () => {
      await h.choose("Station", "tension nip");
      await h.fill("New angle of wrap, as a share of the angle now", "0.5");
    },
    moisten: () => h.quantity("Relative humidity", "50"),
    warm: () => h.quantity("Temperature", "30 °C"),
    add: async () => {
      await h.fill("Name of the new ioniser", "bar B3");
      await h.quantity("New place along the web", "3.6 m");
      await h.quantity("Distance to the metal behind", "300 mm");
    },
    core: () => h.choose("Station", "winder"),
  };
  for (const [what, say] of Object.entries(ways)) {
    await p.evaluate(() => {
      P.line.tries = [];
      delete document.documentElement.dataset.tried;
    });
    await h.step("plan");
    await h.step("try");
    await h.choose("What to change", what);
    await say();
    await h.tap("Add this change");
    await h.tap("Work it out");
    await p.waitForFunction("document.documentElement.dataset.tried", { timeout: 60000 }).catch(async () => {
      assert.fail(what + ": " + (await p.$eval("#main", (e) => e.textContent)));
    });
    const said = await p.$eval("#main", (e) => e.textContent);
    assert.match(said, /What it would be.*faces then: A /, what);
    if (what === "cover") await p.screenshot({ path: `${SHOTS}/step-try-cover.png`, fullPage: true });
  }
  await h.step("plan");
  const then = Date.now();
  await h.tap("Work out the plan");
  await p.waitForFunction("document.documentElement.dataset.planned", { timeout: 120000 });
  t.diagnostic(
    `plan worked out in ${Date.now() - then} ms (${Math.round(await p.evaluate("P.compute.millis"))} ms of computing)`,
  );
  assert.match(await p.$eval("#main", (e) => e.textContent), /if nothing is done.*earth idler 5/);
  await p.screenshot({ path: `${SHOTS}/step-plan-done.png`, fullPage: true });
  await short("plan");
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
  await short("keep");
  assert.ok(await p.$eval("#main ol", (e) => /path to earth/.test(e.innerText) && /never reach in/.test(e.innerText)));
});
