package ionflow_test

import (
	"fmt"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// room is the small ions of a room at their medians.
func room() ionflow.Ions { return ionflow.SmallIons().At(0, 0, 0) }

// How dirty before it fails? A bar that has fallen from 200 to 160 µA/m in 30 days of work and
// needs 100 µA/m reaches that limit after 93 days, 67 if it gets dirty fast.
func ExampleTimeToLimit() {
	rate := ionflow.AgeingRate(200*units.MicroamperePerMetre, 160*units.MicroamperePerMetre, 30*units.Day)
	median, early, late := ionflow.TimeToLimit(200*units.MicroamperePerMetre, 100*units.MicroamperePerMetre,
		known.Band{Value: float64(rate), Spread: 0.2, Kind: known.LogNormal})
	fmt.Printf("%.0f days (5–95 %%: %.0f to %.0f)\n", float64(median)/86400, float64(early)/86400, float64(late)/86400)
	// Output: 93 days (5–95 %: 67 to 129)
}

// What does a filling station need? Sixty invented doses of 12 g a minute with −8 nC/g carry
// 96 nA; half a second in the plume asks for 192 nA while the cup is there. A nozzle at 0.4 m whose
// air arrives with 10 m/s over 50 cm² brings 125 nA at best, and the cup, which draws from far beyond
// the plume, gets two thirds of its charge back.
func ExampleCollect() {
	doses := ionflow.PowderDemand(units.MassFlow(12e-3), units.ChargePerMass(-8e-6)) // 12 g/s, −8 nC/g
	q := -96 * units.Nanocoulomb
	plume := units.Area(50e-4) // 50 cm²
	supply := units.Current(float64(ionflow.RecombinationLimit(room().Alpha, 10*units.MetrePerSecond,
		400*units.Millimetre)) * float64(plume))
	n := units.NumberDensity(float64(supply) / (units.ElementaryCharge * 10 * float64(plume))) // carried at 10 m/s
	taken, why := ionflow.Collect(q, 0.5*units.Second, 1, ionflow.PolarConductivity(n, room().Plus), supply)
	fmt.Printf("%.0f nA as doses; plume brings %.0f nA; takes %.0f of −96 nC (%v)\n", float64(doses)*1e9,
		float64(supply)*1e9, float64(taken)*1e9, why)
	fmt.Printf("draws from %.1f times the plume\n", float64(ionflow.CaptureArea(q, room().Plus, 10*units.MetrePerSecond))/
		float64(plume))
	// Output:
	// -96 nA as doses; plume brings 125 nA; takes 60 of −96 nC (supply-limited)
	// draws from 30.4 times the plume
}

// A balanced double layer has no outside field, so that no source that sees the net does anything; a driven pair
// clears it.
func ExampleNewDrivenPair() {
	web := ionflow.Faces{Near: 16.5 * units.MicrocoulombPerSquareMetre, Far: -16.5 * units.MicrocoulombPerSquareMetre}
	v := 220 * units.MetrePerMinute
	spec, err := ionflow.PairFor(web, v)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("needs %.1f µA/m on the near face\n", float64(spec.Current)*1e6)
	pair, err := ionflow.NewDrivenPair(spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	d := pair.Act(v)
	fmt.Printf("%.3g %.3g\n", float64(web.Near+d.Near), float64(web.Far+d.Far))
	// Output:
	// needs -60.5 µA/m on the near face
	// 0 0
}

// Ion density at the age of 10 ms cannot exceed either ceiling, whatever the source.
func ExampleRecombine() {
	t := 10 * units.Millisecond
	fmt.Printf("%.3g\n", float64(ionflow.Recombine(1e13, 1.6e-12, t))) // 1e13/1.16
	fmt.Printf("%.3g\n", float64(ionflow.RecombinationCeiling(1.6e-12, t)))
	fmt.Printf("%.3g\n", float64(ionflow.RepulsionCeiling(1.4e-4, t)))
	// Output:
	// 8.62e+12
	// 6.25e+13
	// 3.95e+13
}

// A population through a bent duct with walls, then a free jet, by one integrator.
func ExamplePath() {
	j, err := jet.NewJet(jet.JetSpec{Kind: jet.Plane, Width: 2 * units.Millimetre, Speed: 30 * units.MetrePerSecond})
	if err != nil {
		fmt.Println(err)
		return
	}
	free := ionflow.InFreeJet{Jet: j}
	way := ionflow.WayFunc(func(x units.Length) ionflow.Local {
		if x < 0.1 {
			return ionflow.Local{Speed: 30 * units.MetrePerSecond, LossPlus: 40, LossMinus: 40}
		}
		return free.At(x - 0.1)
	})
	a, err := ionflow.Path(way, room(), 2e13, 2e13, 0.4, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2g per m³ after %.0f ms, ruled by %v\n", float64(a.Plus), float64(a.Age)*1e3, a.PlusLoss.Ruled())
	// Output:
	// 1.8e+12 per m³ after 49 ms, ruled by dilution
}

// An AC source at 50 Hz leaves stripes 40 mm apart on a web of 2 m/s, in bunches of 0.2 m in the air.
func ExampleStripe() {
	e, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.AC, Current: 100 * units.MicroamperePerMetre,
		Switch: 50})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(e.BunchPitch(10*units.MetrePerSecond), e.StripePitch(2*units.MetrePerSecond),
		e.Mixes(10*units.MetrePerSecond, 60*units.Millimetre))
	ozone := e.Notices()[2] // with whom to consult and what to decide
	fmt.Printf("%s: %s\n", ozone.Code, ozone.Condition)
	// Output:
	// 200 mm 40 mm false
	// ozone: Corona makes ozone; negative corona and dirty pins make more
}
