package ioniser_test

import (
	"errors"
	"fmt"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The sources of these examples are invented.

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// bar is a powered bar of ±7 kV with points 10 mm apart, without air.
func bar(distance units.Length) ioniser.Spec {
	return ioniser.Spec{
		Emitter: must(ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.DC,
			Current: 300 * units.MicroamperePerMetre, Voltage: 7 * units.Kilovolt})),
		Points: ioniser.Points{Pitch: 10 * units.Millimetre, Start: 3.5 * units.Kilovolt},
		Ions:   ionflow.SmallIons().At(0, 0, 0), Distance: distance,
	}
}

// blown is the same bar with a row of 1 mm holes 20 mm apart, of whose emission the air took 30 % at 205 m/s.
func blown(distance units.Length, gauge units.GaugePressure) (ioniser.Spec, float64) {
	s := bar(distance)
	stream, mass := holes(gauge)
	s.Air = ioniser.BlownAir{Stream: stream, Captured: 0.3, At: 205 * units.MetrePerSecond}
	return s, mass
}

func place(s ioniser.Spec, gap units.Length) *ioniser.Place {
	return must(must(ioniser.New(s)).At(gap))
}

const (
	span = 300 * units.Millimetre // gap behind the web in the middle of a span
	uC   = units.MicrocoulombPerSquareMetre
)

func micro(x units.SurfaceChargeDensity) float64 { return float64(x) * 1e6 }

// Will a passive brush do? Points of 50 µm at 25 mm, 5 mm apart, shield each other and leave 1.1 to 1.6 µC/m² at best,
// however slow the web and wherever their body; one such point in a free span would start at a fifth of that.
func ExamplePlace_DeadBand() {
	for _, body := range []units.Length{50 * units.Millimetre, 300 * units.Millimetre} {
		for _, pitch := range []units.Length{5 * units.Millimetre, 100 * units.Millimetre} {
			p := place(ioniser.Spec{Distance: 25 * units.Millimetre, Ions: ionflow.SmallIons().At(0, 0, 0),
				Points: ioniser.Points{Pitch: pitch, Body: body, Tip: 50 * units.Micrometre}}, span)
			_, onset := p.DeadBand()
			r := p.Act(5*uC, 2*units.MetrePerSecond)
			fmt.Printf("body at %v, %v apart: starts at %.2f, leaves %.2f of 5 µC/m² (%v; %v)\n", body, pitch, micro(onset),
				micro(r.Left), r.Regime, r.Validity)
		}
	}
	// Output:
	// body at 50 mm, 5 mm apart: starts at 1.61, leaves 1.61 of 5 µC/m² (drawn by the field of the points; rests on no published value, an estimate)
	// body at 50 mm, 100 mm apart: starts at 1.32, leaves 1.32 of 5 µC/m² (drawn by the field of the points; rests on no published value)
	// body at 300 mm, 5 mm apart: starts at 1.15, leaves 1.15 of 5 µC/m² (drawn by the field of the points; rests on no published value, an estimate)
	// body at 300 mm, 100 mm apart: starts at 0.21, leaves 0.24 of 5 µC/m² (drawn by the field of the points; rests on no published value)
}

// Bar current needed per metre? More than the web's demand σ·v of 6 µA/m.
func ExampleSpec_LeastCurrent() {
	s, _ := blown(100*units.Millimetre, 0.3*units.BarGauge)
	w := ioniser.Web{Net: 3 * uC, Speed: 2 * units.MetrePerSecond, Gap: span}
	i, err := s.LeastCurrent(0.3*uC, w, units.MicroamperePerMetre, 1000*units.MicroamperePerMetre)
	fmt.Printf("%.0f µA/m per polarity, demand %.0f µA/m; %v %v\n", float64(i.Value)*1e6,
		float64(w.Net.Current(w.Speed))*1e6, i.Validity, err)
	// Output:
	// 9 µA/m per polarity, demand 6 µA/m; rests on no published value, an estimate <nil>
}

// Distance of an unassisted bar? It works within about 50 mm on a web of 10 m/s.
func ExampleSpec_Farthest() {
	for _, mm := range []float64{20, 30, 50, 75, 100} {
		p := place(bar(units.Length(mm)*units.Millimetre), span)
		var share [3]units.Ratio
		for k, v := range []units.Speed{5, 10, 20} {
			share[k], _ = p.Efficiency(3*uC, v)
		}
		fmt.Printf("%.0f mm: %.1f %.1f %.1f %% of 3 µC/m² at 5, 10, 20 m/s\n", mm, 100*float64(share[0]),
			100*float64(share[1]), 100*float64(share[2]))
	}
	x, err := bar(30*units.Millimetre).Farthest(0.15*uC, ioniser.Web{Net: 3 * uC,
		Speed: 10 * units.MetrePerSecond, Gap: span}, 10*units.Millimetre, 500*units.Millimetre)
	fmt.Printf("95 %% at 10 m/s up to %.0f mm %v\n", float64(x.Value)*1e3, err)
	_, err = bar(30*units.Millimetre).Farthest(0.001*uC, ioniser.Web{Net: 3 * uC,
		Speed: 50 * units.MetrePerSecond, Gap: span}, 10*units.Millimetre, 500*units.Millimetre)
	var no *ioniser.UnreachableError
	fmt.Println(errors.As(err, &no))
	// Output:
	// 20 mm: 100.0 99.7 92.4 % of 3 µC/m² at 5, 10, 20 m/s
	// 30 mm: 100.0 97.6 82.5 % of 3 µC/m² at 5, 10, 20 m/s
	// 50 mm: 99.0 89.4 67.1 % of 3 µC/m² at 5, 10, 20 m/s
	// 75 mm: 95.3 79.1 56.5 % of 3 µC/m² at 5, 10, 20 m/s
	// 100 mm: 90.3 71.9 50.4 % of 3 µC/m² at 5, 10, 20 m/s
	// 95 % at 10 m/s up to 37 mm <nil>
	// true
}

// Blow from 0.3, 0.6 or 1 m, and at what pressure?
func ExamplePlace_Act() {
	for _, gauge := range []units.GaugePressure{0.3 * units.BarGauge, 1 * units.BarGauge, 3 * units.BarGauge} {
		for _, x := range []units.Length{0.1, 0.3, 0.6, 1} {
			s, mass := blown(x, gauge)
			p := place(s, span)
			net := 1 * uC
			alone, all := p.Bracket(net, 1*units.MetrePerSecond)
			most, least := p.Band(net, 1*units.MetrePerSecond)
			fmt.Printf("%.1f bar, %.1f m: delivers %.2f µA/m, leaves %.2f (%.2f … %.2f) of 1 µC/m² (stream alone %.2f), "+
				"%.0f L/min ANR per m\n  %v, %v\n", float64(gauge)/1e5, float64(x), float64(p.Current(net))*1e6,
				micro(all.Left), micro(least.Left), micro(most.Left), micro(alone.Left),
				float64(jet.Standard(units.MassFlow(mass), units.ReferenceISO8778).Volume())*60000, all.Regime, all.Validity)
		}
	}
	// Output:
	// 0.3 bar, 0.1 m: delivers 11.05 µA/m, leaves 0.00 (0.00 … 0.00) of 1 µC/m² (stream alone 0.00), 370 L/min ANR per m
	//   conductivity-limited, rests on no published value, an estimate
	// 0.3 bar, 0.3 m: delivers 3.74 µA/m, leaves 0.01 (0.00 … 0.07) of 1 µC/m² (stream alone 0.01), 370 L/min ANR per m
	//   drift-limited, rests on no published value, an estimate
	// 0.3 bar, 0.6 m: delivers 2.27 µA/m, leaves 0.12 (0.00 … 0.23) of 1 µC/m² (stream alone 0.12), 370 L/min ANR per m
	//   drift-limited, rests on no published value, an estimate
	// 0.3 bar, 1.0 m: delivers 1.43 µA/m, leaves 0.27 (0.01 … 0.39) of 1 µC/m² (stream alone 0.27), 370 L/min ANR per m
	//   drift-limited, rests on no published value, an estimate
	// 1.0 bar, 0.1 m: delivers 11.05 µA/m, leaves 0.00 (0.00 … 0.00) of 1 µC/m² (stream alone 0.00), 661 L/min ANR per m
	//   conductivity-limited, rests on no published value, an estimate
	// 1.0 bar, 0.3 m: delivers 3.73 µA/m, leaves 0.00 (0.00 … 0.01) of 1 µC/m² (stream alone 0.00), 661 L/min ANR per m
	//   conductivity-limited, rests on no published value, an estimate
	// 1.0 bar, 0.6 m: delivers 2.18 µA/m, leaves 0.05 (0.00 … 0.17) of 1 µC/m² (stream alone 0.05), 661 L/min ANR per m
	//   drift-limited, rests on no published value, an estimate
	// 1.0 bar, 1.0 m: delivers 1.41 µA/m, leaves 0.21 (0.00 … 0.36) of 1 µC/m² (stream alone 0.21), 661 L/min ANR per m
	//   drift-limited, rests on no published value, an estimate
	// 3.0 bar, 0.1 m: delivers 11.05 µA/m, leaves 0.00 (0.00 … 0.00) of 1 µC/m² (stream alone 0.00), 1318 L/min ANR per m
	//   conductivity-limited, rests on no published value, an estimate
	// 3.0 bar, 0.3 m: delivers 4.19 µA/m, leaves 0.00 (0.00 … 0.00) of 1 µC/m² (stream alone 0.00), 1318 L/min ANR per m
	//   conductivity-limited, rests on no published value, an estimate
	// 3.0 bar, 0.6 m: delivers 2.46 µA/m, leaves 0.00 (0.00 … 0.04) of 1 µC/m² (stream alone 0.00), 1318 L/min ANR per m
	//   conductivity-limited, rests on no published value, an estimate
	// 3.0 bar, 1.0 m: delivers 1.58 µA/m, leaves 0.08 (0.00 … 0.23) of 1 µC/m² (stream alone 0.08), 1318 L/min ANR per m
	//   drift-limited, rests on no published value, an estimate
}

// Residual after the bar and its imbalance? 30 V on a plate in the place of the web are about as much on the meter.
func ExamplePlateOffset() {
	s := bar(30 * units.Millimetre)
	for _, v := range []units.Voltage{-30, 0, 30} {
		s.Offset = v
		p := place(s, span)
		r := p.Act(3*uC, 5*units.MetrePerSecond)
		fmt.Printf("%v on the plate: leaves %.3f µC/m², the meter shows %.0f V\n", v, micro(r.Left),
			float64(ioniser.Shown(r.Left, 25*units.Millimetre, span)))
	}
	lo, hi := ioniser.PlateOffset(30, 30*units.Millimetre, span)
	fmt.Printf("30 V at 30 mm are %.3f to %.3f µC/m²\n", micro(lo), micro(hi))
	// Output:
	// -30 V on the plate: leaves -0.013 µC/m², the meter shows -34 V
	// 0 V on the plate: leaves 0.001 µC/m², the meter shows 3 V
	// 30 V on the plate: leaves 0.015 µC/m², the meter shows 40 V
	// 30 V at 30 mm are 0.010 to 0.014 µC/m²
}

// How dirty before it fails?
func ExampleSpec_CleanAfter() {
	s, _ := blown(100*units.Millimetre, 0.3*units.BarGauge)
	w := ioniser.Web{Net: 3 * uC, Speed: 2 * units.MetrePerSecond, Gap: span}
	rate := ionflow.AgeingRate(200*units.MicroamperePerMetre, 160*units.MicroamperePerMetre, 30*units.Day)
	median, early, late, err := s.CleanAfter(0.3*uC, w, known.Band{Value: float64(rate), Spread: 0.2,
		Kind: known.LogNormal})
	fmt.Printf("%.0f days (5–95 %%: %.0f to %.0f) %v\n", float64(median)/86400, float64(early)/86400,
		float64(late)/86400, err)
	// Output:
	// 476 days (5–95 %: 343 to 662) <nil>
}

// If any one bar fails, who goes over?
func ExampleSeries_IfOneFails() {
	near, far := place(bar(30*units.Millimetre), span), place(bar(50*units.Millimetre), span)
	s := must(ioniser.NewSeries(ioniser.Station{Place: near, At: 0}, ioniser.Station{Place: far, At: 1}))
	left, flag := s.Act(nil, 5*uC, 10*units.MetrePerSecond)
	fmt.Printf("both: %.3f µC/m² (%v)\n", micro(left), flag)
	for _, f := range s.IfOneFails(5*uC, 10*units.MetrePerSecond) {
		fmt.Printf("without %d: %.3f µC/m²\n", f.Off, micro(f.Left))
	}
	_, err := ioniser.NewSeries(ioniser.Station{Place: near, At: 0}, ioniser.Station{Place: near,
		At: 20 * units.Millimetre})
	fmt.Println(err)
	// Output:
	// both: 0.013 µC/m² (rests on no published value)
	// without 0: 0.519 µC/m²
	// without 1: 0.143 µC/m²
	// stations[1].at: 20 mm: want 36 mm or more: the zones of two sources that share a field are not added
}

// What does a filling station need? Doses of −96 nC that stay half a second ask for 192 nA: at 0.4 m the nozzle brings
// half to two thirds of that.
func ExampleSpot_Act() {
	air := must(jet.NewJet(jet.JetSpec{Kind: jet.Round, Width: 4 * units.Millimetre,
		Speed: 160 * units.MetrePerSecond}))
	for _, x := range []units.Length{400 * units.Millimetre, 260 * units.Millimetre, 100 * units.Millimetre} {
		s := must(ioniser.NewSpot(ioniser.SpotSpec{Points: 20 * units.Microampere, Captured: 0.3, Jet: air,
			Distance: x, Ions: ionflow.SmallIons().At(0, 0, 0),
			Emitter: must(ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.DC,
				Current: units.MicroamperePerMetre}))}))
		t := s.Act(-96*units.Nanocoulomb, 0.5*units.Second, 1)
		fmt.Printf("%v: plume brings %.0f to %.0f nA, leaves %.0f to %.0f of −96 nC; −10 nC after %.1f s\n", x,
			float64(t.Supply)*1e9, float64(t.Most)*1e9, float64(t.Left)*1e9, float64(t.Least)*1e9,
			float64(s.DwellFor(10*units.Nanocoulomb, -96*units.Nanocoulomb, 1)))
	}
	// Output:
	// 400 mm: plume brings 79 to 129 nA, leaves -58 to -36 of −96 nC; −10 nC after 1.2 s
	// 260 mm: plume brings 121 to 230 nA, leaves -38 to -0 of −96 nC; −10 nC after 0.8 s
	// 100 mm: plume brings 306 to 1165 nA, leaves 0 to 0 of −96 nC; −10 nC after 0.3 s
}
