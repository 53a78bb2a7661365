package sheet

import (
	"math"
	"testing"
)

// TestDepositIsSmooth: what flows back from a line has its sign (the receding image of a positive charge is positive
// everywhere, see LineOnFreeSheet) and changes little from node to node, and the charge at mid-span does not hang on
// the mesh. It had the other sign at every second node.
func TestDepositIsSmooth(t *testing.T) {
	for _, vs := range []float64{0.03, 0.3, 3} {
		var mid [2]float64
		for i, step := range []float64{0.1, 0.05} {
			w := mustSpan(t, vs, step)
			c := w.FromDeposit(0.7, 1)
			mid[i] = float64(c.MidSpan)
			near(t, "share", c.DownstreamShare, w.DownstreamShare(0.7), 1e-4)
			for j := 0; c.X[j+5] < 0.7; j++ {
				if !(c.Sigma[j] >= 0) || c.X[j] > 0.3 && !(math.Abs(c.Sigma[j+1]/c.Sigma[j]-1) <= 0.25) {
					t.Errorf("v_s %g, step %g: %g at %v, then %g", vs, step, c.Sigma[j], c.X[j], c.Sigma[j+1])
				}
			}
		}
		near(t, "mid-span", mid[0], mid[1], 0.1)
	}
}
