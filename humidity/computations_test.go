package humidity_test

import (
	"math"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/apicheck"
	"example.org/pithball/testdata"
)

// TestRows computes every row of testdata/humidity.json through the registry.
// Rows that rest on memory are run too, but count for nothing.
func TestRows(t *testing.T) {
	rows, err := testdata.Rows("humidity")
	if err != nil {
		t.Fatal(err)
	}
	list := humidity.Computations()
	proofs := 0
	for i := range rows {
		o := rows[i].Evaluate(list)
		if err := o.Fault(); err != nil {
			t.Error(err)
		}
		if rows[i].Proof() {
			proofs++
		}
	}
	t.Logf("%d rows, %d of them proof", len(rows), proofs)
	if len(rows) < 76 {
		t.Errorf("%d rows, the reference has 76", len(rows))
	}
}

// TestRegistryCovers fails when an exported computation is not reachable
// through the registry.
func TestRegistryCovers(t *testing.T) {
	exempt := map[string]string{
		"Equations":                     "a list of names",
		"Models":                        "a list of names",
		"Equation.OverIce":              "a property of the name",
		"Equation.Range":                "a property of the name",
		"Equation.Source":               "a property of the name",
		"Demand.Notice":                 "a text",
		"Room.Spec":                     "what the room was made from",
		"Air.Model":                     "what the air was made by",
		"Air.RelativeHumidityAtTo":      "the column form of Air.At",
		"DewPoint":                      "a measure for AirFrom, which takes it by kind",
		"FrostPoint":                    "a measure for AirFrom, which takes it by kind",
		"WetBulb":                       "a measure for AirFrom, which takes it by kind",
		"HumidityRatio":                 "a measure for AirFrom, which takes it by kind",
		"VapourPressure":                "a measure for AirFrom, which takes it by kind",
		"AirModel.Water":                "a property of the name",
		"AirModel.Ice":                  "a property of the name",
		"Enthalpy":                      "a measure for AirFrom, which takes it by kind",
		"Material.Missing":              "names of what the table does not hold",
		"Materials":                     "the table, told entry by entry",
		"Psychrometer.Shows":            "a measure for AirFrom, which takes it by kind",
		"Psychrometer.ShowsSupercooled": "a measure for AirFrom, which takes it by kind",
		"Sourced.Source":                "where the law comes from",
		"Sourced.IsZero":                "whether there is a law",
		"SourcedIsotherm.Source":        "where the isotherm comes from",
		"SourcedIsotherm.IsZero":        "whether there is an isotherm",
	}
	for _, line := range apicheck.Unreached(".", exempt) {
		t.Error(line)
	}
}

// TestRegistryIsSound calls every entry with arguments inside its ranges: what
// comes back is a number; NaN never enters.
func TestRegistryIsSound(t *testing.T) {
	// Ordinary arguments by name, where the middle of the range is no air.
	ordinary := map[string]float64{"temperature": 296.15, "rh": 0.5, "pressure": 101325, "outdoor": 283.15,
		"indoor": 295.15, "surface": 300,
		"start": 0.4, "target": 0.45, "feed": 288, "volume": 3000, "ventilation": 1, "gain": 1e-3, "time": 3600, "a": 295,
		"b": 0.4, "kind_b": 1, "kind_a": 0,
		"rh1": 0.3, "rh2": 0.6, "value1": 1e12, "value2": 1e9, "sample": 0, "vapour_density": 0.008, "t0": 293, "t1": 320,
		"monolayer": 0.05, "c": 10, "k": 0.7,
		"m0": 0.06, "m": 0.07, "n": 10, "equation": 0, "altitude": 500, "co2": 4e-4, "d": 4e-13, "thickness": 5e-5,
		"shift": 0.1, "t2": 350, "m1": 0.05, "m2": 0.1, "hour1": 0.4, "slope": 0.05, "low": 0.1, "high": 0.9, "wet": 1e9,
		"limit": 1e10, "film": 8, "length": 1, "width": 0.7, "height": 0.8, "diameter": 0, "share": 0.5}
	seen := map[string]bool{}
	for _, e := range humidity.Computations() {
		if seen[e.Name] || e.Doc == "" || len(e.Results) == 0 || e.Source.Provenance == 0 {
			t.Errorf("%s: repeated, or without doc, result or source", e.Name)
		}
		seen[e.Name] = true
		args := make([]float64, len(e.Args))
		for i := range e.Args {
			a := &e.Args[i]
			if a.Doc == "" || a.Unit == "" || !(a.Low <= a.High) {
				t.Errorf("%s.%s: no doc, unit or range", e.Name, a.Name)
			}
			v, ok := ordinary[a.Name]
			if !ok || v < a.Low || v > a.High {
				v = a.Low
				if a.Low > 0 {
					v = math.Sqrt(a.Low) * math.Sqrt(a.High)
				}
			}
			args[i] = v
		}
		results := make([]float64, len(e.Results))
		if err := e.Call(results, args); err != nil {
			t.Errorf("%s%v: %v", e.Name, args, err)
		}
		for i, r := range results {
			if math.IsNaN(r) || math.IsInf(r, 0) {
				t.Errorf("%s%v: result %s is %v", e.Name, args, e.Results[i].Name, r)
			}
		}
		for i := range args {
			bad := append([]float64(nil), args...)
			bad[i] = math.NaN()
			if err := e.Call(results, bad); err == nil {
				t.Errorf("%s: NaN for %s is no error", e.Name, e.Args[i].Name)
			}
		}
	}
}
