package fft

import "math"

// tail bounds what the modes of a block and all later blocks can still give to a
// map, so that late maps are computed from the modes that are alive.
type tail struct {
	amp, slow []float64    // sum of the amplitudes of the block; slowest rate in it and later
	mode      []complex128 // some modes, exactly, for the least size of the map
	rate      []float64
}

func newTail(blocks int) tail {
	t := tail{amp: make([]float64, blocks), slow: make([]float64, blocks)}
	for i := range t.slow {
		t.slow[i] = math.Inf(1)
	}
	return t
}

func (t *tail) add(block int, z complex128, rate float64) {
	t.amp[block] += math.Abs(real(z)) + math.Abs(imag(z))
	t.slow[block] = math.Min(t.slow[block], rate)
}

// low keeps a mode of the first blocks.
func (t *tail) low(z complex128, rate float64) {
	t.mode = append(t.mode, z)
	t.rate = append(t.rate, rate)
}

// close turns the rates into running minima from the end.
func (t *tail) close() {
	for i := len(t.slow) - 2; i >= 0; i-- {
		t.slow[i] = math.Min(t.slow[i], t.slow[i+1])
	}
}

// top is the greatest amplitude of a single mode at a time, of those that are kept.
func (t *tail) top(at float64) float64 {
	top := 0.0
	for i, z := range t.mode {
		a := math.Max(math.Abs(real(z)), math.Abs(imag(z)))
		top = math.Max(top, a*math.Exp(-t.rate[i]*at))
	}
	return top
}

// rest bounds what the modes of a block add to any point of the map at a time.
func (t *tail) rest(block int, at float64) float64 {
	return 2 * t.amp[block] * math.Exp(-t.slow[block]*at) // each mode counts twice, with its conjugate
}

// live returns the number of blocks, at least one, to keep at a time: what the
// rest can add to any point of the map is below 2⁻⁵⁶ of top, which is less than
// the rounding of the transform.
func (t *tail) live(at, top float64) int {
	rest, n := 0.0, len(t.amp)
	for n > 1 {
		rest += t.rest(n-1, at)
		if !(rest <= top*0x1p-56) {
			break
		}
		n--
	}
	return n
}
