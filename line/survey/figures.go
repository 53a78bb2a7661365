package survey

import (
	"fmt"
	"math"
	"strings"

	"example.org/pithball/internal/numeric"
)

// micro writes a charge density with two significant figures and its sign.
func micro(x float64) string { return signed2(x * 1e6) } // x [C/m²]

// micros writes an estimate with its band.
func micros(e Estimate) string {
	lo, mid, hi := e.Band()
	return fmt.Sprintf("%s (%s … %s) µC/m²", micro(mid), micro(lo), micro(hi))
}

// signed2 writes a number with two significant figures, its sign and no exponent.
func signed2(x float64) string {
	s := figure(x)
	if x = round2(x); x > 0 {
		s = "+" + s
	}
	return s
}

// figure writes a number with two significant figures and no exponent.
func figure(x float64) string {
	x = round2(x)
	if x == 0 {
		return "0"
	}
	decimals := max(0, 1-int(math.Floor(math.Log10(math.Abs(x))+1e-12)))
	return strings.Replace(fmt.Sprintf("%.*f", decimals, x), "-", "−", 1)
}

// round2 rounds to two significant figures.
func round2(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	p := numeric.Pow(10, math.Floor(math.Log10(math.Abs(x)))-1)
	return math.Round(x/p) * p
}
