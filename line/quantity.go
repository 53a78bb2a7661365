package line

import (
	"fmt"
	"strings"

	"example.org/pithball/units/known"
)

// Quantity is what a reading is a reading of.
type Quantity uint8

// The quantities of a survey.
const (
	FieldMeter      Quantity = iota + 1 // display of a field meter, in V
	OverRoller                          // non-contact voltmeter over an earthed roller that the web lies on, in V
	PailCharge                          // charge in a Faraday pail, in C
	EarthResistance                     // resistance of a roller, frame or body to earth, in Ω
	DecayTime                           // time to 1/e of the first reading, in s
)

var quantityNames = [...]string{FieldMeter: "field meter", OverRoller: "over-roller voltmeter",
	PailCharge:      "pail charge",
	EarthResistance: "resistance to ground", DecayTime: "decay time"}

// String returns the name used in surveys.
func (q Quantity) String() string {
	if q >= 1 && int(q) < len(quantityNames) {
		return quantityNames[q]
	}
	return fmt.Sprintf("Quantity(%d)", uint8(q))
}

// MarshalText writes the name of the quantity.
func (q Quantity) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// UnmarshalText reads the name of a quantity.
func (q *Quantity) UnmarshalText(b []byte) error {
	for i, n := range quantityNames {
		if i > 0 && n == string(b) {
			*q = Quantity(i)
			return nil
		}
	}
	return known.Wrong("quantity", string(b), "one of "+strings.Join(quantityNames[1:], ", "))
}
