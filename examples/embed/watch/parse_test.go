package main

import (
	"math"
	"testing"
)

// FuzzParse: no message makes the reader panic, and a value is finite or NaN, never an infinity.
func FuzzParse(f *testing.F) {
	for _, s := range []string{`{"time":"2026-01-14T10:00:00Z","sensor":"a","shows":"-1.2 kV","speed":"3 m/s","humidity":"40 %RH"}`,
		`{}`, `null`, `[]`, `{"shows":null}`, `{"shows":"NaN"}`, `{"shows":""}`, `{"shows":"1e999 V"}`, `{"speed":"NaN"}`,
		`{"sensor":1}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := parse(b)
		if err != nil {
			return
		}
		for _, v := range []float64{float64(s.Shows), float64(s.Speed), float64(s.Humidity)} {
			if math.IsInf(v, 0) {
				t.Fatalf("%s: %+v", b, s)
			}
		}
	})
}
