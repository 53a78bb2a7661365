package progress_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"example.org/pithball/internal/progress"
)

// TestProgress: shares come to whoever asked, those of a part as shares of the whole, steps as shares of their part;
// without one who asks nothing is done.
func TestProgress(t *testing.T) {
	var got []string
	ctx := progress.With(t.Context(), func(part string, share float64) { got = append(got, fmt.Sprint(part, share)) })
	progress.Tell(ctx, 0.25)
	part := progress.Part(ctx, 0.5, 1)
	progress.Tell(part, 0)
	progress.Tell(progress.Part(part, 0.5, 1), 0.5)
	c := progress.Begin(ctx, "a ", 2)
	for range 3 { // one more than was said
		c.Next()
	}
	progress.Begin(ctx, "b ", 0).Next()
	if want := []string{"0.25", "0.5", "0.875", "a 0", "a 0.5", "a 1", "a 1", "b NaN", "b NaN"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	none := context.Background()
	if progress.Part(none, 0, 1) != none {
		t.Error("a part of nothing is something")
	}
	if progress.Asked(none) || !progress.Asked(part) {
		t.Error("who asks")
	}
	if n := testing.AllocsPerRun(100, func() {
		progress.Tell(none, 0.5)
		progress.Begin(none, "a", 2).Next()
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
