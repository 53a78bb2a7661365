package cure

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/pithball/internal/progress"
	"example.org/pithball/internal/ticking"
	"example.org/pithball/units"
)

// TestPlanStops: wherever the end falls there is no half plan, and a context that does not end changes nothing.
func TestPlanStops(t *testing.T) {
	m := free(t, nil)
	want, err := m.Plan(Aim{})
	if err != nil {
		t.Fatal(err)
	}
	stops := 0
	for n := 0; ; n = 2*n + 1 {
		left := n
		p, err := m.PlanContext(ticking.Context{Context: t.Context(), Left: &left}, Aim{})
		if err == nil {
			if p.After != want.After || len(p.Cures) != len(want.Cures) {
				t.Error("a context changes the plan")
			}
			break
		}
		if stops++; !errors.Is(err, context.Canceled) || p != nil {
			t.Fatalf("after %d: %v, %v", n, p, err)
		}
	}
	if stops < 4 {
		t.Errorf("asked %d times only", stops)
	}
}

// TestBestSpotStops: wherever the end falls there is no half search, and a context that does not end changes nothing.
func TestBestSpotStops(t *testing.T) {
	const mm = units.Millimetre
	want, err := BestSpot(50*mm, 30*mm, 800*mm, 25*mm)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{0, 1, 100, 1999, 1e6} {
		left := n
		got, err := BestSpotContext(ticking.Context{Context: t.Context(), Left: &left}, 50*mm, 30*mm, 800*mm, 25*mm)
		if n == 1e6 && (err != nil || got != want) || n < 1e6 && (!errors.Is(err, context.Canceled) || got != BarSpot{}) {
			t.Errorf("after %d: %+v, %v", n, got, err)
		}
	}
}

// TestPlanTells: who asks how far a plan is gets its parts; the steps that were said to come have come at the end of a
// part, no more and no fewer, and the plan is the same.
func TestPlanTells(t *testing.T) {
	m := free(t, nil)
	aim := Aim{Speed: 20, Chance: 0.001} // out of reach: sets of every size are tried
	want, err := m.Plan(aim)
	if err != nil {
		t.Fatal(err)
	}
	told, shares := map[string]int{}, map[string]float64{}
	ctx := progress.With(t.Context(), func(part string, share float64) {
		if share <= shares[part] && told[part] > 0 {
			t.Errorf("%s: %v after %v", part, share, shares[part])
		}
		told[part]++
		shares[part] = share
	})
	got, err := m.PlanContext(ctx, aim)
	if err != nil {
		t.Fatal(err)
	}
	if !cmp.Equal(got.Set, want.Set) || got.After != want.After || got.Proven != want.Proven ||
		len(got.Cures) != len(want.Cures) {
		t.Error("who asks changes the plan")
	}
	for _, part := range []string{"trying changes", "trying cures alone", "trying pairs of cures",
		"trying three cures at once"} {
		if shares[part] != 1 || told[part] < 3 {
			t.Errorf("%s: told %d times, up to %v", part, told[part], shares[part])
		}
	}
	for _, part := range []string{"adding cures", "looking for the greatest speed", "trying failures"} {
		if told[part] != 1 || !math.IsNaN(shares[part]) {
			t.Errorf("%s: told %d times, %v", part, told[part], shares[part])
		}
	}
}
