package line

import "example.org/pithball/internal/enum"

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

// String returns the name used in surveys, "Quantity(n)" without one.
func (q Quantity) String() string { return enum.Name("Quantity", quantityNames[:], q) }

// MarshalText writes the name of the quantity; a value without one is a
// [*known.FieldError].
func (q Quantity) MarshalText() ([]byte, error) { return enum.Write("quantity", quantityNames[:], q) }

// UnmarshalText reads the name of a quantity; anything else is a
// [*known.FieldError] and leaves the value as it was.
func (q *Quantity) UnmarshalText(b []byte) error {
	return enum.Read("quantity", quantityNames[:], b, q)
}
