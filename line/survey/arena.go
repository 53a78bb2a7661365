package survey

import "sync"

// arena lends room for numbers that one step of a diagnosis needs and the next does not.
// What was taken since a mark goes back together. All of it is zero when it is taken, so
// that nothing of an earlier survey is seen. A nil arena allocates.
type arena struct {
	blocks   [][]float64
	at, used int // block, and numbers taken of it
}

// place is how far an arena was taken.
type place struct{ at, used int }

// A block has at least so many numbers; an arena of more than arenaMost is not kept.
const (
	blockLeast = 1 << 15
	arenaMost  = 1 << 21
)

// arenas are those that no diagnosis uses.
var arenas = sync.Pool{New: func() any { return new(arena) }}

// take lends n zeros.
func (a *arena) take(n int) []float64 { // [unit of what they are for]
	if a == nil {
		return make([]float64, n)
	}
	for a.at < len(a.blocks) && a.used+n > len(a.blocks[a.at]) {
		a.at, a.used = a.at+1, 0
	}
	if a.at == len(a.blocks) {
		a.blocks = append(a.blocks, make([]float64, max(n, blockLeast)))
	}
	x := a.blocks[a.at][a.used : a.used+n : a.used+n]
	a.used += n
	clear(x)
	return x
}

// copied lends a copy.
func (a *arena) copied(x []float64) []float64 { // [unit of x]
	out := a.take(len(x))
	copy(out, x)
	return out
}

func (a *arena) mark() place {
	if a == nil {
		return place{}
	}
	return place{a.at, a.used}
}

// back takes back what was lent since the mark.
func (a *arena) back(p place) {
	if a != nil {
		a.at, a.used = p.at, p.used
	}
}

// leave gives the arena to the next diagnosis, a huge one to nobody.
func (a *arena) leave() {
	if a.size() <= arenaMost {
		a.back(place{})
		arenas.Put(a)
	}
}

// size is the numbers that all blocks hold.
func (a *arena) size() int {
	size := 0
	for _, b := range a.blocks {
		size += len(b)
	}
	return size
}
