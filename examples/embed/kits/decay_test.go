package kits

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/decay/decaytest"
	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
)

// slow is a law of decay that knows its rate and its inverse: (1 + t/τ)^−2.
type slow struct {
	tau   units.Time
	wrong bool // takes the half-time for τ when it is asked when
}

func (s slow) Fraction(t units.Time) float64 { // [1]
	if t <= 0 {
		return 1
	}
	x := 1 + float64(t)/float64(s.tau)
	return 1 / (x * x)
}

func (s slow) Rate(t units.Time) float64 { // [1/s]
	if t < 0 {
		return 0
	}
	return -2 * math.Pow(1+float64(t)/float64(s.tau), -3) / float64(s.tau)
}

func (s slow) TimeTo(f float64) (units.Time, error) { // f [1]
	if !(f > 0 && f <= 1) {
		return 0, fmt.Errorf("fraction %v: more than 0 and at most 1", f)
	}
	t := float64(s.tau) * (1/math.Sqrt(f) - 1)
	if s.wrong {
		t *= math.Ln2
	}
	return units.Time(t), nil
}

func TestDecay(t *testing.T) {
	d := decaytest.Domain{}
	hold(t, decaytest.Laws(d))(slow{tau: 3}, slow{tau: 3, wrong: true}, "inverse")
	// It is a law of dV/dt = −2·V^1.5/τ, which can be stopped and restarted.
	restart := func(f float64) (decay.Law, error) { return slow{tau: units.Time(3 / math.Sqrt(f))}, nil }
	hold(t, decaytest.Autonomous(restart, d))(slow{tau: 3}, slow{tau: 4}, "autonomous")
	exp := decay.Function(func(t units.Time) float64 { return math.Exp(-max(float64(t), 0) / 7) })
	hold(t, decaytest.Memoryless(d))(exp, slow{tau: 3}, "memoryless")
}

// waves evolves a map by summing its waves one by one, without a fast transform.
type waves struct {
	sheet.MapSpec
	wrong bool // takes a wave of more than half the values for a short one, which it is not
}

// turned returns the transform of a row-major map along both directions.
func turned(v []complex128, rows int, sign float64) []complex128 {
	cols := len(v) / rows
	along := func(v []complex128, n, step, of int) []complex128 {
		out := make([]complex128, len(v))
		for i := range v {
			k := i / step % n
			first := i - k*step
			for j := range n {
				s, c := math.Sincos(sign * 2 * math.Pi * float64(j*k%n) / float64(n))
				out[i] += v[first+j*step] * complex(c, s)
			}
			out[i] /= complex(float64(of), 0)
		}
		return out
	}
	scale := func(n int) int {
		if sign < 0 {
			return 1
		}
		return n
	}
	return along(along(v, cols, 1, scale(cols)), rows, cols, scale(rows))
}

func (w waves) MapTo(dst []float64, t units.Time) error {
	if !(t >= 0) {
		return errors.New("before the start")
	}
	rows := max(w.Rows, 1)
	cols := len(w.Charge) / rows
	v := make([]complex128, len(w.Charge))
	for i, x := range w.Charge {
		v[i] = complex(x, 0)
	}
	v = turned(v, rows, -1)
	for i := range v {
		r, c := i/cols, i%cols
		if !w.wrong {
			r, c = min(r, rows-r), min(c, cols-c) // the wave the other way round
		}
		k := 2 * math.Pi / float64(w.Pixel) * math.Hypot(float64(r)/float64(rows), float64(c)/float64(cols))
		v[i] *= complex(math.Exp(-float64(w.Law.Rate(k))*float64(t)), 0)
	}
	for i, x := range turned(v, rows, 1) {
		dst[i] = real(x)
	}
	return nil
}

func TestSheet(t *testing.T) {
	right := func(s sheet.MapSpec) (decaytest.Evolver, error) { return waves{MapSpec: s}, nil }
	wrong := func(s sheet.MapSpec) (decaytest.Evolver, error) { return waves{MapSpec: s, wrong: true}, nil }
	hold(t, decaytest.Sheets())(right, wrong, "wave")
}
