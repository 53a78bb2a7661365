package hazard

import (
	"errors"
	"strings"
	"testing"

	"example.org/pithball/units/known"
)

// Every row has a source and a range the right way round; a wrong name is an
// error that lists the names.
func TestFieldTables(t *testing.T) {
	for _, b := range BodyCapacitances() {
		if b.Name == "" || !(b.Low > 0 && b.High >= b.Low) || b.Source.Provenance == known.Unstated || b.Source.Cite == "" {
			t.Errorf("%+v", b)
		}
		if got, err := FindBodyCapacitance(b.Name); err != nil || got != b {
			t.Errorf("%s: %+v, %v", b.Name, got, err)
		}
	}
	var fe *known.FieldError
	if _, err := FindBodyCapacitance(""); !errors.As(err, &fe) ||
		!strings.HasPrefix(fe.Want, "one of tank car, automobile, person, ") || strings.Contains(fe.Want, ", ,") {
		t.Errorf("%v", err)
	}
}

// TestTablesStateOrigin: each row of the tables in Go names source, condition and
// licence; a row from memory is given out only by its name.
func TestTablesStateOrigin(t *testing.T) {
	for _, b := range BodyCapacitances() {
		if b.Source.Cite == "" || b.Condition == "" || b.Licence == "" || b.Source.Provenance != known.Published &&
			b.Source.Provenance != known.Quoted {
			t.Errorf("%+v", b)
		}
	}
	b, err := FindBodyCapacitance("human body model")
	if err != nil || b.Source.Provenance != known.Memory {
		t.Errorf("%+v, %v", b, err)
	}
	// The span of a person holds every measured row (abstracts as cited).
	all, _ := FindBodyCapacitance("person")
	for _, b := range BodyCapacitances() {
		if strings.HasPrefix(b.Name, "person") && (b.Low < all.Low || b.High > all.High) {
			t.Errorf("%s: %v … %v outside %v … %v", b.Name, b.Low, b.High, all.Low, all.High)
		}
	}
}

// TestGasGroupText: a group is written as the standard names it, none as nothing, and a
// number that is no group is not written.
func TestGasGroupText(t *testing.T) {
	for g, want := range map[GasGroup]string{NoGroup: "", IIA: "IIA", IIB: "IIB", IIC: "IIC"} {
		text, err := g.MarshalText()
		back := GasGroup(9)
		if err != nil || string(text) != want || g.String() != want || back.UnmarshalText(text) != nil || back != g {
			t.Errorf("%d: %q, %v, back %d", g, text, err, back)
		}
	}
	if text, err := GasGroup(4).MarshalText(); err == nil {
		t.Errorf("4 is written %q", text)
	}
}
