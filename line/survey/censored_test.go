package survey

import (
	"math"
	"testing"
)

// TestChanceBeyond: a display of which 10 V are expected with a variance of 3 + 1 V² shows at
// least 12 with the chance Φ(−1) and at most 12 with Φ(1); of an expected 12 ± √(100 + 0)
// known only to that, at least 12 with ½. A display taken as wrong says ½.
func TestChanceBeyond(t *testing.T) {
	for _, c := range []struct {
		sign, mean, cov, own float64
		wrong                bool
		want                 float64
	}{
		{1, 10, 3, 1, false, -1.8410216450}, {-1, 10, 3, 1, false, -0.1727537790},
		{1, 12, 100, 0, false, -math.Ln2}, {1, 10, 3, 1, true, -math.Ln2},
		{1, 14, 3, 1, false, -0.1727537790},
	} {
		b := &beyond{mean: []float64{c.mean}, cov: []float64{c.cov}, dropped: []bool{c.wrong}}
		var value, variance float64
		got := b.log([]censored{{sign: c.sign, bound: 12, own: c.own}}, func(_ int, y, v float64) { value, variance = y, v })
		if !(math.Abs(got-c.want) <= 1e-9) {
			t.Errorf("%+v: %.10f", c, got)
		}
		if c.wrong {
			continue
		}
		// What stands for it takes the mean to that of the normal cut at the bound:
		// mean ± cov·φ(ζ)/Φ(ζ)/√(cov+own), by hand with ζ as above.
		z := c.sign * (c.mean - 12) / math.Sqrt(c.cov+c.own)
		mills := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / (0.5 * math.Erfc(-z/math.Sqrt2))
		want := c.mean + c.sign*c.cov*mills/math.Sqrt(c.cov+c.own)
		if moved := c.mean + c.cov*(value-c.mean)/(c.cov+variance); !(math.Abs(moved-want) <= 1e-9*want) {
			t.Errorf("%+v: mean %v, by hand %v", c, moved, want)
		}
	}
}
