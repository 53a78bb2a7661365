package progress_test

import (
	"context"
	"slices"
	"testing"

	"example.org/pithball/internal/progress"
)

// TestProgress: shares come to whoever asked, those of a part as shares of the whole; without one who asks nothing is
// done.
func TestProgress(t *testing.T) {
	var got []float64
	ctx := progress.With(t.Context(), func(share float64) { got = append(got, share) })
	progress.Tell(ctx, 0.25)
	part := progress.Part(ctx, 0.5, 1)
	progress.Tell(part, 0)
	progress.Tell(progress.Part(part, 0.5, 1), 0.5)
	if want := []float64{0.25, 0.5, 0.875}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	none := context.Background()
	if progress.Part(none, 0, 1) != none {
		t.Error("a part of nothing is something")
	}
	if n := testing.AllocsPerRun(100, func() { progress.Tell(none, 0.5) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
