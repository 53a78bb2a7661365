package counter

import (
	"math"

	"example.org/pithball/internal/numeric"
)

// Layers of the ziggurat.
const (
	layers   = 128
	tailFrom = 3.442619855899      // right end of the lowest layer, where the tail begins
	area     = 9.91256303526217e-3 // of each layer under exp(−x²/2)
	step     = 0x9E3779B97F4A7C15  // of the counter
)

func mix(z uint64) uint64 {
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
	z = (z ^ (z >> 27)) * 0x94D049BB133111EB
	return z ^ (z >> 31)
}

// Normals fills dst with the standard normal numbers at, at+1, … of the stream seed: the
// ziggurat of Marsaglia and Tsang (J. Stat. Softw. 5 (2000) 8) with 128 layers, as
// Doornik has it (2005): layer and place come from different bits. They are other numbers than those of [Normal], and
// several times as quick.
func Normals(dst []float64, seed, at uint64) { // [1]
	z := seed + at*step
	for k := range dst {
		z += step
		u := mix(z)
		i := u % layers
		x := float64(int64(u)>>11) * 0x1p-52 // −1 … 1
		if math.Abs(x) < layerIn[i] {
			dst[k] = x * layerX[i]
			continue
		}
		dst[k] = slowNormal(u)
	}
}

// slowNormal goes on from a number that fell outside the part of its layer that needs no
// look at the density: one in a hundred.
func slowNormal(u uint64) float64 { // [1]
	s := mix(u ^ 0xD1B54A32D192ED03) // a stream of its own
	uniform := func() float64 {
		s += step
		return (float64(mix(s)>>11) + 0.5) * 0x1p-53 // in (0, 1)
	}
	for {
		i := u % layers
		x := float64(int64(u)>>11) * 0x1p-52
		if math.Abs(x) < layerIn[i] {
			return x * layerX[i]
		}
		if i == 0 { // the tail, by Marsaglia
			for {
				a, b := -math.Log(uniform())/tailFrom, -math.Log(uniform())
				if 2*b > a*a {
					return math.Copysign(tailFrom+a, x)
				}
			}
		}
		x *= layerX[i]
		f0 := numeric.Exp((x*x - layerX[i]*layerX[i]) / 2)
		f1 := numeric.Exp((x*x - layerX[i+1]*layerX[i+1]) / 2)
		if f1+uniform()*(f0-f1) < 1 {
			return x
		}
		s += step
		u = mix(s)
	}
}
