package upkeep

import "example.org/pithball/internal/enum"

// Flammables is what may burn at a line. The zero value is no answer.
type Flammables uint8

// The flammables; an empty text is no answer as well.
const (
	UnknownFlammables Flammables = iota
	NoFlammables
	FlammableVapour
	FlammableGas
	FlammableDust
)

var flammableNames = [...]string{"unknown", "none", "vapour", "gas", "dust"}

// String returns the name, "Flammables(n)" without one.
func (f Flammables) String() string { return enum.Name("Flammables", flammableNames[:], f) }

// MarshalText writes the name; an unknown value is a [*known.FieldError].
func (f Flammables) MarshalText() ([]byte, error) {
	return enum.Write("flammables", flammableNames[:], f)
}

// UnmarshalText reads a name or an empty text; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (f *Flammables) UnmarshalText(b []byte) error {
	return orZero("flammables", flammableNames[:], b, f)
}

// Zone is a zone of explosive atmospheres, of gas (0, 1, 2) or dust (20, 21, 22), as the
// responsible person has decided it. The zero value is no answer.
type Zone uint8

// The zones; an empty text is no answer as well.
const (
	UnknownZone Zone = iota
	NoZone
	Zone0
	Zone1
	Zone2
	Zone20
	Zone21
	Zone22
)

var zoneNames = [...]string{"unknown", "none", "0", "1", "2", "20", "21", "22"}

// String returns the name, "Zone(n)" without one.
func (z Zone) String() string { return enum.Name("Zone", zoneNames[:], z) }

// MarshalText writes the name; an unknown value is a [*known.FieldError].
func (z Zone) MarshalText() ([]byte, error) { return enum.Write("zone", zoneNames[:], z) }

// UnmarshalText reads a name or an empty text; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (z *Zone) UnmarshalText(b []byte) error { return orZero("zone", zoneNames[:], b, z) }

// GoodsKind is what moves on a line.
type GoodsKind uint8

// The goods; an empty text is a web as well.
const (
	WebGoods GoodsKind = iota
	SheetGoods
	PartGoods
	PowderGoods
)

var goodsNames = [...]string{"web", "sheets", "parts", "powder"}

// String returns the name, "GoodsKind(n)" without one.
func (g GoodsKind) String() string { return enum.Name("GoodsKind", goodsNames[:], g) }

// MarshalText writes the name; an unknown value is a [*known.FieldError].
func (g GoodsKind) MarshalText() ([]byte, error) { return enum.Write("goods", goodsNames[:], g) }

// UnmarshalText reads a name or an empty text; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (g *GoodsKind) UnmarshalText(b []byte) error { return orZero("goods", goodsNames[:], b, g) }

func orZero[T enum.Enum](field string, names []string, b []byte, v *T) error {
	if len(b) == 0 {
		*v = 0
		return nil
	}
	return enum.Read(field, names, b, v)
}
