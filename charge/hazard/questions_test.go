package hazard_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/pithball/charge/field"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/units"
)

// The lines of these examples are invented.

func conductor(s hazard.ConductorSpec) hazard.Conductor {
	c, err := hazard.NewConductor(s)
	if err != nil {
		panic(err)
	}
	return c
}

// idler is what an idler of 180 pF charges to, isolated by r, at a change of its web of 1.25 m
// at a speed [m/min].
func idler(change units.SurfaceChargeDensity, speed float64, r units.Resistance,
	spark units.Voltage) hazard.ChargedConductor {
	c := conductor(hazard.ConductorSpec{Body: hazard.Metal, Capacitance: 180 * units.Picofarad, Resistance: r,
		Sparkover: spark})
	return c.Charged(field.RollerCurrent(change, units.Speed(speed)*units.MetrePerMinute, 1.25))
}

const idlerChange = 0.4 * units.MicrocoulombPerSquareMetre

// Question 31: the voltage of an ungrounded roller? It gives the web 0.4 ± 0.1
// µC/m² at 220 m/min and keeps the opposite.
func Example_question31() {
	s := idler(idlerChange, 220, 4*units.Gigohm, 0)
	lo, hi := idler(0.236e-6, 220, 4*units.Gigohm, 0), idler(0.564e-6, 220, 4*units.Gigohm, 0)
	fmt.Printf("%.1f kV (%.1f … %.1f), %.1f mJ (%.1f … %.1f), after about %.1f s\n", float64(s.Voltage)/1e3,
		float64(lo.Voltage)/1e3,
		float64(hi.Voltage)/1e3, float64(s.Energy)*1e3, float64(lo.Energy)*1e3, float64(hi.Energy)*1e3,
		float64(s.TimeConstant))
	// Output: -7.3 kV (-4.3 … -10.3), 4.8 mJ (1.7 … 9.6), after about 0.7 s
}

// By hand: 0.4e-6·3.667·1.25 = 1.833 µA, over 4 GΩ 7.33 kV, ½·180 pF·V² = 4.84 mJ, RC 0.72 s.
func TestQuestion31(t *testing.T) {
	s := idler(idlerChange, 220, 4*units.Gigohm, 0)
	if !(math.Abs(float64(s.Voltage)+7333.3) <= 1) || !(math.Abs(float64(s.Energy)-4.84e-3) <= 1e-5) ||
		!(math.Abs(float64(s.TimeConstant)-0.72) <= 1e-9) {
		t.Errorf("%+v", s)
	}
	if earthed := idler(idlerChange, 220, units.Megohm, 0); !(math.Abs(float64(earthed.Voltage)+1.8333) <= 1e-3) {
		t.Errorf("earthed: %v", earthed.Voltage)
	}
	if fast := idler(idlerChange, 440, 4*units.Gigohm, 0); !(fast.Voltage < s.Voltage) {
		t.Error("a faster web does not charge more")
	}
}

// enough is the resistance that keeps a conductor below a voltage at a current.
func enough(most units.Voltage, by units.Current) units.Resistance {
	return units.Resistance(float64(most) / math.Abs(float64(by)))
}

// worst is the current of a roller of this line [A] at a charge per area.
func worst(uC float64) units.Current {
	return field.RollerCurrent(units.SurfaceChargeDensity(uC)*units.MicrocoulombPerSquareMetre,
		300*units.MetrePerMinute, 1.25)
}

// Question 32: what resistance to ground is low enough? The web gives 20 ± 5 µC/m² at most; worst currents of
// industry reach 0.1 mA.
func Example_question32() {
	mega := func(i units.Current) float64 { return float64(enough(100, i)) / 1e6 }
	fmt.Printf("below 100 V at this line's worst %.0f µA: %.1f MΩ (%.1f … %.1f); "+
		"at 100 µA %.0f MΩ, the usual limit for static\n",
		math.Abs(float64(worst(20)))*1e6, mega(worst(20)), mega(worst(25)), mega(worst(15)), mega(1e-4))
	// Output: below 100 V at this line's worst 125 µA: 0.8 MΩ (0.6 … 1.1); at 100 µA 1 MΩ, the usual limit for static
}

func TestQuestion32(t *testing.T) {
	r := enough(100, 1e-4)
	c := conductor(hazard.ConductorSpec{Body: hazard.Metal, Capacitance: 200 * units.Picofarad, Resistance: r})
	if v := c.Charged(1e-4).Voltage; !(math.Abs(float64(v)-100) <= 1e-9) || enough(100, 2e-4) >= r {
		t.Errorf("%v at %v", v, r)
	}
	if i := worst(20); !(math.Abs(math.Abs(float64(i))-125e-6) <= 1e-9) || enough(100, worst(25)) >= enough(100, i) {
		t.Errorf("%v: 20 µC/m² · 5 m/s · 1.25 m are 125 µA", i)
	}
}

// walker is a person of 150 pF who walks up to the roll within a second.
func walker(fieldAt units.ElectricField, shoes units.Resistance) hazard.ChargedConductor {
	p := conductor(hazard.ConductorSpec{Body: hazard.Person, Capacitance: 150 * units.Picofarad, Resistance: shoes})
	return p.Induced(fieldAt, 0.5, 1)
}

// Question 34: what voltage does a person pick up beside the roll? The area that its field
// reaches is known to a factor of two.
func Example_question34() {
	s := walker(100*units.KilovoltPerMetre, 10*units.Gigohm)
	fmt.Printf("%.1f kV (%.1f … %.1f), %.2f mJ, felt by %.0f %% of people; in conductive shoes of 100 MΩ %.2f kV\n",
		float64(s.Voltage)/1e3, float64(s.Voltage)/2e3, float64(s.Voltage)/0.5e3, float64(s.Energy)*1e3,
		100*hazard.FeltThreshold().Share(s.Energy), float64(walker(100*units.KilovoltPerMetre, 100*units.Megohm).Voltage)/1e3)
	// Output: 2.2 kV (1.1 … 4.3), 0.35 mJ, felt by 99 % of people; in conductive shoes of 100 MΩ 0.04 kV
}

func TestQuestion34(t *testing.T) {
	s, half := walker(1e5, 1e10), walker(0.5e5, 1e10)
	if !(math.Abs(float64(half.Voltage)/float64(s.Voltage)-0.5) <= 1e-9) || walker(1e5, 1e8).Voltage >= half.Voltage {
		t.Errorf("%v %v", s.Voltage, half.Voltage)
	}
}

// Question 42: will the sensor trip from sparks? The idler sparks over at 7 kV.
func Example_question42() {
	s, more := idler(idlerChange, 220, 4*units.Gigohm, 7*units.Kilovolt),
		idler(1.1*idlerChange, 220, 4*units.Gigohm, 7*units.Kilovolt)
	less := "none"
	if x := idler(0.9*idlerChange, 220, 4*units.Gigohm, 7*units.Kilovolt); x.Sparks {
		less = x.SparkEvery.String()
	}
	fmt.Printf("a spark of %.2f µC every %.1f s (%.1f s … %s for ± 10 %% of charge): trips in that rhythm, gone when "+
		"earthed\n",
		180e-12*7e3*1e6, float64(s.SparkEvery), float64(more.SparkEvery), less)
	// Output: a spark of 1.26 µC every 2.2 s (1.5 s … none for ± 10 % of charge): trips in that rhythm, gone when earthed
}

// −RC·ln(1 − 7/7.333) = 2.226 s and −RC·ln(1 − 7/14.667) = 0.467 s.
func TestQuestion42(t *testing.T) {
	s, fast := idler(idlerChange, 220, 4*units.Gigohm, 7*units.Kilovolt),
		idler(2*idlerChange, 220, 4*units.Gigohm, 7*units.Kilovolt)
	if !(math.Abs(float64(s.SparkEvery)-2.22562) <= 0.01) || !(math.Abs(float64(fast.SparkEvery)-0.467059) <= 0.002) {
		t.Errorf("%v %v", s.SparkEvery, fast.SparkEvery)
	}
	if earthed := idler(idlerChange, 220, units.Megohm, 7*units.Kilovolt); earthed.Sparks {
		t.Error("an earthed roller sparks")
	}
}
