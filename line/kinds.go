package line

import "example.org/pithball/internal/enum"

// MeterKind is what a meter is.
type MeterKind uint8

// The kinds of meter.
const (
	FieldMeterKind MeterKind = iota + 1
	VoltmeterKind            // non-contact, over a roller
)

var meterNames = [...]string{FieldMeterKind: "field meter", VoltmeterKind: "voltmeter"}

// String returns the name of the kind, "MeterKind(n)" without one.
func (k MeterKind) String() string { return enum.Name("MeterKind", meterNames[:], k) }

// MarshalText writes the name of the kind; a value without one is a [*known.FieldError].
func (k MeterKind) MarshalText() ([]byte, error) { return enum.Write("kind", meterNames[:], k) }

// UnmarshalText reads the name of a kind; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (k *MeterKind) UnmarshalText(b []byte) error { return enum.Read("kind", meterNames[:], b, k) }

// RollerKind is what the surface of a roller is.
type RollerKind uint8

// The kinds of roller.
const (
	BareMetal       RollerKind = iota + 1
	InsulatingCover            // a cover that keeps charge
)

var rollerNames = [...]string{BareMetal: "metal", InsulatingCover: "insulating"}

// String returns the name of the kind, "RollerKind(n)" without one.
func (k RollerKind) String() string { return enum.Name("RollerKind", rollerNames[:], k) }

// MarshalText writes the name of the kind; a value without one is a [*known.FieldError].
func (k RollerKind) MarshalText() ([]byte, error) { return enum.Write("kind", rollerNames[:], k) }

// UnmarshalText reads the name of a kind; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (k *RollerKind) UnmarshalText(b []byte) error { return enum.Read("kind", rollerNames[:], b, k) }

// LimitKind is what the net charge is judged against.
type LimitKind uint8

// The kinds of limit.
const (
	ClingLimit LimitKind = iota + 1 // image attraction equals the weight of the sheet
	FieldLimit                      // 5 kV/in, one author's practice, not a standard
	OwnLimit                        // Limit.Net is given
)

var limitNames = [...]string{ClingLimit: "cling", FieldLimit: "5 kV/in", OwnLimit: "own"}

// String returns the name of the kind, "LimitKind(n)" without one.
func (k LimitKind) String() string { return enum.Name("LimitKind", limitNames[:], k) }

// MarshalText writes the name of the kind; a value without one is a [*known.FieldError].
func (k LimitKind) MarshalText() ([]byte, error) { return enum.Write("kind", limitNames[:], k) }

// UnmarshalText reads the name of a kind; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (k *LimitKind) UnmarshalText(b []byte) error { return enum.Read("kind", limitNames[:], b, k) }

// Trouble is what goes wrong on a line.
type Trouble uint8

// The troubles.
const (
	TroubleJam        Trouble = iota + 1 // sheets or labels stop in a feeder
	TroubleDoubleFeed                    // two sheets go as one
	TroubleCling                         // the web sticks to what it passes
	TroubleMisplaced                     // thin labels land beside their place
	TroubleShock                         // people are shocked
	TroubleDust                          // the web draws dust
	TroubleSparkMark                     // discharges mark the web
	TroubleSensorTrip                    // sensors and controls trip
)

var troubleNames = [...]string{TroubleJam: "jam", TroubleDoubleFeed: "double feed", TroubleCling: "cling",
	TroubleMisplaced: "misplaced", TroubleShock: "shock", TroubleDust: "dust", TroubleSparkMark: "spark mark",
	TroubleSensorTrip: "sensor trip"}

// String returns the name of the trouble, "Trouble(n)" without one.
func (t Trouble) String() string { return enum.Name("Trouble", troubleNames[:], t) }

// MarshalText writes the name of the trouble; a value without one is a [*known.FieldError].
func (t Trouble) MarshalText() ([]byte, error) { return enum.Write("trouble", troubleNames[:], t) }

// UnmarshalText reads the name of a trouble; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (t *Trouble) UnmarshalText(b []byte) error { return enum.Read("trouble", troubleNames[:], b, t) }
