package ionflow

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestActTo(t *testing.T) {
	n := mustNeutraliser(t, air(2.4e-9, 40e-6))
	nan := units.SurfaceChargeDensity(math.NaN())
	net := []units.SurfaceChargeDensity{1e-6, nan, -3e-6, 0}
	dst := make([]units.SurfaceChargeDensity, len(net))
	err := n.ActTo(dst, net, 3, 0.9)
	var fe *known.FieldError
	if !errors.As(err, &fe) || fe.Field != "net" || fe.Value != "rows 1" {
		t.Errorf("bad row: %v", err)
	}
	for i, s := range net {
		if want, _ := n.Act(s, 3, 0.9); dst[i] != want && i != 1 || i == 1 && !math.IsNaN(float64(dst[i])) {
			t.Errorf("row %d: %v, want %v", i, dst[i], want)
		}
	}
	many := make([]units.SurfaceChargeDensity, 20)
	for i := range many {
		many[i] = nan
	}
	if err := n.ActTo(make([]units.SurfaceChargeDensity, 20), many, 3, 0.9); !strings.Contains(err.Error(),
		"(20 in all)") {
		t.Errorf("many bad rows: %v", err)
	}
	dst[0] = 42
	for what, err := range map[string]error{
		"speed":  n.ActTo(dst, net, units.Speed(math.NaN()), 0.9),
		"factor": n.ActTo(dst, net, 3, -1),
	} {
		wantField(t, what, err, what)
	}
	if err := n.ActTo(dst[:1], net, 3, 0.9); !errors.Is(err, errColumns) || dst[0] != 42 {
		t.Errorf("lengths: %v, dst %v", err, dst[0])
	}
	good := net[2:]
	if a := testing.AllocsPerRun(50, func() { _ = n.ActTo(dst[:2], good, 3, 0.9) }); a != 0 {
		t.Errorf("%g allocations", a)
	}
}
