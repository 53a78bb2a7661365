package decay_test

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/decay"
	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// How long until this roll can be slit? A roll of film on an earthed metal core,
// charged in winding. The resistivity of such films is known to a decade, so the
// answer is a range; and without earthed metal in the core there is none.
func Example_slitRoll() {
	// 1e14 Ω·m, a decade either way in nine of ten films (from memory).
	rho := known.Band{Value: 1e14, Spread: math.Ln10 / known.Z95, Kind: known.LogNormal}
	tau, err := decay.RelaxationBand(rho, 3.2) // PET: εr 3.0 … 3.3, from memory
	if err != nil {
		fmt.Println(err)
		return
	}
	lo, hi := tau.Limits()
	for _, t := range []float64{lo, tau.Value, hi} {
		law, err := decay.NewExponential(units.Time(t))
		if err != nil {
			fmt.Println(err)
			return
		}
		half, err := law.TimeTo(0.5)
		if err != nil {
			fmt.Println(err)
			return
		}
		tenth, err := law.TimeTo(0.1)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("half in %.1f min, a tenth left after %.1f h\n", float64(half/units.Minute), float64(tenth/units.Hour))
	}
	left, err := decay.LeftAfter(1*units.Hour, tau, decay.EarthedBacking)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("after an hour %.0f %% is left (%.0f … %.0f %%)\n", 100*left.Median, 100*left.Least, 100*left.Most)
	_, err = decay.TimeTo(decay.Constant(1), 0.1)
	fmt.Println("on an insulating core:", err)
	// Output:
	// half in 3.3 min, a tenth left after 0.2 h
	// half in 32.7 min, a tenth left after 1.8 h
	// half in 327.3 min, a tenth left after 18.1 h
	// after an hour 28 % is left (0 … 88 %)
	// on an insulating core: the decay never reaches 0.1 of its start value: it stays at or above 1
}

// What will the probe show? A line of charge on a plain ohmic sheet of 1e12 Ω in a
// free span, a probe 20 mm above it: a hyperbola, with nothing trapped and nothing
// lost. An exponential of the same 1/e time would be at a tenth far sooner.
func Example_probe() {
	v := sheet.SpreadingSpeed(1e12) // 1/(2·ε0·ρs) = 56 mm/s
	law, err := decay.NewLineUnderProbe(20*units.Millimetre, v)
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := law.TimeTo(1 / math.E)
	if err != nil {
		fmt.Println(err)
		return
	}
	tenth, err := law.TimeTo(0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1/e after %.2f s, a tenth after %.2f s: ratio %.2f, exponential 2.30\n", float64(e), float64(tenth),
		float64(tenth/e))
	// Output:
	// 1/e after 0.61 s, a tenth after 3.19 s: ratio 5.24, exponential 2.30
}

// Fit a record: eight laws at once, the best by AICc, the interval of its time,
// and what the record does not prove.
func ExampleFitDecay() {
	// Demonstration data, invented: a hyperbola with k·V0 = 0.5 1/s read to ±2 V.
	t := []units.Time{0.1, 0.2, 0.4, 0.8, 1.5, 3, 6, 12, 25, 50}
	v := []units.Voltage{953, 908, 834, 713, 572, 401, 249, 143, 75, 37}
	c, err := decay.FitDecay(t, v, decay.FitSettings{Abs: 2, Known: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	best := c.Best()
	k, _ := best.Param("k_v0")
	fmt.Printf("%v: V0 %.0f V, k·V0 %.2f 1/s (%.2f … %.2f)\n", best.Model(), float64(best.V0()), k.Value, k.Low, k.High)
	for _, x := range c.Findings() {
		fmt.Println("-", x)
	}
	tt, err := c.TimeToVoltage(100)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("100 V after %.0f s, extrapolated: %v\n", float64(tt.Best), tt.Extrapolated)
	// Output:
	// hyperbola: V0 1000 V, k·V0 0.50 1/s (0.49 … 0.51)
	// - a hyperbola fits, which does not prove mobility or trapping: ohmic spreading on a free sheet reads the same
	// 100 V after 18 s, extrapolated: false
}

// How long must the record be? 31 equal steps, readings good to 1 % of the start:
// over three time constants τ comes out to 0.9 %, over 0.3 of one to 2.3 %.
func ExamplePlanFit() {
	for _, span := range []float64{3, 0.3} {
		t := make([]units.Time, 31)
		for i := range t {
			t[i] = units.Time(span * float64(i) / 30)
		}
		p, err := decay.PlanFit(decay.ModelExponential, []float64{1000, 1}, t, decay.FitSettings{Abs: 10})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s ± %.2f %%\n", p[1].Name, 100*p[1].Err)
	}
	// Output:
	// tau ± 0.89 %
	// tau ± 2.34 %
}

// A laminate of two ideal layers on earth shows two time constants.
func ExampleNewStack() {
	stack, err := decay.NewStack(
		decay.Layer{Thickness: 80 * units.Micrometre, Permittivity: 3, Resistivity: 2e13},
		decay.Layer{Thickness: 20 * units.Micrometre, Permittivity: 6, Resistivity: 1e12})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range stack.Law().Len() {
		w, tau := stack.Law().Term(i)
		fmt.Printf("%.3f of the voltage in %.0f s\n", w, float64(tau))
	}
	// (80/3)/(80/3 + 20/6) = 0.889; 8.854e-12·3·2e13 = 531 s
	// Output:
	// 0.889 of the voltage in 531 s
	// 0.111 of the voltage in 53 s
}

// A fuel of 0.01 pS/m: the ohmic law says half an hour and is refused; measured is
// 5 % after 100 s, a hyperbola.
func ExampleNewLiquid() {
	_, err := decay.NewLiquid(1e-14, 2.2)
	var low *decay.ConductivityError
	fmt.Println("refused:", errors.As(err, &low))
	law, err := decay.HyperbolicThrough(0.05, 100*units.Second)
	if err != nil {
		fmt.Println(err)
		return
	}
	half, err := law.TimeTo(0.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("half after %.1f s\n", float64(half)) // (1/0.05 − 1)/100 = 0.19 1/s; 1/0.19 = 5.3 s
	// Output:
	// refused: true
	// half after 5.3 s
}

// The ring of the packaging standards makes ten squares: 1e11 Ω between its
// electrodes is 1e12 Ω per square.
func ExampleNewRing() {
	ring, err := decay.NewRing(30.48*units.Millimetre, 57.15*units.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("factor %.2f, 1e11 Ω is %.2g Ω/sq\n", ring.Factor(), float64(ring.SheetResistance(1e11)))
	class, err := decay.ClassIEC61340_5_3.OfRing(1e11)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = decay.ClassEIA541.OfRing(1e11)
	fmt.Println(class)
	fmt.Println(err)
	// Output:
	// factor 10.00, 1e11 Ω is 1e+12 Ω/sq
	// insulating
	// measure: resistance (Ω): want surface resistivity (Ω/sq) for EIA-541 (packaging, old)
}

// A balance of +35 V lengthens the fall from 1000 to 100 V by a sixth: ln(965/65)
// is 2.70 time constants, not 2.30.
func ExamplePlateDecayTime() {
	for _, vb := range []units.Voltage{0, 35, 100} {
		t, err := decay.PlateDecayTime(1, 1000, 100, vb)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%v: %.2f time constants\n", vb, float64(t))
	}
	// Output:
	// 0 V: 2.30 time constants
	// 35 V: 2.70 time constants
	// the decay never reaches 0.1 of its start value: it stays at or above 0.1
}

// A law of one's own is a closure; composition takes it like any other. Bulk
// leak and air ions act on the same plate at the same time: rates add.
func ExampleNewParallel() {
	bulk, err := decay.NewExponential(30)
	if err != nil {
		fmt.Println(err)
		return
	}
	air := decay.Function(func(t units.Time) float64 { return math.Exp(-max(float64(t), 0) / 60) })
	both, err := decay.NewParallel(bulk, air)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := decay.TimeTo(both, 1/math.E) // 1/(1/30 + 1/60) = 20 s
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f s\n", float64(t))
	// Output:
	// 20.0 s
}

// A stretched decay that began 100 s before the first reading looks slower than it
// was: a tenth of the first reading is not a tenth of the deposit.
func ExampleAfter() {
	law, err := decay.NewStretched(50*units.Second, 0.6)
	if err != nil {
		fmt.Println(err)
		return
	}
	late, err := decay.After(law, 100*units.Second)
	if err != nil {
		fmt.Println(err)
		return
	}
	fresh, err := decay.TimeTo(law, 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	aged, err := decay.TimeTo(late, 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a tenth after %.0f s fresh, %.0f s aged\n", float64(fresh), float64(aged))
	// 50·(ln 10)^(1/0.6) = 201; (100^0.6 + 50^0.6·ln 10)^(1/0.6) − 100 = 336
	// Output:
	// a tenth after 201 s fresh, 336 s aged
}

// A film charged on one face in a free span: the faces share the charge within
// the bulk time, and the net charge, which is what a field meter sees, stays.
func ExampleNewFloatingFilm() {
	film := decay.ConductingFilm{Layer: decay.Layer{Thickness: 20 * units.Micrometre, Permittivity: 2.2,
		Resistivity: 1e13}}
	f, err := decay.NewFloatingFilm(film, 1*units.Metre)
	if err != nil {
		fmt.Println(err)
		return
	}
	a, b := f.At(10*film.Tau(), 10*units.MicrocoulombPerSquareMetre, 0)
	fmt.Printf("after ten bulk times: %.2f and %.2f µC/m²\n", 1e6*float64(a), 1e6*float64(b))
	// Output:
	// after ten bulk times: 4.99 and 4.99 µC/m²
}
