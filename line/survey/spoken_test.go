package survey

import (
	"math"
	"testing"
)

// TestSpoken: three spots (2 degrees of freedom, known as by 3 more) with 1 V² a (µC/m²)², faces of 0.9991 and a net of
// 0.2491 (µC/m²)², which with 0.03² for what is on every web are 1 and 1/4. By hand, −½·2·ln v − ½·5·ln(1 + S/(3v)):
// squares of 30 V² weigh −2.5·ln 11 = −5.9947 by the faces, −ln ¼ − 2.5·ln 41 = −7.8976 by the net, and behind a bar
// that is on half of each, ln(½e^−5.9947 + ½e^−7.8976) = −6.5489.
func TestSpoken(t *testing.T) {
	p := patch{n: 3, squares: 30, per: 1}
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-4) {
			t.Errorf("%s: %v, by hand %v", what, got, want)
		}
	}
	near("faces", p.log(1, 0.9991, 0.2491), -5.9947)
	near("net as much as the faces", p.log(1, 0.2491, 7), -7.8976)
	p.barred = true
	near("behind a bar", p.log(1, 0.9991, 0.2491), -6.5489)
	p.barred = false
	// Three quarters of that, less ½(ln κ/0.7)² for the likeliest κ of ½, 1, 2 and 4.
	c := charges{faces: []float64{0.9991}, net: []float64{0.2491}}
	near("κ = 2", c.spoken([]patch{p}), -4.3700)
	p.squares = 1
	near("κ = 1", c.spoken([]patch{p}), -0.5394)
}
