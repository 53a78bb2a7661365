package ioniser

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// curvePoints is the most points of a branch.
const curvePoints = 64

// point is one state of a source that delivers a current: its characteristic curve.
type point struct {
	current float64 // [A/m] that it delivers
	field   float64 // [V/m] at the web
	voltage float64 // [V] across the gap
	peak    float64 // [V/m] greatest field in the gap
	regime  ionflow.Regime
	soft    bool // an estimate of this package decides here
}

// channel is one way in which ions reach a web. Its current is 0 between two charges of the web (equal
// but for passive points), beyond which one of the branches delivers. Fields and voltages of the ends are
// those of points; a charge is ε0·(field + voltage/h) with h the gap to metal behind the web.
type channel struct {
	kind      channelKind
	low, high point // ends of the interval of rest
	// origin is the state that a branch counts from: the end of the interval, or for a stream that turns at the web
	// zero, because it leaves its surplus sideways and the interval is only a bound.
	lowOrigin, highOrigin point
	// Branches for a web below low and above high; fields and voltages of those below are negative.
	below, above       []point
	belowTop, aboveTop float64 // [A/m] emission of the polarity needed
}

type channelKind uint8

const (
	streamChannel channelKind = iota
	stillChannel
	pointChannel
)

// charge returns the charge density of a web in this state, before metal at the gap h (1/h given).
func (p *point) charge(perGap float64) float64 { // perGap [1/m]; [C/m²]
	return units.Epsilon0 * (p.field + p.voltage*perGap)
}

// track is a branch before metal at one distance: current against the charge beyond the interval of rest.
type track struct {
	n       int
	z, i, a [curvePoints]float64 // [C/m²], [A/m], [1] exponent up to the next
	at      [curvePoints]uint8   // index of the point of the branch
	from    []point
}

// lay fills the track. Points at which the charge does not rise are dropped; the current is made
// to rise from the top down, for delivered current may step back where like ions are trapped.
func (t *track) lay(branch []point, origin *point, sign, perGap float64) {
	t.n, t.from = 0, branch
	zero := origin.charge(perGap)
	for k := range branch {
		z := sign * (branch[k].charge(perGap) - zero)
		if !(z > 0) || t.n > 0 && !(z > t.z[t.n-1]*(1+1e-12)) || !(branch[k].current > 0) {
			continue
		}
		t.z[t.n], t.i[t.n], t.at[t.n] = z, branch[k].current, uint8(k)
		t.n++
	}
	for k := t.n - 2; k >= 0; k-- {
		if t.i[k+1] < t.i[k] {
			t.i[k] = t.i[k+1]
		}
	}
	for k := range t.n - 1 {
		t.a[k] = math.Log(t.i[k+1]/t.i[k]) / math.Log(t.z[k+1]/t.z[k])
	}
}

// current returns the current at z, and the index of the point below; linear in z below the first point,
// constant above the last.
func (t *track) current(z float64) (float64, int) {
	if t.n == 0 || !(z > 0) {
		return 0, 0
	}
	if z <= t.z[0] {
		return t.i[0] * z / t.z[0], int(t.at[0])
	}
	lo, hi := 0, t.n
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; t.z[mid] <= z {
			lo = mid
		} else {
			hi = mid
		}
	}
	if lo == t.n-1 {
		return t.i[lo], int(t.at[lo])
	}
	return t.i[lo] * numeric.Exp(t.a[lo]*math.Log(z/t.z[lo])), int(t.at[lo])
}
