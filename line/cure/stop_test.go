package cure

import (
	"context"
	"errors"
	"testing"

	"example.org/pithball/internal/ticking"
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
