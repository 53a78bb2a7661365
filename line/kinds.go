package line

// MeterKind is what a meter is; the words are those of the user's file.
type MeterKind string

// The kinds of meter.
const (
	FieldMeterKind MeterKind = "field meter"
	VoltmeterKind  MeterKind = "voltmeter" // non-contact, over a roller
)

// RollerKind is what the surface of a roller is.
type RollerKind string

// The kinds of roller.
const (
	BareMetal       RollerKind = "metal"
	InsulatingCover RollerKind = "insulating" // a cover that keeps charge
)

// LimitKind is what the net charge is judged against.
type LimitKind string

// The kinds of limit.
const (
	ClingLimit LimitKind = "cling"   // image attraction equals the weight of the sheet
	FieldLimit LimitKind = "5 kV/in" // one author's practice, not a standard
	OwnLimit   LimitKind = "own"     // Limit.Net is given
)
