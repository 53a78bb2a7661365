package ionflow_test

import (
	"errors"
	"fmt"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// room is the small ions of a room at their medians.
func room() ionflow.Ions { return ionflow.SmallIons().At(0, 0, 0) }

// Will a passive brush do? Needles of 50 µm, 25 mm from the web, on a bar that is
// itself 25 mm away, do nothing below about 1.1 µC/m² and leave a little more than that; the
// figure is good to a factor 1.6 either way. With the bar's body 100 mm away the same needles start
// at a quarter of it.
func ExampleNewPassive() {
	for _, body := range []units.Length{25 * units.Millimetre, 100 * units.Millimetre} {
		spec := ionflow.PassiveSpec{Tip: 50 * units.Micrometre, Distance: 25 * units.Millimetre, Body: body, Ions: room()}
		onset, volts, flag := spec.Onset()
		brush, err := ionflow.NewPassive(spec)
		if err != nil {
			fmt.Println(err)
			return
		}
		net := 6 * units.MicrocoulombPerSquareMetre
		added, _ := brush.Act(net, 200*units.MetrePerMinute, 0.9)
		fmt.Printf("body at %v: starts at %.1f µC/m² (%.1f kV on the web), leaves %.1f of 6 µC/m²; %v\n",
			body, float64(onset)*1e6, float64(volts)/1e3, float64(net+added)*1e6, flag)
	}
	// Output:
	// body at 25 mm: starts at 1.1 µC/m² (3.2 kV on the web), leaves 1.6 of 6 µC/m²; rests on no published value
	// body at 100 mm: starts at 0.3 µC/m² (3.2 kV on the web), leaves 0.7 of 6 µC/m²; rests on no published value
}

// Which current per metre does a bar need? 10 µC/m² at 10 m/s ask for 100 µA/m at the
// web. A clean bar of 1000 µA/m has five times that up to 20 m/s.
func ExampleDemand() {
	sigma := 10 * units.MicrocoulombPerSquareMetre
	fmt.Printf("%.0f µA/m\n", float64(ionflow.Demand(sigma, 10*units.MetrePerSecond))*1e6)
	fmt.Printf("%.0f m/s\n", float64(ionflow.SpeedForMargin(1000*units.MicroamperePerMetre, sigma, 5)))
	// Output:
	// 100 µA/m
	// 20 m/s
}

// How far may a bar without air stand off? Close by, the space charge of the ions on their
// way limits what a web of 4 m/s loses; farther off, the corona current that the gap lets through;
// and beyond the reach of the bar's own alternating field charge that is too weak to pull its
// ions across in half a period stays.
func ExampleNewUnassisted() {
	emitter, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.AC, Current: 200 * units.MicroamperePerMetre,
		Voltage: 7 * units.Kilovolt, Switch: 50})
	if err != nil {
		fmt.Println(err)
		return
	}
	spec := ionflow.UnassistedSpec{Emitter: emitter, Pitch: 10 * units.Millimetre, Start: 3 * units.Kilovolt,
		Crosswind: 0.5 * units.MetrePerSecond, Ions: room()}
	fmt.Printf("reach %.0f mm\n", float64(spec.Reach())*1e3)
	for _, mm := range []float64{30, 60, 100, 150, 200} {
		spec.Distance = units.Length(mm) * units.Millimetre
		bar, err := ionflow.NewUnassisted(spec)
		if err != nil {
			fmt.Println(err)
			return
		}
		net := 5 * units.MicrocoulombPerSquareMetre
		added, why := bar.Act(net, 4*units.MetrePerSecond, 0.9)
		fmt.Printf("%3.0f mm: efficiency %2.0f %%, %v\n", mm, -100*float64(added)/float64(net), why)
	}
	// Output:
	// reach 99 mm
	//  30 mm: efficiency 83 %, drift-limited
	//  60 mm: efficiency 81 %, drift-limited
	// 100 mm: efficiency 76 %, drift-limited
	// 150 mm: efficiency 62 %, supply-limited
	// 200 mm: efficiency 51 %, supply-limited
}

// airBar is a bar with a row of 1 mm holes, 20 mm apart, that keeps 30 % of 200 µA/m in its
// air.
func airBar(distance units.Length, gauge units.GaugePressure) (ionflow.AirBar, float64) {
	emitter, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.DC, Current: 200 * units.MicroamperePerMetre})
	if err != nil {
		panic(err)
	}
	spec := ionflow.AirBarSpec{Emitter: emitter, Captured: 0.3, Distance: distance, Ions: room(),
		Jet: jet.JetSpec{Kind: jet.Row, Width: units.Millimetre, Pitch: 20 * units.Millimetre}}
	bar, mass, err := spec.Blown(ionflow.Blow{Gauge: gauge, Ambient: units.Atmosphere, Temperature: units.Celsius(20),
		Discharge: 0.7})
	if err != nil {
		panic(err)
	}
	return bar, mass
}

// Blow from 0.3, 0.6 or 1 m, and at which pressure? Whatever the emitters make, recombination
// leaves a current that falls as one over the distance and grows with the momentum of the
// air: a metre away 3 bar brings less than 0.3 bar at 0.1 m.
func ExampleAirBar_At() {
	for _, gauge := range []units.GaugePressure{0.3 * units.BarGauge, 1 * units.BarGauge, 3 * units.BarGauge} {
		for _, x := range []units.Length{0.1, 0.3, 0.6, 1} {
			bar, mass := airBar(x, gauge)
			d := bar.At(x)
			fmt.Printf("%.1f bar, %.1f m: %.2f of at most %.2f µA/m, %.0f L/min ANR per m\n", float64(gauge)/1e5, float64(x),
				float64(d.PlusCurrent)*1e6, float64(d.Recombination)*1e6, float64(jet.ANR.Volume(units.MassFlow(mass)))*60000)
		}
	}
	// Output:
	// 0.3 bar, 0.1 m: 1.22 of at most 1.25 µA/m, 370 L/min ANR per m
	// 0.3 bar, 0.3 m: 0.41 of at most 0.42 µA/m, 370 L/min ANR per m
	// 0.3 bar, 0.6 m: 0.21 of at most 0.21 µA/m, 370 L/min ANR per m
	// 0.3 bar, 1.0 m: 0.12 of at most 0.12 µA/m, 370 L/min ANR per m
	// 1.0 bar, 0.1 m: 3.32 of at most 3.52 µA/m, 661 L/min ANR per m
	// 1.0 bar, 0.3 m: 1.15 of at most 1.17 µA/m, 661 L/min ANR per m
	// 1.0 bar, 0.6 m: 0.58 of at most 0.59 µA/m, 661 L/min ANR per m
	// 1.0 bar, 1.0 m: 0.35 of at most 0.35 µA/m, 661 L/min ANR per m
	// 3.0 bar, 0.1 m: 8.06 of at most 9.32 µA/m, 1318 L/min ANR per m
	// 3.0 bar, 0.3 m: 2.95 of at most 3.11 µA/m, 1318 L/min ANR per m
	// 3.0 bar, 0.6 m: 1.51 of at most 1.55 µA/m, 1318 L/min ANR per m
	// 3.0 bar, 1.0 m: 0.92 of at most 0.93 µA/m, 1318 L/min ANR per m
}

// The farthest place from which a bar still does its work, and the error if there is none.
func ExampleAirBar_FarthestFor() {
	bar, _ := airBar(0.1, 1*units.BarGauge)
	net, v := 2*units.MicrocoulombPerSquareMetre, 60*units.MetrePerMinute
	x, err := bar.FarthestFor(0.5*units.MicrocoulombPerSquareMetre, net, v, 0.9, 0.02, 2)
	fmt.Printf("%.0f mm %v\n", float64(x)*1e3, err)
	_, err = bar.FarthestFor(0.5*units.MicrocoulombPerSquareMetre, net, 10*v, 0.9, 0.02, 2)
	var no *ionflow.UnreachableError
	if errors.As(err, &no) {
		fmt.Printf("at ten times the speed never: %.2f µC/m² stay even at %.0f mm\n", float64(no.Best)*1e6, no.At*1e3)
	}
	// Output:
	// 206 mm <nil>
	// at ten times the speed never: 0.85 µC/m² stay even at 20 mm
}

// What is left after the bar, with its imbalance? A surplus of 5 % positive ions at the source,
// most of which repels itself out of the plume on the way, still leaves the web a little positive.
func ExampleAirBar_Neutraliser() {
	emitter, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.DC, Current: 200 * units.MicroamperePerMetre,
		Balance: 0.05})
	if err != nil {
		fmt.Println(err)
		return
	}
	bar, err := ionflow.NewAirBar(ionflow.AirBarSpec{Emitter: emitter, Captured: 0.01, Distance: 50 * units.Millimetre,
		Ions: room(),
		Jet:  jet.JetSpec{Kind: jet.Row, Width: units.Millimetre, Pitch: 20 * units.Millimetre, Speed: 300}})
	if err != nil {
		fmt.Println(err)
		return
	}
	n, err := bar.Neutraliser()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, net := range []units.SurfaceChargeDensity{1 * units.MicrocoulombPerSquareMetre,
		-1 * units.MicrocoulombPerSquareMetre} {
		added, why := n.Act(net, 0.5*units.MetrePerSecond, 0.9)
		fmt.Printf("%v in, %.1f nC/m² out, %v\n", net, float64(net+added)*1e9, why)
	}
	fmt.Printf("offset %.2f nC/m²\n", float64(n.Spec().Offset)*1e9)
	// Output:
	// 1 µC/m² in, 32.0 nC/m² out, conductivity-limited
	// -1 µC/m² in, 31.7 nC/m² out, conductivity-limited
	// offset 28.78 nC/m²
}

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

// A balanced double layer has no outside field: a bar does nothing, a driven pair clears it.
func ExampleNewDrivenPair() {
	web := ionflow.Faces{Near: 16.5 * units.MicrocoulombPerSquareMetre, Far: -16.5 * units.MicrocoulombPerSquareMetre}
	v := 220 * units.MetrePerMinute
	c := ionflow.Carriers{Conductivity: units.Conductivity(1e-9), Supply: 200 * units.MicroamperePerMetre}
	bar, err := ionflow.NewNeutraliser(ionflow.NeutraliserSpec{Plus: c, Minus: c, Zone: 50 * units.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	after, why := bar.ActOn(web, v, 1)
	fmt.Printf("%.1f and %.1f µC/m² after the bar, %v\n", float64(after.Near)*1e6, float64(after.Far)*1e6, why)
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
	// 16.5 and -16.5 µC/m² after the bar, idle
	// needs -60.5 µA/m on the near face
	// 0 0
}

// A bar 30 mm past a roller sees a quarter of the field of one in the middle of the span.
func ExampleNeutraliser_Act() {
	c := ionflow.Carriers{Conductivity: units.Conductivity(2e-9), Supply: 40 * units.MicroamperePerMetre}
	bar, err := ionflow.NewNeutraliser(ionflow.NeutraliserSpec{Plus: c, Minus: c, Zone: 50 * units.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	net := 3 * units.MicrocoulombPerSquareMetre
	for _, factor := range []float64{0.25, 0.9} {
		added, why := bar.Act(net, 220*units.MetrePerMinute, factor)
		fmt.Printf("factor %.2f: %.2f µC/m² left, %v\n", factor, float64(net+added)*1e6, why)
	}
	// Output:
	// factor 0.25: 1.54 µC/m² left, conductivity-limited
	// factor 0.90: 0.37 µC/m² left, conductivity-limited
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
	fmt.Println(e.Notices()[2])
	// Output:
	// 200 mm 40 mm false
	// a corona makes ozone, the more the dirtier its points. Consult the occupational exposure limit of the place (for example 29 CFR 1910.1000, 0.1 ppm over 8 h). To decide by a competent person: ventilation and a measurement at the workplace.
}
