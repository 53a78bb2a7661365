package humidity_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/units/known"
)

// FuzzMoisture reads any text as both moistures: one basis never passes for the other, what is read is finite and reads
// back to the same bits, and a refusal leaves the value.
func FuzzMoisture(f *testing.F) {
	for _, s := range []string{"8.5 % dry basis", "7.8 % wet basis", "8.5 %", " 0 % dry basis ", "-1e-300 % wet basis",
		"NaN % dry basis",
		"1e400 % wet basis", "% dry basis", "8,5 % dry basis", "8.5 %RH % dry basis", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, m := humidity.Regain(0.5), humidity.MoistureContent(0.5)
		errR, errM := r.UnmarshalText([]byte(s)), m.UnmarshalText([]byte(s))
		if errR == nil && errM == nil {
			t.Fatalf("%q is read on both bases", s)
		}
		var e *known.FieldError
		for _, x := range []struct {
			v   float64
			err error
		}{{float64(r), errR}, {float64(m), errM}} {
			if x.err != nil && (x.v != 0.5 || !errors.As(x.err, &e)) || math.IsNaN(x.v) || math.IsInf(x.v, 0) {
				t.Fatalf("%q: %v, %v", s, x.v, x.err)
			}
		}
		if errR == nil {
			text, err := r.MarshalText()
			var back humidity.Regain
			if err != nil || back.UnmarshalText(text) != nil || back != r {
				t.Fatalf("%q: %v prints %q, %v, which reads %v", s, float64(r), text, err, float64(back))
			}
		}
		if errM == nil {
			text, err := m.MarshalText()
			var back humidity.MoistureContent
			if err != nil || back.UnmarshalText(text) != nil || back != m {
				t.Fatalf("%q: %v prints %q, %v, which reads %v", s, float64(m), text, err, float64(back))
			}
		}
	})
}
