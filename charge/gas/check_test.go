package gas

import (
	"math"
	"testing"
)

func checkNear(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g (off by %.3g)", what, got, want, tol, got-want)
	}
}
