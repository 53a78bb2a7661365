package transport_test

import (
	"context"
	"errors"
	"math"
	"testing"
	"time"

	"example.org/pithball/internal/ticking"
	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

func alternating(t *testing.T) *transport.Transient {
	p := transport.Problem{
		Positive: transport.Carrier{Mobility: 1.4e-4, Density: 1e13},
		Negative: transport.Carrier{Mobility: 1.6e-4, Density: 1e13},
		Length:   0.1, Flow: transport.UniformFlow{Speed: 2}, Recombination: 1.6e-12, Temperature: 293.15,
		Wall: transport.Wall{Condition: transport.FixedCharge, Charge: 1e-6}}
	return newTransient(t, p, transport.TransientSettings{Tolerance: 1e-3,
		Inlet: transport.ACInlet{Frequency: 1000, Positive: 1e13, Negative: 1e13}.At})
}

// TestAdvanceStops: minutes of work end with the context, at a time reached from which the run goes on as if it had
// not been stopped.
func TestAdvanceStops(t *testing.T) {
	tr := alternating(t)
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	start := time.Now()
	err := tr.AdvanceContext(ctx, 100)
	if !errors.Is(err, context.DeadlineExceeded) {
		t.Fatal(err)
	}
	if d := time.Since(start); d > 3*time.Second { // a loaded machine; without the context it takes minutes
		t.Errorf("ended after %v", d)
	}
	at := tr.Time()
	if !(at >= 0 && at < 100) || math.IsNaN(float64(tr.Charge())) {
		t.Fatalf("state at %v: %v", at, tr.Charge())
	}
	if err := tr.Advance(at + 1e-5); err != nil || tr.Time() != at+1e-5 {
		t.Errorf("going on: %v, %v", tr.Time(), err)
	}
}

// TestAdvanceContextIsAdvance: a context that does not end changes no bit.
func TestAdvanceContextIsAdvance(t *testing.T) {
	a, b := alternating(t), alternating(t)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	if err := errors.Join(a.Advance(1e-3), b.AdvanceContext(ctx, 1e-3)); err != nil {
		t.Fatal(err)
	}
	if a.Charge() != b.Charge() || a.Potential() != b.Potential() {
		t.Errorf("%v, %v", a.Charge(), b.Charge())
	}
}

// TestSolveStops: wherever the end falls, the error is that of the context, the destination is untouched, and the
// solver goes on to solve the next problem as a new one would.
func TestSolveStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	p := ionCases(t)[0].problem()
	fresh := solve(t, newSolver(t, 1e-7, 1e-3), p)
	s := newSolver(t, 1e-7, 1e-3)
	stops := 0
	for n := 1; ; n = n*3/2 + 1 {
		left := n
		dst := transport.Solution{WallPositive: -7}
		err := s.SolveContext(ticking.Context{Context: ctx, Left: &left}, &p, &dst)
		if err == nil {
			break
		}
		if stops++; !errors.Is(err, context.Canceled) || dst.WallPositive != -7 {
			t.Fatalf("after %d: %v, %v", n, err, dst.WallPositive)
		}
	}
	if stops < 3 {
		t.Errorf("stopped %d times", stops)
	}
	var again transport.Solution
	if err := s.Solve(&p, &again); err != nil || again.WallPositive != fresh.WallPositive {
		t.Errorf("%v, want %v: %v", again.WallPositive, fresh.WallPositive, err)
	}
	// The same for a mesh of one's own.
	mesh := make([]units.Length, 301)
	for i := range mesh {
		mesh[i] = p.Length * units.Length(i) / 300
	}
	mesh[300] = p.Length
	var on transport.Solution
	if err := s.SolveOn(&p, mesh, &on); err != nil {
		t.Fatal(err)
	}
	stops = 0
	for n := 1; ; n++ {
		left := n
		dst := transport.Solution{WallPositive: -7}
		err := s.SolveOnContext(ticking.Context{Context: ctx, Left: &left}, &p, mesh, &dst)
		if err == nil {
			if dst.WallPositive != on.WallPositive {
				t.Errorf("a context changes %v to %v", on.WallPositive, dst.WallPositive)
			}
			break
		}
		if stops++; !errors.Is(err, context.Canceled) || dst.WallPositive != -7 {
			t.Fatalf("on a mesh, after %d: %v, %v", n, err, dst.WallPositive)
		}
	}
	if stops < 3 {
		t.Errorf("on a mesh stopped %d times", stops)
	}
	left := 30
	patch := transport.Patch{Column: ionCases(t)[1].problem(), Speed: 1, Footprint: 0.1}
	ending := ticking.Context{Context: ctx, Left: &left}
	if err := s.PassContext(ending, &patch, &transport.PatchResult{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a pass: %v", err)
	}
}

// TestSolveAllStops: rows that were not solved keep what they held, and each says why.
func TestSolveAllStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	p := []transport.Problem{ionCases(t)[0].problem()}
	dst := []transport.Solution{{WallPositive: -7}}
	if err := transport.SolveAllContext(ctx, dst, p, transport.SolverSettings{}, 1); !errors.Is(err, context.Canceled) ||
		dst[0].WallPositive != -7 {
		t.Errorf("%v, %v", err, dst[0].WallPositive)
	}
	j := []units.CurrentDensity{1}
	err := transport.WallCurrentsToContext(ctx, j, p, transport.SolverSettings{}, 1)
	if !errors.Is(err, context.Canceled) || !math.IsNaN(float64(j[0])) {
		t.Errorf("%v, %v", err, j[0])
	}
}
