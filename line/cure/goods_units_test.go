package cure

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestChargesWithUnits: a charge with the unit of the body is read as the number in its base unit, whatever the body; a
// hygrometer's spread keeps its own; a unit of another body is told with its line.
func TestChargesWithUnits(t *testing.T) {
	const sheet = `{
  "schema": "pithball goods 1", "name": "a \"limit\": \"1 µC/m²\" b", "kind": "sheet", "rate": "12000 1/h", "limit": LIMIT,
  "airs": [{"name": "room", "temperature": "22 °C", "relativeHumidity": "35%RH", "spread": "2 %RH"}],
  "stations": [{"name": "pile", "kind": "pile", "change": {"value": VALUE, "spread": SPREAD, "kind": "normal"}},
    {"name": "stack", "kind": "stack", "change": {"value": 0, "kind": "exact"}}],
  "readings": [{"station": "pile", "charge": CHARGE, "spread" : SPREAD}]
}`
	with := func(limit, value, spread, charge string) string {
		return strings.NewReplacer("LIMIT", limit, "VALUE", value, "SPREAD", spread, "CHARGE", charge).Replace(sheet)
	}
	want, err := ReadGoods(strings.NewReader(with("1.74e-6", "6e-6", "5e-7", "-3e-6")))
	if err != nil {
		t.Fatal(err)
	}
	got, err := ReadGoods(strings.NewReader(with(`"1.74 µC/m²"`, `"6 µC/m²"`, `"0.5 µC/m²"`, `"-3 µC/m²"`)))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "limit", got.Limit, 1.74e-6, 1e-18)
	near(t, "value", got.Stations[0].Change.Value, 6e-6, 1e-18)
	near(t, "charge", got.Readings[0].Charge, -3e-6, 1e-18)
	near(t, "hygrometer", float64(got.Airs[0].Spread), 0.02, 1e-12)
	if diff := cmp.Diff(want.Airs, got.Airs); diff != "" || got.Name != want.Name {
		t.Errorf("%s, not %s: %s", got.Name, want.Name, diff)
	}
	for kind, c := range map[BodyKind]struct {
		text string
		want float64
	}{SheetBody: {"6 µC/m²", 6e-6}, PartBody: {"25 nC", 25e-9}, ProfileBody: {"1.5 µC/m", 1.5e-6},
		DoseBody: {"-8 nC/g", -8e-6}} {
		if x, err := kind.charge(c.text); err != nil || !(x/c.want > 1-1e-12 && x/c.want < 1+1e-12) {
			t.Errorf("%v: %v, %v", kind, x, err)
		}
	}
	_, err = ReadGoods(strings.NewReader(with(`"1.74 nC"`, "6e-6", "5e-7", "0")))
	if err == nil || !strings.Contains(err.Error(), "line 2: limit") {
		t.Errorf("%v", err)
	}
}
