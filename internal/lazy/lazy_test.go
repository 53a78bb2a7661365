package lazy_test

import (
	"sync"
	"testing"

	"example.org/pithball/internal/lazy"
)

// TestValue: it is made once, when it is asked for, whoever asks.
func TestValue(t *testing.T) {
	made := 0
	v := lazy.Value[int]{Make: func() int { made++; return 7 }}
	if made != 0 {
		t.Error("made before it was asked for")
	}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if got := v.Get(); got != 7 {
				t.Errorf("%d", got)
			}
		})
	}
	all.Wait()
	if made != 1 {
		t.Errorf("made %d times", made)
	}
	if n := testing.AllocsPerRun(100, func() { v.Get() }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
