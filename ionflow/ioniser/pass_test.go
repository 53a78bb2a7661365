package ioniser

import (
	"math"
	"testing"

	"example.org/pithball/ionflow"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g within %g", what, got, want, rel)
	}
}

// tableOf fills a table from a current.
func tableOf(i func(z float64) float64) *passes {
	p := &passes{}
	p.fill(func(z float64) (float64, ionflow.Regime, bool, float64) { return i(z), ionflow.DriftLimited, false, 0 })
	return p
}

// The three limits of T(σ1) − T(σ2) = 1/v: I = gσ, I = I_s and I = kσ².
func TestPassLimits(t *testing.T) {
	const g, is, k = 30.0, 5e-6, 2e7
	for _, z := range []float64{3e-11, 2e-9, 1.7e-7, 1e-6, 3.3e-5} {
		for _, v := range []float64{0.01, 0.3, 2, 40, 900} {
			r := tableOf(func(z float64) float64 { return g * z }).pass(z, 1/v)
			near(t, "exponential", r.taken, -z*math.Expm1(-g/v), 1e-9)
			r = tableOf(func(z float64) float64 { return is }).pass(z, 1/v)
			if want := is / v; z-want > 1e-9*z && z-want > 2*tableLeast { // below the table the current is proportional
				near(t, "constant", r.taken, want, 1e-9)
			}
			if z > 2*tableLeast && 1/(1/z+k/v) > tableLeast {
				r = tableOf(func(z float64) float64 { return k * z * z }).pass(z, 1/v)
				near(t, "quadratic", z-r.taken, 1/(1/z+k/v), 1e-8)
			}
		}
	}
}

// A mixture: conduction below, supply above, 1/I = 1/(gz) + 1/I_s, integrates to ln(z1/z2)/g + (z1 − z2)/I_s.
func TestPassMixed(t *testing.T) {
	const g, is = 10.0, 1e-5
	p := tableOf(func(z float64) float64 { return 1 / (1/(g*z) + 1/is) })
	for _, z := range []float64{1e-8, 1e-6, 2e-5} {
		for _, v := range []float64{0.5, 3, 20} {
			left := z - p.pass(z, 1/v).taken
			// Sixteen nodes a decade against a curve that bends.
			near(t, "time spent", math.Log(z/left)/g+(z-left)/is, 1/v, 3e-3)
			near(t, "time asked", p.time(z, left), 1/v, 1e-8)
			near(t, "current", p.current(z), 1/(1/(g*z)+1/is), 3e-3)
		}
	}
}

// Two passes at v are one at v/2, to rounding, since both read one table.
func TestPassTwice(t *testing.T) {
	p := tableOf(func(z float64) float64 { return 3e-6 * math.Pow(z/1e-6, 1.4) / (1 + z/1e-6) })
	for _, z := range []float64{5e-11, 1e-9, 1e-6, 7e-5} {
		one := z - p.pass(z, 2).taken
		a := z - p.pass(z, 1).taken
		near(t, "twice", a-p.pass(a, 1).taken, one, 1e-9)
	}
}

// Onset: nothing is taken at or below the first charge with a current, and no pass ends below it.
func TestPassOnset(t *testing.T) {
	p := tableOf(func(z float64) float64 { return 1e-3 * math.Max(z-1e-7, 0) })
	if p.onset < 1e-7 || p.onset > 1.2e-7 {
		t.Errorf("onset %g", p.onset)
	}
	if r := p.pass(p.onset, 1); r.taken != 0 || r.by != ionflow.BelowOnset {
		t.Error(r)
	}
	if left := 1e-6 - p.pass(1e-6, 1e9).taken; left != p.onset {
		t.Errorf("left %g", left)
	}
}

// The regime is the one that held most of the time.
func TestPassRegime(t *testing.T) {
	p := &passes{}
	p.fill(func(z float64) (float64, ionflow.Regime, bool, float64) {
		if z > 1e-6 {
			return 1e-6, ionflow.SupplyLimited, false, 0
		}
		return z, ionflow.ConductivityLimited, true, 0
	})
	for _, c := range []struct {
		z, tau float64
		by     ionflow.Regime
		soft   bool
	}{{5e-6, 1, ionflow.SupplyLimited, false}, {5e-6, 7, ionflow.SupplyLimited, false}, {5e-6, 9,
		ionflow.ConductivityLimited, true}, {5e-7, 1, ionflow.ConductivityLimited, true}} {
		if r := p.pass(c.z, c.tau); r.by != c.by || r.soft != c.soft {
			t.Errorf("%+v: %+v", c, r)
		}
	}
}
