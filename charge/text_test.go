package charge_test

import (
	"testing"

	"example.org/pithball/charge"
	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/charge/hazard"
)

// enumeration is one with its text both ways.
type enumeration[T any] interface {
	*T
	UnmarshalText([]byte) error
	MarshalText() ([]byte, error)
	String() string
}

// TestEnumerationsReadBack: each name reads back as the value that wrote it; the value
// after the last is not written, and an unknown name changes nothing.
func TestEnumerationsReadBack(t *testing.T) {
	readsBack[charge.Stage](t, "stage", 3)
	readsBack[charge.Mode](t, "mode", 4)
	readsBack[charge.Cloud](t, "cloud", 3)
	readsBack[charge.PowderClass](t, "powder class", 3)
	readsBack[charge.LiquidFlow](t, "liquid flow", 3)
	readsBack[field.Facing](t, "facing", 2)
	readsBack[field.Spark](t, "spark", 4)
	readsBack[field.FacesKnown](t, "faces known", 3)
	readsBack[gas.Counter](t, "counter", 2)
	readsBack[hazard.ConductorKind](t, "conductor kind", 5)
	readsBack[hazard.GasGroup](t, "gas group", 4)
	readsBack[hazard.DischargeKind](t, "discharge kind", 4)
	readsBack[hazard.Sex](t, "sex", 2)
	readsBack[hazard.NoticeID](t, "notice", len(hazard.Notices()))
}

func readsBack[T ~uint8, P enumeration[T]](t *testing.T, what string, n int) {
	t.Helper()
	seen := map[string]bool{}
	for i := range n {
		v, back := T(i), T(255)
		text, err := P(&v).MarshalText()
		if err != nil || string(text) != P(&v).String() || seen[string(text)] {
			t.Errorf("%s %d: %q, %q, %v", what, i, text, P(&v).String(), err)
		}
		seen[string(text)] = true
		if err := P(&back).UnmarshalText(text); err != nil || back != v {
			t.Errorf("%s %d: %q reads as %d, %v", what, i, text, back, err)
		}
	}
	v := T(n)
	if text, err := P(&v).MarshalText(); err == nil {
		t.Errorf("%s: %d is written %q", what, n, text)
	}
	if err := P(&v).UnmarshalText([]byte("no such name")); err == nil || v != T(n) {
		t.Errorf("%s: an unknown name reads as %d, %v", what, v, err)
	}
}
