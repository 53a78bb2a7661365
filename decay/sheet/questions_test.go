package sheet_test

import (
	"fmt"
	"testing"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// finish is what an antistatic finish of 1e10 Ω at 50 %RH, a decade per 10 %RH, does on a
// span of 1 m at a speed.
func finish(rh units.RelativeHumidity, v units.Speed) sheet.Antistat {
	law, err := humidity.NewLogLinear(humidity.Point[units.SheetResistance]{RH: 50 * units.PercentRH, Value: 1e10}, 0.1,
		0.5,
		25*units.PercentRH, 60*units.PercentRH)
	if err != nil {
		panic(err)
	}
	air, err := humidity.NewAir(units.Celsius(23), rh*units.PercentRH, units.Atmosphere)
	if err != nil {
		panic(err)
	}
	a, err := sheet.AntistatOnSpan(sheet.AntistatSpec{Span: sheet.FreeSpanSpec{Length: units.Metre, Speed: v,
		InletRadius: 50 * units.Millimetre, OutletRadius: 50 * units.Millimetre, ContactGap: 5 * units.Micrometre},
		Resistivity: humidity.Band[units.SheetResistance](law, air), Flags: law.Validity(air), Enough: 0.5})
	if err != nil {
		panic(err)
	}
	return a
}

// Question 27: does antistatic film help at 25 %RH? An invented finish of 1e10 Ω at 50 %RH.
func Example_question27() {
	for _, rh := range []units.RelativeHumidity{25, 60} {
		a := finish(rh, 2*units.MetrePerSecond)
		fmt.Printf("%.0f %%RH: %v; %.0f %% of the charge left at mid-span (%.0f … %.0f)\n", float64(rh), a.Verdict,
			100*a.Left,
			100*a.Least, 100*a.Most)
	}
	// Output:
	// 25 %RH: does not help; 100 % of the charge left at mid-span (100 … 100)
	// 60 %RH: helps; 0 % of the charge left at mid-span (0 … 18)
}

func TestQuestion27(t *testing.T) {
	if !(finish(25, 2).Left > finish(45, 2).Left && finish(45, 2).Left > finish(55, 2).Left &&
		finish(45, 4).Left > finish(45, 2).Left) {
		t.Error("drier air or a faster web does not leave more")
	}
	// The law was tested from 25 to 60 %RH; what it says of 15 %RH is flagged in the answer.
	if in, out := finish(30, 2).Validity, finish(15, 2).Validity; in&known.BelowRange != 0 || out&known.BelowRange == 0 {
		t.Errorf("30 %%RH %v, 15 %%RH %v", in, out)
	}
}
