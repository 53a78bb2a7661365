package gas

import (
	"math"

	"example.org/pithball/units"
)

// region is a range of gaps, at relative density 1, in which measured breakdown
// voltages lie between low and high times the law, with the given median.
type region struct {
	end               float64 // [m] up to this gap; 0: without end
	low, median, high float64 // [1] relative to BreakdownVoltage
}

// regions is the account of the measured sets: 116 points of ten works, 29 medians
// by gap of single shots (R.-T. Lee et al. 2001) and the sphere-gap tables, each
// limit about the 5 and 95 % of the points. A set that lies outside is a row with
// its reason in testdata.
var regions = [...]region{
	{2e-6, 0.11, 0.95, 2.2},    // 28 points of metal, with its asperities; field emission
	{8e-6, 0.60, 0.99, 1.25},   // 41 points
	{130e-6, 0.93, 1.21, 1.47}, // 52 points: the law lies low here
	{5e-3, 0.95, 1.04, 1.10},   // 17 points
	{60e-3, 0.97, 1.04, 1.07},  // 35 points, most of them sphere gaps
	{0, 0.97, 0.99, 1.03},      // sphere gaps up to 20 cm
}

// smooth is the lower limit below 2 µm that the caps of a film take in place of that
// of metal. Of the 28 points there the five below 0.2 times the law are one
// laboratory's, with rough electrodes (Torres and Dhariwal 1999); the least of the
// others is 0.43. What lies on a face of a film has no metal asperities to emit. [1]
const smooth = 1.0 / 3

// BreakdownSpread returns the limits between which nine of ten measured voltages
// lie, and their median, relative to [BreakdownVoltage], at a gap at relative
// density 1 (for another take δ times the gap): between 8 and 130 µm 0.93 … 1.21 …
// 1.47; below 2 µm 0.11 … 0.95 … 2.2, because one of four laboratories found a tenth
// of what the others did there, on rough metal. Sources: the points collected from
// Bertein 1973, Schreier 1964, Seeliger 1934, Germer 1959, Torres and Dhariwal
// 1999, Lee et al. 2001, Peschot et al. 2015, Radmilović-Radjenović et al. 2012 and
// the sphere-gap tables. NaN for a NaN or negative gap.
func BreakdownSpread(gap units.Length) (low, median, high float64) { // [1]
	d := float64(gap)
	for i := range regions {
		if r := &regions[i]; d >= 0 && (d < r.end || r.end == 0) {
			return r.low, r.median, r.high
		}
	}
	return math.NaN(), math.NaN(), math.NaN()
}

// BreakdownLimits returns the median of measured breakdown voltages at a gap, and
// the limits between which nine of ten lie: [BreakdownVoltage] times
// [BreakdownSpread] at δ times the gap. Special cases as [BreakdownVoltage].
func BreakdownLimits(gap units.Length, delta float64) (low, median, high units.Voltage) { // delta [1]
	v, _ := BreakdownVoltage(gap, delta)
	l, m, h := BreakdownSpread(units.Length(float64(gap) * delta))
	return units.Voltage(float64(v) * l), units.Voltage(float64(v) * m), units.Voltage(float64(v) * h)
}

// LeastLimits is [Least] for the lower limit, the median and the upper limit of
// measured breakdown voltages, each with the gap of its own that it is met at:
// where the law lies low, a larger gap can rule the upper limit. The law itself
// lies between them. Below 2 µm the lower limit is a third of the law, that of smooth
// faces, not the tenth of rough metal. NaN where [Least] gives NaN.
func LeastLimits(other, end units.Length, delta float64) (low, median, high units.ElectricField) { // delta [1]
	g, e := float64(other), float64(end)
	if !(g > 0) || !(e > 0) || !(delta > 0 && delta <= MaxDensity) {
		nan := units.ElectricField(math.NaN())
		return nan, nan, nan
	}
	// Each region holds the least of the law at its own stationary point or at one
	// of its ends, because V_b(z)·(1/z + 1/g) falls to one least and rises beyond.
	l, m, h := math.Inf(1), math.Inf(1), math.Inf(1)
	start := 0.0
	for i := range regions {
		r := &regions[i]
		from, to := start/delta, e
		if r.end > 0 {
			to = min(r.end/delta, e)
		}
		if from >= e {
			break
		}
		f, z := air.within(g, to, delta)
		if z < from { // the least up to here lies in an earlier region
			f = air.volts(from, delta) * (1/from + 1/g)
		}
		low := r.low
		if i == 0 {
			low = smooth
		}
		l, m, h = min(l, f*low), min(m, f*r.median), min(h, f*r.high)
		start = r.end
	}
	return units.ElectricField(l), units.ElectricField(m), units.ElectricField(h)
}

// CapBackedLimits is [CapBacked] with the spread of measured breakdown voltages:
// the median of the cap and the limits that nine of ten voltages give.
func CapBackedLimits(thickness units.Length,
	epsr, delta float64) (low, median, high units.SurfaceChargeDensity) { // epsr, delta [1]
	if !(epsr >= 1) {
		nan := units.SurfaceChargeDensity(math.NaN())
		return nan, nan, nan
	}
	l, m, h := LeastLimits(units.Length(float64(thickness)/epsr), units.Length(math.Inf(1)), delta)
	const e0 = units.Epsilon0
	return units.SurfaceChargeDensity(e0 * l), units.SurfaceChargeDensity(e0 * m), units.SurfaceChargeDensity(e0 * h)
}
