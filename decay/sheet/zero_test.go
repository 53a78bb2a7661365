package sheet_test

import (
	"math"
	"testing"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/internal/zerocheck"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{sheet.Antistat{}, sheet.ChargeMap{}, sheet.EarthedDisc{}, sheet.EarthedStrip{},
		sheet.FreeSpanWeb{}, sheet.NearEarthWeb{}, sheet.Sheet{}, sheet.SlotDisc{}, sheet.SlotStrip{},
		sheet.SpanCharge{}}
	for _, f := range zerocheck.Faults(".", values, nil, map[string]string{
		"Sheet.Spec":       "what it was made from: nothing",
		"FreeSpanWeb.Spec": "what it was made from: nothing",
	}) {
		t.Error(f)
	}
	// What ordinary arguments do not reach.
	for name, v := range map[string]float64{
		"Sheet.Rate":                  float64((&sheet.Sheet{}).Rate(0)),
		"SlotStrip.MeanAt":            (&sheet.SlotStrip{}).MeanAt(0),
		"SlotDisc.MeanAt":             (&sheet.SlotDisc{}).MeanAt(0),
		"EarthedStrip.At":             (&sheet.EarthedStrip{}).At(0, 0),
		"EarthedDisc.MeanAt":          (&sheet.EarthedDisc{}).MeanAt(0),
		"NearEarthWeb.ProfileAt":      (&sheet.NearEarthWeb{}).ProfileAt(0),
		"FreeSpanWeb.DownstreamShare": (&sheet.FreeSpanWeb{}).DownstreamShare(0),
		"RateFunc.Rate":               float64(sheet.RateFunc(nil).Rate(1)),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s of the zero value gives %g", name, v)
		}
	}
	if err := (&sheet.ChargeMap{}).MapTo(nil, 0); err == nil {
		t.Error("the zero ChargeMap has a map")
	}
}
