package survey

import (
	"slices"
	"testing"
)

// TestArena: what is lent is zero whatever lay there, pieces do not overlap, a piece that is
// larger than a block has one of its own, and what was lent before a mark stays.
func TestArena(t *testing.T) {
	a := new(arena)
	kept := a.take(3)
	kept[0], kept[1], kept[2] = 1, 2, 3
	p := a.mark()
	for _, n := range []int{5, blockLeast, 0, 7, 3 * blockLeast} {
		x := a.take(n)
		if len(x) != n || cap(x) != n {
			t.Errorf("%d numbers asked, %d lent of %d", n, len(x), cap(x))
		}
		for i := range x {
			if x[i] != 0 {
				t.Fatalf("%d numbers: number %d is %v", n, i, x[i])
			}
			x[i] = 9
		}
	}
	blocks := len(a.blocks)
	a.back(p)
	if x := a.take(4 * blockLeast / 2); slices.Max(x) != 0 || slices.Min(x) != 0 {
		t.Error("what was given back is not zero when it is lent again")
	}
	a.back(p)
	again := a.copied(kept)
	again[0] = 7
	if !slices.Equal(kept, []float64{1, 2, 3}) {
		t.Errorf("kept %v", kept)
	}
	if len(a.blocks) != blocks {
		t.Errorf("%d blocks, %d after all of it was given back", blocks, len(a.blocks))
	}
	two := &arena{blocks: [][]float64{make([]float64, 5), make([]float64, 7)}}
	if got := two.size(); got != 12 {
		t.Errorf("blocks of 5 and 7 hold %d numbers", got)
	}
	var none *arena
	none.back(none.mark())
	if x := none.take(4); len(x) != 4 {
		t.Error("no arena lends nothing")
	}
}

// TestFactorIsKept: solving again gives what a solution from the start gives, to the bit,
// whether values, variances or a row have changed since.
func TestFactorIsKept(t *testing.T) {
	set := func(d *dual) {
		copy(d.h, []float64{1, 0, 2, 1, 1, 1})
		copy(d.prior, []float64{4, 9, 1})
		copy(d.v, []float64{0.5, 0.25})
		copy(d.y, []float64{3, -1})
	}
	kept := newDual(3, 2, nil)
	set(kept)
	kept.solve()
	for name, change := range map[string]func(d *dual){
		"nothing": func(*dual) {}, "value": func(d *dual) { d.y[1] = 2 }, "mean": func(d *dual) { d.m[0] = 1 },
		"prior": func(d *dual) { d.prior[1] = 8 }, "row variance": func(d *dual) { d.v[0] = 2 },
		"row": func(d *dual) { d.h[1] = 3 },
	} {
		fresh := newDual(3, 2, nil)
		set(fresh)
		set(kept)
		clear(kept.m)
		kept.solve()
		change(fresh)
		change(kept)
		fresh.solve()
		kept.solve()
		if !slices.Equal(fresh.q, kept.q) || !slices.Equal(fresh.mean, kept.mean) || fresh.log != kept.log ||
			!slices.Equal(fresh.alpha, kept.alpha) {
			t.Errorf("%s: another solution", name)
		}
	}
}
