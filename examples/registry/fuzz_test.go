package registry_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/examples/registry"
	"example.org/pithball/units/known"
)

// slow are computations of a tenth of a second and more; a fuzz run of them finds
// nothing in its time. They have tests of their own.
var slow = []string{"transport.", "sheet.ChargeMap", "survey.", "cure.", "upkeep.", "Farthest",
	"Search"}

// FuzzRegistry calls every public computation at, inside and outside its ranges: what
// is outside is refused by the name of the argument; what is inside gives results or an
// error that names a field; nothing panics.
func FuzzRegistry(f *testing.F) {
	list := registry.All()
	for i := range list {
		for _, at := range []byte{0, 1, 2, 3} { // all low, all high, all inside, one outside
			f.Add(uint16(i), []byte{at}, 0.37)
		}
	}
	f.Fuzz(func(t *testing.T, which uint16, where []byte, x float64) {
		e := &list[int(which)%len(list)]
		for _, s := range slow {
			if strings.Contains(e.Name, s) {
				return
			}
		}
		if len(where) == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
			return
		}
		share := math.Abs(x) - math.Floor(math.Abs(x))
		args := make([]float64, len(e.Args))
		outside := false
		for i := range args {
			a := &e.Args[i]
			switch where[i%len(where)] % 6 {
			case 0:
				args[i] = a.Low
			case 1:
				args[i] = a.High
			case 3:
				args[i] = math.Nextafter(a.High, math.Inf(1))
				if len(a.Choices) > 0 {
					args[i] = a.High + 1
				}
			case 4:
				args[i] = x
			case 5:
				args[i] = math.NaN()
			default:
				args[i] = inside(a.Low, a.High, share)
			}
			if len(a.Choices) > 0 {
				args[i] = math.Round(args[i])
			}
			outside = outside || !(args[i] >= a.Low && args[i] <= a.High)
		}
		got := make([]float64, len(e.Results))
		err := e.Call(got, args)
		var fe *known.FieldError
		switch {
		case err != nil && !errors.As(err, &fe):
			t.Errorf("%s%v: %v names no field", e.Name, args, err)
		case outside && err == nil:
			t.Errorf("%s%v: an argument outside its range is taken", e.Name, args)
		}
	})
}

// inside is a value between the ends, on a logarithmic scale where both have one sign.
func inside(lo, hi, share float64) float64 {
	if lo > 0 && hi > 0 {
		return math.Min(math.Max(lo*math.Pow(hi/lo, share), lo), hi)
	}
	return math.Min(math.Max(lo*(1-share)+hi*share, lo), hi)
}
