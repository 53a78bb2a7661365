package field_test

import (
	"testing"

	"example.org/pithball/charge/field"
	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{field.FieldMeter{}, field.ChargedPile{}, field.Roll{}, field.Voltmeter{}}
	for _, f := range zerocheck.Faults(".", values, nil, map[string]string{
		"ChargedPile.Spec": "what it was made from: nothing",
		"FieldMeter.Spec":  "what it was made from: nothing",
		"Roll.Spec":        "what it was made from: nothing",
		"Voltmeter.Spec":   "what it was made from: nothing",
		"FieldMeter.With":  "the zero FieldMeter again",
		"Voltmeter.With":   "the zero Voltmeter again",
	}) {
		t.Error(f)
	}
}

// TestSpecs: what is made gives back what it was made from, the zero value nothing.
func TestSpecs(t *testing.T) {
	ms := field.FieldMeterSpec{Nominal: 25 * units.Millimetre, Guarded: true, FullScale: 20 * units.KilovoltDisplayed,
		Gain: known.Band{Value: 1.02, Spread: 0.05, Kind: known.Normal}}
	vs := field.VoltmeterSpec{FullScale: 3 * units.Kilovolt, Floor: 5, Gain: known.Band{Value: 0.99}}
	m, err1 := field.NewFieldMeter(ms)
	v, err2 := field.NewVoltmeter(vs)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if m.Spec() != ms || v.Spec() != vs || (field.FieldMeter{}).Spec() != (field.FieldMeterSpec{}) ||
		(field.Voltmeter{}).Spec() != (field.VoltmeterSpec{}) {
		t.Errorf("%+v, %+v", m.Spec(), v.Spec())
	}
	if got := m.With(2, 100).Spec(); got != ms { // a copy of the class keeps the class
		t.Errorf("With: %+v", got)
	}
}
