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
	c, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Metal, Capacitance: 180 * units.Picofarad, Resistance: 4 * units.Gigohm})
	if err != nil {
		fmt.Println(err)
		return
	}
	i := field.RollerCurrent(-0.4*units.MicrocoulombPerSquareMetre, 220*units.MetrePerMinute, 1.25)
	s := c.Charged(i)
	fmt.Printf("%.2f µA: %.1f kV, %.1f mJ, time constant %.2f s\n", 1e6*float64(i), float64(s.Voltage)/1e3, 1e3*float64(s.Energy), float64(s.TimeConstant))

	_, err = hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Insulator, Capacitance: 180 * units.Picofarad, Resistance: 1})
	fmt.Println(err != nil)
	// Output:
	// 1.83 µA: 7.3 kV, 4.8 mJ, time constant 0.72 s
	// true
}

// What a person picks up who walks up to a roll, and how many would feel it.
func ExampleConductor_Induced() {
	person, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Person, Capacitance: 150 * units.Picofarad, Resistance: 10 * units.Gigohm})
	if err != nil {
		fmt.Println(err)
		return
	}
	// ε0·E·A/C = 2.95 kV at once, times (1 − e^(−x))/x = 0.73 for x = 1 s/1.5 s.
	s := person.Induced(100*units.KilovoltPerMetre, 0.5, 1)
	fmt.Printf("%.1f kV, %.1f mJ, felt by %.0f %%\n", float64(s.Voltage)/1e3, 1e3*float64(s.Energy), 100*hazard.DefaultShockModel().Felt(s.Energy))
	fmt.Println(hazard.NoticeShock.Notice("2.2 kV on 150 pF").Code)
	// Output:
	// 2.2 kV, 0.3 mJ, felt by 57 %
	// shock
}

// May this run in a solvent zone? The library lists what to look at; it clears
// nothing.
func ExamplePropagatingBrush() {
	layer, err := hazard.PropagatingBrush(hazard.Layer{Density: 20e-6, Breakdown: 0, Thickness: 20 * units.Micrometre, RelativePermittivity: 2.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% of 250 µC/m², breakdown voltage not known counts as above 4 kV: %v\n", 100*layer.DensityShare, layer.BreakdownReached)

	idler, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Metal, Capacitance: 180 * units.Picofarad, Resistance: 4 * units.Gigohm})
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
	for _, n := range []known.Notice{hazard.NoticeNotApproval.Notice(""), spark.Notice(), layer.Notice(), hazard.NoticeIoniserZone.Notice("")} {
		fmt.Println(n.Code, "->", n.Consult)
	}
	// Output:
	// 8 % of 250 µC/m², breakdown voltage not known counts as above 4 kV: true
	// idler: 19 times the least ignition energy
	// not-an-approval -> IEC TS 60079-32-1, NFPA 77, TRGS 727 or the local code
	// isolated-conductor -> IEC TS 60079-32-1 (earthing and bonding) and NFPA 77; IEC 60079-32-2 for the tests
	// propagating-brush -> IEC TS 60079-32-1 and TRGS 727 (propagating brush discharge); breakdown voltage of the layer by IEC 60243
	// ioniser-in-zone -> IEC 60079-0, IEC TS 60079-32-1 and the certificate of the device
}
