// Goods that are no web, a year's forecast, and what is expected before it is read.
import test from "node:test";
import assert from "node:assert/strict";
import { SHOTS, open, openDemo, ready } from "./device.mjs";

test(
  "doses typed by hand: the source, the way shut until fire is answered, a change, the file",
  { timeout: 300000 },
  async (t) => {
    const [p, h] = await open(t);
    await ready(p);
    await h.tap("New line");
    await h.fill("Name of the line", "cup filler <b>");
    await h.step("web");
    await h.pick("doses of powder or granulate", "What moves?");
    await h.quantity("How many in a time", "60 1/min");
    await h.fill("Mass of one dose", "12");
    await h.quantity("Charge that is too much", "3 nC/g", true);
    await h.fill("Temperature", "21");
    await h.fill("Relative humidity", "35");
    await h.tap("Next");
    assert.equal(await h.heading(), "The way of the goods");
    await h.twice("slide, chute or liner");
    assert.equal(await p.evaluate("P.line.goods.stops.length"), 3, "a double tap adds one stop");
    await h.pick("what charges there could be taken away or replaced by bonded metal");
    await h.tap("Add a conductor");
    await p.screenshot({ path: `${SHOTS}/goods-stops.png`, fullPage: true });
    await h.tap("Next");
    const liner = await p.evaluate("P.line.goods.stops[1].name");
    await h.choose("Behind which stop", liner);
    await h.fill("Charge", "8");
    await h.tap("Add this reading");
    assert.equal(await p.evaluate("P.line.goods.readings.length"), 0, "no sign was chosen");
    await h.pick("− minus", "Sign on the display");
    await h.tap("Add this reading");
    assert.deepEqual(await p.evaluate("P.line.goods.readings"), [{ station: liner, charge: "-8 nC/g" }]);
    await h.tap("Next");
    await p.waitForFunction("P.answer && P.answer.sources && P.answer.sources.length && !P.busy");
    const shut = await p.$eval("#main", (e) => e.textContent);
    assert.match(shut, /not measured, so not known.*Where the charge comes from.*What to do stays shut/);
    assert.doesNotMatch(shut, /take away what charges|replace/);
    assert.match(await p.$eval("#strip", (e) => e.textContent), /Likeliest source: slide/);
    await p.reload();
    await p.waitForFunction("P.answer && P.answer.sources && P.answer.sources.length");
    await h.step("fire");
    await h.pick("no: the assessment of this place says so");
    await h.fill("Who assessed it, and when?", "invented");
    await h.step("outcome");
    await h.tap("Changes to try");
    await h.tap("Add this change");
    await h.choose("What to change", "replace");
    await h.choose("Station", liner);
    await p.waitForFunction("P.answer && P.answer.stops && P.answer.stops.some((s) => s.then)");
    assert.match(await p.$eval("#main", (e) => e.textContent), /then .* over the limit/);
    await p.screenshot({ path: `${SHOTS}/goods-outcome.png`, fullPage: true });
    const file = JSON.parse(await p.evaluate("P.answer.file"));
    assert.equal(file.schema, "pithball goods 1");
    assert.equal(file.name, "cup filler <b>");
    assert.equal(file.stations.length, 3);
    assert.match(await p.$eval("#main", (e) => e.textContent), /Hazards of this line/);
    await h.step("outcome");
    await h.tap("Next");
    assert.equal(await h.heading(), "Before and after");
    await h.fill("Before the change", "3 4 2 3");
    await h.fill("After the change", "0; 1; 1; 0");
    await h.tap("Compare");
    await p.waitForFunction("document.documentElement.dataset.counted", { timeout: 60000 });
    assert.match(await p.$eval("#main", (e) => e.textContent), /4 numbers before, 4 after: seen 0.17.*it changed/);
    await p.screenshot({ path: `${SHOTS}/goods-counted.png`, fullPage: true });
    await h.pick("weights of single doses", "What was counted?");
    await h.fill("Before the change", "11,95 12,05 11,94 12,06 11,96 12,04");
    await h.fill("After the change", "11.79 12.21 11.748 12.252 11.832 12.168");
    await p.evaluate(() => delete document.documentElement.dataset.counted);
    await h.tap("Compare");
    await p.waitForFunction("document.documentElement.dataset.counted", { timeout: 60000 });
    assert.match(await p.$eval("#main", (e) => e.textContent), /seen 4\.2:/);
    await h.step("keep");
    await p.waitForFunction("/Who checks what/.test(document.getElementById('main').textContent)");
    assert.match(await p.$eval("#main", (e) => e.textContent), /Hazards of this line.*Who checks what, when.*conductor 1/);
    await p.screenshot({ path: `${SHOTS}/goods-keep.png`, fullPage: true });
    await h.step("goodsfile");
    await h.step("web");
    await h.pick("a web: film, paper, foil, fabric", "What moves?");
    assert.equal(await p.evaluate("P.isGoods(P.line)"), false);
    await h.pick("doses of powder or granulate", "What moves?");
    assert.equal(await p.evaluate("P.line.goods.readings.length"), 1, "back to doses, nothing is lost");
    await h.pick("sheets", "What moves?");
    await h.step("outcome");
    await h.tap("When in the year it comes back");
  },
);

test("a year's forecast from decay times, before and after without the weather", { timeout: 300000 }, async (t) => {
  const [p, h] = await open(t);
  await openDemo(p);
  await h.step("readings");
  await h.tap("I have read this");
  for (const [s, rh] of [
    ["0,84", "35"],
    ["0.12", "45"],
  ]) {
    await h.choose("What was read", "decay time");
    await h.choose("Where", "A4 after nip");
    if (!(await p.$eval("details", (e) => e.open))) await h.tap("More about this reading");
    await h.fill("Humidity there", rh);
    await h.fill("The display shows", s);
    await h.tap("Add this reading");
  }
  assert.equal(await p.evaluate("P.line.rows.filter((r) => r.quantity === 'decay time').length"), 2);
  await h.step("keep");
  await h.tap("When in the year it comes back");
  await h.fill("Charge that is made", "6");
  await h.fill("Charge that is too much", "1,74");
  await h.fill("Time for which the charge leaks before it is read", "0.3");
  await h.fill("Temperature there", "27");
  await h.fill("Temperature of the hall", "22");
  await h.fill("Mean dew points outdoors, twelve, from January, in °C", "−9 -8 -3 2 8 13 15 15 10 5 -1 -6");
  await h.tap("Work out the year");
  await p.waitForFunction("document.documentElement.dataset.foreseen", { timeout: 60000 }).catch(async () => {
    assert.fail(await p.$eval("#main", (e) => e.textContent));
  });
  assert.match(await p.$eval("#main", (e) => e.textContent), /Over the limit below 41 %RH .*Jan: 100 %/);
  await p.screenshot({ path: `${SHOTS}/season.png`, fullPage: true });
  await h.step("compare");
  await h.choose("Place", "A4 after nip");
  await h.fill("Moment of the change", "2026-01-14T10:31");
  await h.fill("Time for which the charge leaks before it is read", "0.3");
  await h.tap("Compare");
  await p.waitForFunction("document.documentElement.dataset.compared");
  assert.match(await p.$eval("#main", (e) => e.textContent), /the weather alone gives 1\.0, .*is taken out/);
});
