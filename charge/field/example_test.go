package field_test

import (
	"fmt"
	"math"

	"example.org/pithball/charge/field"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/units"
)

// Is a bar 30 mm past the roller as good as one at 300 mm? The field that draws
// its ions is the one a meter would read in its place.
func ExampleRollerFieldFactor() {
	const radius, distance = 50 * units.Millimetre, 25 * units.Millimetre
	for _, x := range []units.Length{0.03, 0.1, 0.3} {
		gap := field.GapBehindRoller(radius, x)
		fmt.Printf("x %3.0f mm: gap %5.1f mm, local gap %.2f, two-dimensional %.2f\n",
			1e3*float64(x), 1e3*float64(gap), field.FieldFactor(distance, gap), field.RollerFieldFactor(radius, x, distance))
	}
	// Output:
	// x  30 mm: gap   8.3 mm, local gap 0.25, two-dimensional 0.28
	// x 100 mm: gap  61.8 mm, local gap 0.71, two-dimensional 0.77
	// x 300 mm: gap 254.1 mm, local gap 0.91, two-dimensional 0.96
}

// The meter shows nearly nothing: is the film clean? Only the voltmeter over a
// roller can tell.
func ExampleSeparateFaces() {
	net := field.ObservedNet(-0.2e-6, 0.1e-6) // free span
	alone, err := field.SeparateFaces(net)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("known:", alone.Known)

	film := field.Film{Thickness: 20 * units.Micrometre, RelativePermittivity: 2.2}
	meter, err := field.NewVoltmeter(field.VoltmeterSpec{FullScale: 500, Floor: 0.3})
	if err != nil {
		fmt.Println(err)
		return
	}
	a, sd := meter.OuterFace(16.7, film, 0.03, 0.05) // 16.7 V on the roller, face A outside
	both, err := field.SeparateFaces(net, field.ObservedFaceA(a, sd))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("A %+.1f ± %.1f µC/m², B %+.1f ± %.1f µC/m²\n", 1e6*float64(both.A), 1e6*float64(both.SDA),
		1e6*float64(both.B), 1e6*float64(both.SDB))
	// Output:
	// known: one combination
	// A +16.3 ± 1.0 µC/m², B -16.5 ± 1.0 µC/m²
}

// What will the meter show here? The same web in mid span, 30 mm past a roller
// and on it.
func ExampleFieldMeter_Display() {
	m, err := field.NewFieldMeter(field.FieldMeterSpec{Nominal: 25 * units.Millimetre, Guarded: true, FullScale: 30000})
	if err != nil {
		fmt.Println(err)
		return
	}
	const net, d = -3e-6, 25 * units.Millimetre
	film := field.Film{Thickness: 25 * units.Micrometre, RelativePermittivity: 3.2}
	fmt.Printf("mid span %.1f kV\n", float64(m.Display(net, d, 0.3))/1e3)
	fmt.Printf("past the roller %.1f kV\n", float64(m.DisplayAt(net, field.RollerFieldFactor(0.05, 0.03, d)))/1e3)
	fmt.Printf("on the roller %.1f V\n", float64(m.DisplayAt(net, film.OverRollerFactor(d))))
	// Output:
	// mid span -7.8 kV
	// past the roller -2.3 kV
	// on the roller -2.6 V
}

// A bare face shows more than a guarded one, by the size of the web and the
// distance of the room.
func ExampleBareFaceFactor() {
	for _, h := range []units.Length{0.1, 0.3, 1} {
		fmt.Printf("h %.1f m: bare %.2f, guarded %.2f\n", float64(h), field.BareFaceFactor(0.035, 0.6, 0.025, h),
			field.FieldFactor(0.025, h))
	}
	// Output:
	// h 0.1 m: bare 1.78, guarded 0.80
	// h 0.3 m: bare 3.50, guarded 0.92
	// h 1.0 m: bare 4.96, guarded 0.98
}

// The meter was held at 35 ± 3 mm, not 25, over a web with 50 mm to the table.
func ExampleFieldMeter_Corrected() {
	m, err := field.NewFieldMeter(field.FieldMeterSpec{Nominal: 25 * units.Millimetre, Guarded: true, FullScale: 30000})
	if err != nil {
		fmt.Println(err)
		return
	}
	at, spread := m.Corrected(4000, 35*units.Millimetre, 3*units.Millimetre, 50*units.Millimetre)
	fmt.Printf("at 25 mm %.0f V ± %.1f %%\n", float64(at), 100*spread)
	// Output:
	// at 25 mm 4533 V ± 3.5 %
}

// How many readings tell 3 kV from 2 kV, with spots that scatter by 30 %?
func ExampleRepeats() {
	n, err := field.Repeats(3000, 2000, 0.30, 0.05, 0.80)
	fmt.Println(n, err)
	// Output:
	// 10 <nil>
}

// The voltage of a pile: balanced sheets add up; with net charge the edge of the
// pile flashes over long before the free voltage is reached.
func ExampleChargedPile_At() {
	spec := field.ChargedPileSpec{Thickness: 50 * units.Micrometre, RelativePermittivity: 3.2, Upper: 10e-6,
		Lower: -10e-6, Width: 0.7}
	for range 2 {
		pile, err := field.NewChargedPile(spec)
		if err != nil {
			fmt.Println(err)
			return
		}
		x := pile.At(500)
		n, at, _ := pile.SheetsToSpark()
		fmt.Printf("500 sheets: %.1f of %.1f kV, %v; first spark at %d sheets, %v\n", float64(x.Voltage)/1e3,
			float64(x.Free)/1e3, x.Validity, n, at)
		spec.Lower = -9e-6 // 1 µC/m² of net charge a sheet
	}
	// Output:
	// 500 sheets: 8.8 of 8.8 kV, inside the published range; first spark at 0 sheets, none
	// 500 sheets: 75.0 of 229.0 kV, above the published range; first spark at 152 sheets, outside
}

// How many wraps until the field at a winding roll breaks the air down?
func ExampleRoll_WrapsTo() {
	spec := field.RollSpec{CoreRadius: 0.1, Thickness: 20 * units.Micrometre, RelativePermittivity: 2.2, Outer: 0.9e-6,
		Surroundings: 2}
	breakdown := 30 * units.KilovoltPerCentimetre
	for _, earthed := range []bool{false, true} {
		spec.EarthedCore = earthed
		r, err := field.NewRoll(spec)
		if err != nil {
			fmt.Println(err)
			return
		}
		n, found := r.WrapsTo(breakdown)
		x := r.At(30)
		fmt.Printf("earthed core %v: %v, wraps %d, surface after 30 wraps %.2g kV, %v\n", earthed, found, n,
			float64(x.Voltage)/1e3, x.Validity)
	}
	// Output:
	// earthed core false: true, wraps 30, surface after 30 wraps 9e+02 kV, above the published range
	// earthed core true: true, wraps 1483, surface after 30 wraps 0.43 kV, inside the published range
}

// Will sheets cling, and from which charge?
func ExampleClingLimit() {
	for _, c := range []struct {
		name string
		m    units.BasisWeight
	}{{"20 µm PP", 0.0182}, {"50 µm PET", 0.0695}, {"115 g/m² paper", 115 * units.GramPerSquareMetre}} {
		fmt.Printf("%s: limit %.2f µC/m², pull over weight at 3 µC/m² %.1f\n", c.name, 1e6*float64(field.ClingLimit(c.m)),
			field.ClingRatio(3e-6, c.m))
	}
	// Output:
	// 20 µm PP: limit 1.78 µC/m², pull over weight at 3 µC/m² 2.8
	// 50 µm PET: limit 3.47 µC/m², pull over weight at 3 µC/m² 0.7
	// 115 g/m² paper: limit 4.47 µC/m², pull over weight at 3 µC/m² 0.5
}

// Will dust come to the part? Only a relative answer exists: charged dust settles
// in proportion to field and time, at the drift speed qE/(6πηr) that a
// given charge has, against the air that carries it past. Cured to a third of the
// field, a third of the dust comes.
func ExampleSphereField() {
	before := field.SphereField(96*units.Nanocoulomb, 20*units.Millimetre, 25*units.Millimetre, field.FreeSpace)
	after := field.SphereField(32*units.Nanocoulomb, 20*units.Millimetre, 25*units.Millimetre, field.FreeSpace)
	fmt.Printf("%.0f kV/m before, relative pick-up after %.2f\n", float64(before)/1e3,
		field.DustPickUp(after, before, 180, 180))
	// Output:
	// 426 kV/m before, relative pick-up after 0.33
}

// What is wrong with this reading?
func ExampleReadingConditions_Flaws() {
	flaws := field.ReadingConditions{Distance: 0.025, Nominal: 0.025, Gap: 0.0083, Repeats: 1, Zeroed: true, Earthed: true,
		BothFaces: true, HumidityHere: true, Running: true}.Flaws()
	fmt.Println(flaws.Unusable(), flaws == field.NearMetal|field.SingleRepeat)
	// Output:
	// false true
}

// A film with charge on both faces, from the free span to the roller.
func ExampleFilm_Between() {
	film := field.Film{Thickness: 20 * units.Micrometre, RelativePermittivity: 2.2}
	for _, h := range []units.Length{units.Length(math.Inf(1)), 0.3, 0} {
		f := film.Between(14e-6, -15.5e-6, 25*units.Millimetre, h)
		fmt.Printf("h %v m: %+.2f kV/cm\n", float64(h), float64(f.AtMeter)/1e5)
	}
	// Output:
	// h +Inf m: -1.69 kV/cm
	// h 0.3 m: -1.56 kV/cm
	// h 0 m: +0.01 kV/cm
}

// The share of patchy charge that a meter still sees.
func ExamplePatchShare() {
	for _, L := range []units.Length{0.005, 0.05, 0.5} {
		fmt.Printf("patches of %.0f mm: %.2f\n", 1e3*float64(L), field.PatchShare(L, 0.025, 1))
	}
	// Output:
	// patches of 5 mm: 0.07
	// patches of 50 mm: 0.49
	// patches of 500 mm: 0.92
}

// Capacitances of bodies by closed forms and by name.
func ExampleSphereOverPlaneCapacitance() {
	fmt.Printf("sphere of 100 mm: %.1f pF isolated, %.1f pF with 10 mm to a plane\n",
		1e12*float64(field.SphereCapacitance(0.1)), 1e12*float64(field.SphereOverPlaneCapacitance(0.1, 0.01)))
	person, err := hazard.FindBodyCapacitance("person")
	fmt.Println(person.Low, "…", person.High, err)
	// Output:
	// sphere of 100 mm: 11.1 pF isolated, 24.0 pF with 10 mm to a plane
	// 60 pF … 400 pF <nil>
}
