// Compare every UCUM code of the library with the npm package
// @lhncbc/ucum-lhc. stdin: the JSON of dump.go; first argument: the folder whose
// node_modules has the package. Exit 1 on a difference that is not explained
// below, on a code that is no valid UCUM, and on an explanation that is not
// needed any more.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import path from "node:path";

const require = createRequire(path.join(process.argv[2], "x.js"));
const ucum = require("@lhncbc/ucum-lhc").UcumLhcUtils.getInstance();
const data = JSON.parse(readFileSync(0, "utf8"));

// The package multiplies float64 magnitudes; a few roundings each way.
const tolerance = 5e-15;

// Differences that stay, with the reason. Keys are "Type code".
const known = {
  "Pressure mm[Hg]": "UCUM defines m[Hg] as 133.3220 kPa; conventional is 133.322387415",
  "Pressure [in_i'Hg]": "follows the rounded m[Hg] of UCUM",
  "Energy eV": "the package has the electronvolt of CODATA 1986; the SI of 2019 made it exact",
  "Energy meV": "see eV",
  "Energy keV": "see eV",
  "Charge [e]": "the package has the elementary charge of CODATA 1986; the SI of 2019 made it exact",
  "SurfaceChargeDensity [e]/m2": "see [e]",
  "SurfaceChargeDensity [e]/cm2": "see [e]",
};

let bad = 0, compared = 0, without = 0;
const used = new Set();
const complain = (text) => { bad++; console.log(text); };

for (const kind of data.kinds) {
  const exact = (u) => (u.Num / u.Den) * 10 ** u.Exp;
  const base = kind.Units.find((u) => u.Num === 1 && u.Den === 1 && u.Exp === 0 && !u.Offset && u.UCUM)
    ?? kind.Units.find((u) => u.UCUM);
  for (const u of kind.Units) {
    if (!u.UCUM) { without++; continue; }
    const check = ucum.validateUnitString(u.UCUM);
    if (check.status !== "valid") {
      complain(`${kind.Type} ${u.Symbol}: the UCUM code ${u.UCUM} is ${check.status}: ${check.msg}`);
      continue;
    }
    const points = u.Offset ? [-40, 0, 20, 98.6, 451] : [1];
    for (const x of points) {
      const answer = ucum.convertUnitTo(u.UCUM, x, base.UCUM);
      compared++;
      if (answer.status !== "succeeded") {
        complain(`${kind.Type} ${u.Symbol}: ${u.UCUM} to ${base.UCUM}: ${answer.msg}`);
        continue;
      }
      const want = ((x + u.Offset / 100) * exact(u)) / exact(base);
      const off = Math.abs(answer.toVal / want - 1);
      if (off > tolerance) {
        const key = `${kind.Type} ${u.UCUM}`;
        if (known[key]) { used.add(key); continue; }
        complain(`${kind.Type} ${x} ${u.UCUM}: ${want} ${base.UCUM}, ucum-lhc ${answer.toVal} (${off.toExponential(2)} relative)`);
      }
    }
  }
}
for (const key of Object.keys(known)) {
  if (!used.has(key)) complain(`${key}: explained, but there is no difference`);
}

// What the package does that the library refuses: see traps_test.go.
const delta = ucum.convertUnitTo("[degF]", 10, "K").toVal;
if (Math.abs(delta - 260.93) > 0.01) complain(`10 [degF] in K is now ${delta}: the trap of differences is gone`);
for (const [a, b] of [["[psi]{gauge}", "Pa"], ["L/min{ANR}", "L/min"]]) {
  if (ucum.convertUnitTo(a, 1, b).status !== "succeeded") complain(`${a} is no longer convertible to ${b}: annotations count now`);
}
console.log(`ucum-lhc: ${compared} comparisons, ${without} units without a UCUM code, ${used.size} known differences, ${bad} unexplained`);
process.exit(bad ? 1 : 0);
