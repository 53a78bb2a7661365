package ioniser

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// regimes is the number of regimes.
const regimes = int(ionflow.PointField) + 1

// The table of a place: charges beyond the interval of rest, evenly in the logarithm.
const (
	tableNodes = 113
	tableLeast = 1e-10 // [C/m²]
	tableSpan  = 1e7   // [1] greatest over least
)

// passes is the table of one side: T(z) = ∫dz/I with z the charge beyond the interval of rest. Between nodes
// the current is a power of z, below the first it is proportional to z, or nothing.
type passes struct {
	idle   bool    // no current anywhere
	onset  float64 // [C/m²] below it nothing is taken
	first  int     // first node with a current
	strong float64 // [C/m²] from which on the field in the gap is above that of a discharge
	i, a   [tableNodes]float64
	t      [tableNodes]float64          // [s/m] from the first node up
	by     [tableNodes][regimes]float64 // [s/m] the same, by regime
	soft   [tableNodes]float64          // [s/m] the same, where an estimate decides
	regime [tableNodes]ionflow.Regime   // from the node to the next
	weak   [tableNodes]bool             // see soft
}

// fill makes the table from a current at each node.
func (p *passes) fill(at func(z float64) (current float64, r ionflow.Regime, soft bool, peak float64)) {
	p.idle, p.first, p.strong = true, 0, math.Inf(1)
	for k, z := range tableAt {
		var peak float64
		p.i[k], p.regime[k], p.weak[k], peak = at(z)
		if peak > discharge && z < p.strong {
			p.strong = z
		}
	}
	for k := tableNodes - 2; k >= 0; k-- { // rising currents rise by more than rounding
		p.i[k] = min(p.i[k], p.i[k+1])
	}
	for k := range p.i {
		if p.i[k] > 0 {
			p.idle, p.first = false, k
			break
		}
	}
	if p.idle {
		return
	}
	if p.first > 0 {
		p.onset = tableAt[p.first]
	}
	for k := p.first; k < tableNodes-1; k++ {
		p.a[k] = math.Log(p.i[k+1]/p.i[k]) / tableStep
		dt := stretch(p.a[k], tableStep) * tableAt[k] / p.i[k]
		p.t[k+1], p.by[k+1], p.soft[k+1] = p.t[k]+dt, p.by[k], p.soft[k]
		p.by[k+1][p.regime[k]] += dt
		if p.weak[k] {
			p.soft[k+1] += dt
		}
	}
}

// stretch returns (e^((1−a)·l) − 1)/(1 − a), ∫dz/I over a stretch l of ln z in units of z/I at its lower end.
func stretch(a, l float64) float64 { // [1]
	b := (1 - a) * l
	if math.Abs(b) < 1e-7 {
		return l * (1 + b/2)
	}
	return math.Expm1(b) / (1 - a)
}

// shrunk returns ln(z'/z) after the time τ in units of z/I at z, with I ∝ z^a on the way.
func shrunk(a, tau float64) float64 { // [1]
	b := (1 - a) * tau
	switch {
	case math.Abs(b) < 1e-7:
		return -tau * (1 + b/2)
	case b >= 1:
		return math.Inf(-1)
	}
	return math.Log1p(-b) / (1 - a)
}

// run is what became of a web on one pass.
type run struct {
	taken float64 // [C/m²]
	by    ionflow.Regime
	soft  bool // an estimate decided
	above bool // beyond the table or in a field of discharge
}

// pass takes a web with the charge z beyond the interval of rest through the zone in the time per length tau, 1/v.
func (p *passes) pass(z, tau float64) run { // [C/m²], [s/m]
	r := run{by: ionflow.BelowOnset, above: z > p.strong}
	if p.idle {
		r.by = ionflow.Idle
		return r
	}
	if z <= p.onset {
		return r
	}
	k := int(math.Log(z/tableLeast) / tableStep)
	if k >= tableNodes-1 {
		k, r.above = tableNodes-1, true
	}
	if z < tableAt[p.first] || k < p.first {
		k = p.first
		z1 := tableAt[k]
		r.by, r.soft = p.regime[k], p.weak[k]
		r.taken = -z * math.Expm1(-tau*p.i[k]/z1)
		return r
	}
	// From z down to its node, with the exponent of this stretch (0 above the table).
	a, l := p.a[k], math.Log(z/tableAt[k])
	down := stretch(a, l) * tableAt[k] / p.i[k]
	spent := [regimes]float64{}
	if down >= tau {
		s := shrunk(a, tau*p.i[k]*numeric.Exp((a-1)*l)/tableAt[k])
		r.taken, r.by, r.soft = -z*math.Expm1(s), p.regime[k], p.weak[k]
		return r
	}
	spent[p.regime[k]] += down
	soft := 0.0
	if p.weak[k] {
		soft = down
	}
	rest := tau - down
	// Lowest node that is still reached.
	lo, hi := p.first, k
	for lo < hi {
		if mid := (lo + hi) / 2; p.t[k]-p.t[mid] <= rest {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	for g := range spent {
		spent[g] += p.by[k][g] - p.by[lo][g]
	}
	soft += p.soft[k] - p.soft[lo]
	rest -= p.t[k] - p.t[lo]
	z1 := tableAt[lo]
	var end float64
	g := p.first
	switch {
	case lo > p.first:
		g = lo - 1
		// The time in units of z/I at the upper end of the stretch below.
		end = z1 * numeric.Exp(shrunk(p.a[g], rest*p.i[lo]/z1))
	case p.onset > 0:
		end = z1 // nothing is taken below
	default:
		end = z1 * numeric.Exp(-rest*p.i[lo]/z1)
	}
	spent[p.regime[g]] += rest
	if p.weak[g] {
		soft += rest
	}
	r.taken = z - end
	for g := range spent {
		if spent[g] > spent[r.by] {
			r.by = ionflow.Regime(g)
		}
	}
	r.soft = soft > tau/2
	return r
}

// discharge is the field above which air breaks down over gaps of millimetres and more.
const discharge = 3e6 * float64(units.VoltPerMetre)

// current returns the current at z beyond the interval of rest.
func (p *passes) current(z float64) float64 { // [A/m]
	if p.idle || z <= p.onset {
		return 0
	}
	k := int(math.Log(z/tableLeast) / tableStep)
	if z < tableAt[p.first] || k < p.first {
		return p.i[p.first] * z / tableAt[p.first]
	}
	k = min(k, tableNodes-1)
	return p.i[k] * numeric.Pow(z/tableAt[k], p.a[k])
}

// time returns the time per length from z to end, both beyond the interval of rest.
func (p *passes) time(z, end float64) float64 { // [s/m]
	if p.idle || end < p.onset {
		return math.Inf(1)
	}
	return p.since(z) - p.since(end)
}

// since returns T at z; it is negative below the first node.
func (p *passes) since(z float64) float64 { // [s/m]
	k := int(math.Log(z/tableLeast) / tableStep)
	if z < tableAt[p.first] || k < p.first {
		return math.Log(z/tableAt[p.first]) * tableAt[p.first] / p.i[p.first]
	}
	k = min(k, tableNodes-1)
	return p.t[k] + stretch(p.a[k], math.Log(z/tableAt[k]))*tableAt[k]/p.i[k]
}
