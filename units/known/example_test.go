package known_test

import (
	"errors"
	"fmt"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func ExampleBand() {
	strength := known.Band{Value: 10, Spread: 2, Kind: known.Normal}
	lo, hi := strength.Limits()
	fmt.Printf("%.2f … %.2f\n", lo, hi) // 10 ∓ 1.645 × 2
	fmt.Println(known.Band{Value: 10, Spread: -2, Kind: known.Normal}.Check("strength"))
	// Output:
	// 6.71 … 13.29
	// strength.spread: -2: want a finite spread of 0 or more
}

func ExampleBandKind() {
	fmt.Println(known.LogNormal)
	// Output: lognormal
}

func ExampleFieldError() {
	err := known.InRange("roller.radius", 5*units.Metre, 1*units.Millimetre, 1*units.Metre)
	var fe *known.FieldError
	if errors.As(err, &fe) {
		fmt.Println(fe.Field, "|", fe.Value, "|", fe.Want)
	}
	// Output: roller.radius | 5 m | 1 mm … 1 m
}

func ExampleWrong() {
	fmt.Println(known.Wrong("speed", -3*units.MetrePerSecond, "0 or more"))
	// Output: speed: -3 m/s: want 0 or more
}

func ExampleInRange() {
	fmt.Println(known.InRange("rh", 45*units.PercentRH, 0, 100*units.PercentRH))
	fmt.Println(known.Positive[units.Length]("gap", 0))
	fmt.Println(known.NotNegative("gap", -1*units.Millimetre))
	// Output:
	// <nil>
	// gap: 0 m: want more than 0 and finite
	// gap: -1 mm: want 0 or more and finite
}

func ExampleValidity() {
	v := known.BelowRange | known.Unpublished
	fmt.Println(v)
	fmt.Println(known.Inside)
	// Output:
	// below the published range, rests on no published value
	// inside the published range
}

func ExampleSource() {
	s := known.Source{Provenance: known.Published, Cite: "NIST SP 811:2008, appendix B"}
	fmt.Println(s.Provenance, s.Cite)
	q := known.Source{Provenance: known.Quoted, Cite: "IEC 60052", Via: "Kuffel et al., High Voltage Engineering (2000)"}
	fmt.Println(q.Provenance, q.Cite, "read in", q.Via)
	// Output:
	// published NIST SP 811:2008, appendix B
	// quoted IEC 60052 read in Kuffel et al., High Voltage Engineering (2000)
}

func ExampleProvenance() {
	var p known.Provenance
	fmt.Println(p.UnmarshalText([]byte("memory")), p)
	// Output: <nil> memory
}

func ExampleNotice() {
	n := known.Notice{
		Code:      "stored-energy",
		Condition: "an isolated metal part stores energy",
		Figure:    "7.5 mJ",
		Consult:   "IEC TS 60079-32-1",
		Decide:    "whether the place is classified",
	}
	fmt.Println(n)
	// Output: an isolated metal part stores energy (7.5 mJ). Consult IEC TS 60079-32-1. To decide by a competent person: whether the place is classified.
}
