// Writes n seeded states of moist air as psychrolib computes them, one JSON array
// a line: t °C, RH (over ice below 0.01 °C), p Pa, W, dew or frost point °C, wet
// bulb °C, enthalpy J/kg, specific volume m³/kg, vapour pressure Pa.
const p = require('psychrolib');
p.SetUnitSystem(p.SI);
const n = Number(process.argv[2]);
const M = (1n << 64n) - 1n;
function uniform(seed, i) { // SplitMix64 as a counter
  let z = (BigInt(seed) + BigInt(i + 1) * 0x9E3779B97F4A7C15n) & M;
  z = ((z ^ (z >> 30n)) * 0xBF58476D1CE4E5B9n) & M;
  z = ((z ^ (z >> 27n)) * 0x94D049BB133111EBn) & M;
  z ^= z >> 31n;
  return Number(z >> 11n) * 2 ** -53;
}
for (let i = 0; i < n; i++) {
  const t = -50 + 130 * uniform(71, i), rh = 0.005 + 0.995 * uniform(72, i), P = 60000 + 140000 * uniform(73, i);
  const e = rh * p.GetSatVapPres(t);
  if (e > 0.8 * P) { console.log('null'); continue; }
  const w = p.GetHumRatioFromRelHum(t, rh, P);
  console.log(JSON.stringify([t, rh, P, w, p.GetTDewPointFromRelHum(t, rh), p.GetTWetBulbFromHumRatio(t, w, P),
    p.GetMoistAirEnthalpy(t, w), p.GetMoistAirVolume(t, w, P), p.GetVapPresFromRelHum(t, rh)]));
}
