package survey

import (
	"fmt"

	"example.org/pithball/internal/written"
)

// micro writes a charge density with two significant figures and its sign.
func micro(x float64) string { return signed2(x * 1e6) } // x [C/m²]

// micros writes an estimate with no digit that its band does not support.
func micros(e Estimate) string {
	lo, mid, hi := e.Band()
	return microBand([3]float64{lo, mid, hi}) + " µC/m²"
}

func microBand(q [3]float64) string { // [C/m²]
	low, middle, high := written.Band(q[0]*1e6, q[1]*1e6, q[2]*1e6)
	return fmt.Sprintf("%s (%s … %s)", written.Plus(middle), written.Plus(low), written.Plus(high))
}

// signed2 writes a number with two significant figures, its sign and no exponent.
func signed2(x float64) string { return written.Plus(figure(x)) }

// figure writes a number with two significant figures and no exponent.
func figure(x float64) string { return written.Figure(x, 2) }
