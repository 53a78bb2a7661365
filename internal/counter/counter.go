// Package counter has random numbers that depend on nothing but a seed and a
// counter: the same bits on any machine, in any order, on any number of
// goroutines.
package counter

import "math"

// Uniform returns number i of the stream seed, in [0, 1).
//
// The mixing function is SplitMix64 (Steele, Lea & Flood, "Fast splittable
// pseudorandom number generators", OOPSLA 2014, doi 10.1145/2660193.2660195).
func Uniform(seed, i uint64) float64 { // [1]
	z := seed + (i+1)*0x9E3779B97F4A7C15
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
	z = (z ^ (z >> 27)) * 0x94D049BB133111EB
	z ^= z >> 31
	return float64(z>>11) * 0x1p-53
}

// Normal returns standard normal number i of the stream seed (Box–Muller).
func Normal(seed, i uint64) float64 { // [1]
	r := math.Sqrt(-2 * math.Log1p(-Uniform(seed, 2*i)))
	return r * math.Cos(2*math.Pi*Uniform(seed, 2*i+1))
}

// Stream is standard normal numbers one after the other: the same bits for the same
// Seed and At, two for the price of one (Box–Muller). Uniform numbers from
// 2·At on are used up.
type Stream struct {
	Seed, At uint64 // of the next pair
	spare    float64
	has      bool
}

// Normal returns the next number.
func (s *Stream) Normal() float64 { // [1]
	if s.has {
		s.has = false
		return s.spare
	}
	r := math.Sqrt(-2 * math.Log1p(-Uniform(s.Seed, 2*s.At)))
	sin, cos := math.Sincos(2 * math.Pi * Uniform(s.Seed, 2*s.At+1))
	s.At++
	s.spare, s.has = r*sin, true
	return r * cos
}
