package sheet_test

import (
	"fmt"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// Does this antistat help in winter? A web at 2 m/s in a 1 m span between earthed
// rollers; the coating is made for 10¹⁰ Ω at 50 %RH and is taken to lose one
// decade for every 10 %RH less, as an antistat in polypropylene did (Zheng et
// al., Appl. Surf. Sci. 258 (2012) 8861, as quoted elsewhere). What counts is the
// charge in the middle of the span, where a meter looks.
func ExampleNewFreeSpanWeb() {
	for _, c := range []struct {
		rh  string
		rho units.SheetResistance
	}{{"50", 1e10}, {"40", 1e11}, {"25", 3e12}} {
		w, err := sheet.NewFreeSpanWeb(sheet.FreeSpanSpec{
			Length: units.Metre, Speed: 2 * units.MetrePerSecond, SurfaceResistivity: c.rho,
			InletRadius: 50 * units.Millimetre, OutletRadius: 50 * units.Millimetre,
			ContactGap: 5 * units.Micrometre,
		}, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		s := w.FromInlet(10 * units.MicrocoulombPerSquareMetre)
		fmt.Printf("%s %%RH: v_s %.3g m/s, %.1f µC/m² at mid-span of 10 at the inlet\n",
			c.rh, float64(sheet.SpreadingSpeed(c.rho)), float64(s.MidSpan)*1e6)
	}
	// Output:
	// 50 %RH: v_s 5.65 m/s, 2.8 µC/m² at mid-span of 10 at the inlet
	// 40 %RH: v_s 0.565 m/s, 9.5 µC/m² at mid-span of 10 at the inlet
	// 25 %RH: v_s 0.0188 m/s, 10.0 µC/m² at mid-span of 10 at the inlet
}

// The same question answered with what is known of the finish: the law of its
// resistivity against humidity, with a spread of half a decade (standard
// deviation), and half of the charge gone at mid-span as what counts as help.
func ExampleAntistatOnSpan() {
	law, err := humidity.NewLogLinear(
		humidity.Point[units.SheetResistance]{RH: 50 * units.PercentRH, Value: 1e10}, 0.1, 0.5, 25*units.PercentRH, 60*
			units.PercentRH)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, rh := range []units.RelativeHumidity{60, 50, 40, 25} {
		air, err := humidity.NewAir(units.Celsius(23), rh*units.PercentRH, 101325*units.Pascal)
		if err != nil {
			fmt.Println(err)
			return
		}
		a, err := sheet.AntistatOnSpan(sheet.AntistatSpec{
			Span: sheet.FreeSpanSpec{
				Length: units.Metre, Speed: 2 * units.MetrePerSecond,
				InletRadius: 50 * units.Millimetre, OutletRadius: 50 * units.Millimetre, ContactGap: 5 * units.Micrometre,
			},
			Resistivity: humidity.Band[units.SheetResistance](law, air),
			Enough:      0.5,
		})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f %%RH: %.0f %% left (%.0f … %.0f %%), %v; needs %.1g Ω\n",
			float64(rh), 100*a.Left, 100*a.Least, 100*a.Most, a.Verdict, float64(a.Needed))
	}
	// Output:
	// 60 %RH: 0 % left (0 … 18 %), helps; needs 2e+10 Ω
	// 50 %RH: 28 % left (0 … 90 %), open; needs 2e+10 Ω
	// 40 %RH: 95 % left (41 … 100 %), open; needs 2e+10 Ω
	// 25 %RH: 100 % left (100 … 100 %), does not help; needs 2e+10 Ω
}

// What will the probe show? Ohmic spreading of a line charge under a probe at
// 20 mm looks like a hyperbola, with no trap and no mobility in it: one half
// after h/v_s, one tenth after 9 h/v_s.
func ExampleProbeOverLine() {
	const h = 20 * units.Millimetre
	vs := float64(sheet.SpreadingSpeed(1e12))
	for _, t := range []float64{0, 0.3542, 1, 3.1875} {
		fmt.Printf("%.2f s: %.2f\n", t, sheet.ProbeOverLine(h, units.Length(vs*t)))
	}
	// Output:
	// 0.00 s: 1.00
	// 0.35 s: 0.50
	// 1.00 s: 0.26
	// 3.19 s: 0.10
}

// The same by the spectral solver, for a stripe of any shape: 40 mm of charge on
// a 2 m sheet, read by a probe at 20 mm. The total charge stays.
func ExampleNewChargeMap() {
	free, err := sheet.NewSheet(sheet.SheetSpec{Support: sheet.FreeSpan, RelativePermittivity: 1,
		SurfaceResistivity: 1e12})
	if err != nil {
		fmt.Println(err)
		return
	}
	v := make([]float64, 2048)
	for i := 1004; i < 1045; i++ {
		v[i] = 1e-5
	}
	m, err := sheet.NewChargeMap(sheet.MapSpec{Charge: v, Pixel: 0.9765625 * units.Millimetre, Law: free,
		View: sheet.ProbeView(20 * units.Millimetre)})
	if err != nil {
		fmt.Println(err)
		return
	}
	dst := make([]float64, m.Len())
	first := 0.0
	for _, t := range []units.Time{0, 0.35, 3.2} {
		if err := m.MapTo(dst, t); err != nil {
			fmt.Println(err)
			return
		}
		if t == 0 {
			first = dst[1024]
		}
		fmt.Printf("%.2f s: %.2f\n", float64(t), dst[1024]/first)
	}
	// Output:
	// 0.00 s: 1.00
	// 0.35 s: 0.59
	// 3.20 s: 0.13
}

// How long until this roll can be slit? Its sheet lies on an earthed table and
// leaks sideways to the earthed edge rails: 1 m wide, 50 µm, 10⁹ Ω, to a tenth.
func ExampleNewEarthedStrip() {
	d := sheet.SheetDiffusivity(50*units.Micrometre, 1e9, 2.25)
	s, err := sheet.NewEarthedStrip(sheet.StripSpec{Width: units.Metre, Diffusivity: d})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("τ1 %.0f s; mean at 10 %% after %.0f s, middle after %.0f s\n",
		float64(s.TimeConstant()), float64(s.MeanTime(0.1)), float64(s.FarTime(0.1)))
	// Output:
	// τ1 40 s; mean at 10 % after 84 s, middle after 103 s
}

// The same sheet in free span between wide earthed bodies, 10⁹ Ω: about ½ε0ρ_s w.
func ExampleNewSlotStrip() {
	s, err := sheet.NewSlotStrip(units.Metre, 1e9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("μ %.4f, τ1 %.2f ms\n", s.Eigenvalue(0), float64(s.TimeConstant())*1e3)
	// Output:
	// μ 2.0061, τ1 4.41 ms
}

func ExampleNewSlotDisc() {
	s, err := sheet.NewSlotDisc(units.Metre/2, 1e9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("μ %.4f, τ1 %.2f ms\n", s.Eigenvalue(0), float64(s.TimeConstant())*1e3)
	// Output:
	// μ 2.7548, τ1 3.21 ms
}

func ExampleNewEarthedDisc() {
	s, err := sheet.NewEarthedDisc(50*units.Millimetre, 1e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("half of the charge after %.3f s, centre at 10 %% after %.2f s\n", float64(s.MeanTime(0.5)),
		float64(s.CentreTime(0.1)))
	// Output:
	// half of the charge after 0.158 s, centre at 10 % after 1.20 s
}

// A charge laid 0.3 m behind the inlet of a 1 m path over an earthed table.
func ExampleNewNearEarthWeb() {
	w, err := sheet.NewNearEarthWeb(sheet.NearEarthSpec{Length: units.Metre, Speed: 0.5 * units.MetrePerSecond,
		Diffusivity: 0.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("Pe %.1f, %.1f %% leave downstream\n", w.Peclet(), 100*w.DownstreamShare(0.3*units.Metre))
	// Output:
	// Pe 2.5, 57.5 % leave downstream
}

// Two wraps of 0.2 m with τ 0.5 s and a span in which nothing leaks, at 5 m/s:
// e^{−0.16}.
func ExampleWebRemaining() {
	wrap := sheet.WebStretch{Length: 0.2 * units.Metre, TimeConstant: 0.5 * units.Second}
	span := sheet.WebStretch{Length: units.Metre, TimeConstant: 1e9 * units.Second}
	fmt.Printf("%.3f\n", sheet.WebRemaining(5*units.MetrePerSecond, wrap, span, wrap))
	// Output:
	// 0.852
}

// The middle of a stripe falls as a power, not an exponential: to 10 % after it
// has receded by 6.3 half-widths.
func ExampleStripeReceded() {
	r := sheet.StripeReceded(10*units.Millimetre, 0.1)
	fmt.Printf("%.1f mm: %.3f left\n", float64(r)*1e3, sheet.StripeOnFreeSheet(0, 10*units.Millimetre, r))
	// Output:
	// 63.1 mm: 0.100 left
}
