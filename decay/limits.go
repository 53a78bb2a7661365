package decay

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// PassLimit is the decay requirement of a test method: to a fraction of the
// start voltage within a time.
type PassLimit struct {
	Name     string        // standard and edition
	Start    units.Voltage // start voltage of the method, either sign; 0 if it sets none
	Fraction float64       // [1] of the start (or first) voltage that must be reached
	Within   units.Time    // greatest time
	Climate  string        // temperature and humidity of the test, where known
	Source   known.Source  // where the limit was found
}

// Tau returns the relaxation time of the exponential decay that just passes,
//
//	τ = t/ln(1/f)
//
// A decay that is not exponential can pass with another initial slope: compare
// [TimeTo] with Within instead.
func (p PassLimit) Tau() units.Time { return LimitTau(p.Fraction, p.Within) }

// LimitTau returns t/ln(1/f), the relaxation time of the exponential that
// reaches the fraction f in the time t. NaN unless 0 < f < 1 and t > 0.
func LimitTau(f float64, t units.Time) units.Time { // f [1]
	if !(f > 0 && f < 1) || !(t > 0) {
		return units.Time(math.NaN())
	}
	return units.Time(float64(t) / -math.Log(f))
}

// Passes reports whether the law reaches the fraction in the time, and when it
// does; an error as from [TimeTo] if it never does.
func (p PassLimit) Passes(law Law) (bool, units.Time, error) {
	t, err := TimeTo(law, p.Fraction)
	return err == nil && t <= p.Within, t, err
}

// PassLimits lists limits of test methods. None was compared with its standard:
// read the one in force, whose geometry, climate and conditioning belong to the
// limit.
func PassLimits() []PassLimit {
	uncompared := func(cite, note string) known.Source {
		return known.Source{Provenance: known.Memory, Cite: cite, Note: "not compared with the standard; " + note}
	}
	return []PassLimit{
		{"MIL-PRF-81705D", 5000 * units.Volt, 0.01, 2 * units.Second, "23 °C, 12 %RH (FED-STD-101C method 4046)",
			uncompared("MIL-PRF-81705D", "±5 kV to 1 % in 2 s")},
		{"EIA-541", 5000 * units.Volt, 0.01, 2 * units.Second, "", uncompared("EIA-541", "±5 kV to 50 V in 2 s")},
		{"NFPA 99", 5000 * units.Volt, 0.1, 0.5 * units.Second, "23 °C, 50 %RH", uncompared("NFPA 99", "to 10 % in 0.5 s")},
		{"MIL-DTL-44031E 4.5.4.4", 5000 * units.Volt, 0.1, 0.5 * units.Second, "",
			uncompared("MIL-DTL-44031E clause 4.5.4.4",
				"5000 V for 20 s, to 10 % in less than 0.5 s; the specimen must accept 4000 V")},
		{"EN 1149-5 (half decay by EN 1149-3, induction)", 0, 0.5, 4 * units.Second, "",
			uncompared("EN 1149-5", "t50 below 4 s; a shielding factor above 0.2 also passes")},
		{"IEC 61340-5-1:2016, ioniser", 1000 * units.Volt, 0.1, 20 * units.Second, "",
			uncompared("IEC 61340-5-1:2016 table 3", "offset within ±35 V must pass as well")},
	}
}
