package hazard

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Induced returns what a person or another isolated conductor takes on when a
// field of charged goods grows at it from 0 to E within the time T, for example
// on walking up to a winding roll. The field ends on the effective area A of
// the body, ε0·E·A, and drives that much charge of the same sign to earth
// through the body's resistance:
//
//	V = (ε0·E·A/C)·(1 − e^(−x))/x,  x = T/(R·C)
//
// the voltage at the end of the growth, cut at the sparkover voltage; sudden
// growth (T = 0) gives ε0·E·A/C, slow growth V = I·R with I = ε0·E·A/T. A is the
// area that the field lines reach, between the silhouette and several times it;
// the result is proportional to it, so take it as a band. E may have either
// sign. A negative area or time gives NaN.
func (c Conductor) Induced(field units.ElectricField, area units.Area, within units.Time) ChargedConductor {
	s := &c.spec
	tau := float64(s.Resistance) * float64(s.Capacitance)
	q := units.Epsilon0 * float64(field) * float64(area)
	x := float64(within) / tau
	share := 1.0
	if x != 0 {
		share = -math.Expm1(-x) / x
	}
	if !(area >= 0 && within >= 0) {
		share = math.NaN()
	}
	r := ChargedConductor{Voltage: units.Voltage(q / float64(s.Capacitance) * share), TimeConstant: units.Time(tau)}
	if u := float64(s.Sparkover); u > 0 && math.Abs(float64(r.Voltage)) >= u {
		r.Sparks = true
		r.Voltage = units.Voltage(math.Copysign(u, float64(r.Voltage)))
	}
	r.Energy = c.Energy(r.Voltage)
	return r
}

// ShockModel is a distribution over people of the least energy of a spark that
// is felt: log-normal, because thresholds differ by factors.
type ShockModel struct {
	Median units.Energy // half of the people feel a spark of this energy
	// LogSD is the standard deviation of the natural logarithm of the threshold
	// energy. [1]
	LogSD  float64
	Source known.Source // where the distribution comes from
}

// DefaultShockModel returns the distribution with the median at 2.5 kV on
// 100 pF, 0.31 mJ, and 5 … 95 % of people between 1.5 and 4 kV on 100 pF. The
// ends are thresholds named by different sources (1.5 kV common practice without
// source; 2–4 kV and 3 kV published), the shape is a judgement, not a measured
// distribution.
func DefaultShockModel() ShockModel {
	return ShockModel{
		Median: units.Energy(0.5 * 100e-12 * 2500 * 2500),
		// ln V has the 5 … 95 % width ln(4/1.5); energy goes with V².
		LogSD: 2 * math.Log(4.0/1.5) / (2 * known.Z95),
		Source: known.Source{Provenance: known.CommonPractice,
			Cite: "range of the thresholds 1.5 kV (trade), 3 kV at 90 pF (Japanese guideline on static electricity, 1988), 4 kV",
			Note: "shape and median are a judgement"},
	}
}

// Check returns the joined [*known.FieldError]s: median and LogSD above 0 and
// finite.
func (m ShockModel) Check() error {
	return errors.Join(known.Positive("shock.median", m.Median), known.Positive("shock.log_sd", units.Ratio(m.LogSD)))
}

// Felt returns the share of people that feel a spark of the energy w from a
// conductor, Φ(ln(w/median)/LogSD). 0 for no energy; negative and NaN give NaN.
// It is no measure of harm: see [NoticeShock].
func (m ShockModel) Felt(w units.Energy) float64 { // [1]
	if !(w >= 0) {
		return math.NaN()
	}
	return 0.5 * math.Erfc(-math.Log(float64(w)/float64(m.Median))/(m.LogSD*math.Sqrt2))
}

// ShockHarmEnergy and ShockHarmCharge are the published figures above which an
// electrostatic discharge through the body is itself counted as a hazard; a
// recoil can injure far below.
// Source: TRBS 2131, section 6 (50 µC, 350 mJ).
const (
	ShockHarmEnergy units.Energy = 350 * units.Millijoule
	ShockHarmCharge units.Charge = 50 * units.Microcoulomb
)
