package hazard_test

import (
	"fmt"

	"example.org/pithball/charge/field"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The voltage of an idler on insulating bearings.
func ExampleConductor_Charged() {
	c, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Metal, Capacitance: 180 * units.Picofarad,
		Resistance: 4 * units.Gigohm})
	if err != nil {
		fmt.Println(err)
		return
	}
	i := field.RollerCurrent(-0.4*units.MicrocoulombPerSquareMetre, 220*units.MetrePerMinute, 1.25)
	s := c.Charged(i)
	fmt.Printf("%.2f µA: %.1f kV, %.1f mJ, time constant %.2f s\n", 1e6*float64(i), float64(s.Voltage)/1e3,
		1e3*float64(s.Energy), float64(s.TimeConstant))

	_, err = hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Insulator, Capacitance: 180 * units.Picofarad,
		Resistance: 1})
	fmt.Println(err != nil)
	// Output:
	// 1.83 µA: 7.3 kV, 4.8 mJ, time constant 0.72 s
	// true
}

// What a person picks up who walks up to a roll, and how many would feel it.
func ExampleConductor_Induced() {
	person, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Person, Capacitance: 150 * units.Picofarad,
		Resistance: 10 * units.Gigohm})
	if err != nil {
		fmt.Println(err)
		return
	}
	// ε0·E·A/C = 2.95 kV at once, times (1 − e^(−x))/x = 0.73 for x = 1 s/1.5 s.
	s := person.Induced(100*units.KilovoltPerMetre, 0.5, 1)
	fmt.Printf("%.1f kV, %.2f mJ, felt by %.0f %%\n", float64(s.Voltage)/1e3, 1e3*float64(s.Energy),
		100*hazard.FeltThreshold().Share(s.Energy))
	fmt.Printf("makes %.0f %% of women and %.0f %% of men start\n",
		100*hazard.FrightThreshold(hazard.Women).Share(s.Energy), 100*hazard.FrightThreshold(hazard.Men).Share(s.Energy))
	fmt.Println(hazard.NoticeShock.Notice("2.2 kV on 150 pF").Code)
	// Output:
	// 2.2 kV, 0.35 mJ, felt by 99 %
	// makes 60 % of women and 7 % of men start
	// shock
}

// May this run in a solvent zone? The library lists what to look at; it clears
// nothing.
func ExamplePropagatingBrush() {
	layer, err := hazard.PropagatingBrush(hazard.ChargedLayer{Density: 20e-6, Breakdown: 0,
		Thickness:            20 * units.Micrometre,
		RelativePermittivity: 2.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% of 250 µC/m², breakdown voltage not known counts as above 4 kV: %v\n", 100*layer.DensityShare,
		layer.BreakdownReached)

	idler, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Metal, Capacitance: 180 * units.Picofarad,
		Resistance: 4 * units.Gigohm})
	if err != nil {
		fmt.Println(err)
		return
	}
	propane, err := hazard.FindIgnitable("propane")
	if err != nil {
		fmt.Println(err)
		return
	}
	spark := idler.Spark(7300, propane)
	fmt.Printf("idler: %.0f times the least ignition energy\n", spark.Ratio)
	for _, n := range []known.Notice{hazard.NoticeNotApproval.Notice(""), spark.Notice(), layer.Notice(),
		hazard.NoticeIoniserZone.Notice("")} {
		fmt.Println(n.Code, "->", n.Consult)
	}
	// Output:
	// 8 % of 250 µC/m², breakdown voltage not known counts as above 4 kV: true
	// idler: 19 times the least ignition energy
	// not-an-approval -> IEC TS 60079-32-1:2013+A1:2017, NFPA 77:2024, TRGS 727:2016 or the local code (editions as of 28 November 2026)
	// isolated-conductor -> IEC TS 60079-32-1:2013+A1:2017 (earthing and bonding) and NFPA 77:2024; IEC 60079-32-2:2015 for the tests (editions as of 28 November 2026)
	// propagating-brush -> IEC TS 60079-32-1:2013+A1:2017 and TRGS 727:2016 (propagating brush discharge); breakdown voltage of the layer by IEC 60243-1:2013 (editions as of 28 November 2026)
	// ioniser-in-zone -> IEC 60079-0:2017, IEC TS 60079-32-1:2013+A1:2017 and the certificate of the device (editions as of 28 November 2026)
}

// A charged plastic hood over hexane: an insulator has no ½CV²; the charge that a
// discharge moves is compared with the minimum igniting charge.
func ExampleTransfer() {
	hexane, err := hazard.FindIgnitable("hexane")
	if err != nil {
		fmt.Println(err)
		return
	}
	f := hazard.Transfer(90*units.Nanocoulomb, hexane)
	fmt.Printf("%.1f times the minimum igniting charge, reached: %v\n", f.Ratio, f.Reaches)
	a := hazard.AreaHolding(hexane.Charge, 3*units.MicrocoulombPerSquareMetre)
	fmt.Printf("%.0f cm² at 3 µC/m² hold as much\n", 1e4*float64(a))
	// Output:
	// 1.5 times the minimum igniting charge, reached: true
	// 200 cm² at 3 µC/m² hold as much
}
