package hazard

import (
	"errors"
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
	for _, g := range Ignitables() {
		if g.Name == "" || !(g.MIE > 0) || g.Source.Provenance != known.Published {
			t.Errorf("%+v", g)
		}
		if got, err := FindIgnitable(g.Name); err != nil || got != g {
			t.Errorf("%s: %+v, %v", g.Name, got, err)
		}
	}
	for _, d := range DischargeEnergies() {
		if !(d.Low >= 0 && d.High >= 0 && d.Low+d.High > 0) || d.Source.Provenance != known.Published || d.Kind.String() == "" {
			t.Errorf("%+v", d)
		}
	}
	var fe *known.FieldError
	if _, err := FindIgnitable("unobtainium"); !errors.As(err, &fe) || len(fe.Want) < 100 {
		t.Errorf("%v", err)
	}
	if _, err := FindBodyCapacitance(""); !errors.As(err, &fe) || len(fe.Want) < 50 {
		t.Errorf("%v", err)
	}
}

// TestTablesStateOrigin: each row of the tables in Go names source, condition and
// licence; a row from memory is given out only by its name.
func TestTablesStateOrigin(t *testing.T) {
	for _, b := range BodyCapacitances() {
		if b.Source.Cite == "" || b.Condition == "" || b.Licence == "" || b.Source.Provenance != known.Published {
			t.Errorf("%+v", b)
		}
	}
	for _, i := range Ignitables() {
		if i.Source.Cite == "" || i.Condition == "" || i.Licence == "" || i.Source.Provenance != known.Published {
			t.Errorf("%+v", i)
		}
	}
	b, err := FindBodyCapacitance("human body model")
	if err != nil || b.Source.Provenance != known.Memory {
		t.Errorf("%+v, %v", b, err)
	}
}
