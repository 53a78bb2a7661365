package cure

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// stage is a station with one number of each draw for all that is not known of it.
// Columns are shared between calibrated lines and never written.
type stage struct {
	name     string
	kind     line.StationKind
	length   float64           // to the next station [m]
	tauNet   float64           // of the leak path to the next, +Inf without one [s]
	tau      column            // of each draw, instead of tauNet; nil without a law [s]
	tauDiff  float64           // of the pairing of the two faces [s]
	web      units.Temperature // of the web on the way to the next, where a station gave it; 0: that of the line
	touch    []touch
	exponent column    // of speed, of both faces [1]
	bar      *bar      // nil: no ioniser
	hidden   [2]column // gained on the way to the next by nothing that is described, per face; nil: nothing [C/m²]
}

// touch is a contact with one face.
type touch struct {
	face     int    // 0: A
	strength column // saturation at the survey's speed [C/m²]
	closes   column // 1 − e^−n, the share of the way to saturation of one pass [1]
	cover    *cover // nil: metal
}

// cover is the insulating cover of a roller: package charge, CoveredRoller.
type cover struct {
	tau, turn float64 // its time constant [s]; length of a turn [m]
	bound     float64 // charge that the gas leaves on it [C/m²]
}

// kept is the part of the cover's charge that is left after one turn. [1]
func (c *cover) kept(v float64) float64 { return numeric.Exp(-c.turn / (v * c.tau)) }

// pass is the steady state of a cover of saturation s that the web reaches with the
// charge before: the web behind it, and whether the gas rules.
func (c *cover) pass(before, s, g, kept float64) (after float64, gas bool) {
	x := 0.0
	if den := 1 - kept + kept*g/2; den > 0 {
		x = -g * (s - before/2) / den
	}
	if gas = math.Abs(x) > c.bound; gas {
		x = math.Copysign(c.bound, x)
	}
	return before + g*(s-(before-kept*x)/2), gas
}

// strengthFor is the saturation with which the web gains change: the inverse of pass.
func (c *cover) strengthFor(before, change, g, kept float64) float64 {
	if math.Abs(change) <= (1-kept)*c.bound {
		if change == 0 {
			return before / 2
		}
		return before/2 + change*(1-kept+kept*g/2)/(g*(1-kept))
	}
	return change/g + (before+math.Copysign(kept*c.bound, change))/2
}

// bar is an ioniser: by its curve where the maker's data are given, else by the share of the net that it was found to
// take.
type bar struct {
	curve           *curve // nil: no data
	face            int
	factor, found   float64 // field factor of its place now, and where it was found [1]
	far             float64 // its distance now over that where it was found [1]
	strength        column  // −ln(1 − share) where and when it was found [1]
	size            column  // net that it saw then, above 0 [C/m²]
	law             []barLaw
	twin, twinPlace column  // strength per field factor, and field factor, of a like bar; nil: none [1]
	offset          column  // net that it leaves from imbalance [C/m²]
	onset           float64 // passive: net below which it does nothing, at factor 1 [C/m²]
	supply          column  // most that it brings [A/m]
	passive, off    bool
	described       bool // no survey: its strength is that of the description
}

// barLaw is an opinion on how an ioniser answers to another place, speed or charge.
type barLaw uint8

const (
	byConduction barLaw = iota // the air conducts: the same share of any charge
	byDrift                    // ions drift in the field of the charge itself
	byTwin                     // as a like bar of the line
)

// mostShare is the greatest share of the net that a bar is credited with.
const mostShare = 0.995

// take is what the bar puts on its face of a net charge, what ruled, and the flags of its law. ratio is
// the survey's speed over v. A bar never brings more than the net beyond its offset. At another distance d from
// the web its ions are older by d over the speed that carries them, and of what recombines as dn/dt = −α·n² there
// is 1/(α·t) left: the conductivity at the web goes as 1/d, and so does the charge that drifts to it.
func (b *bar) take(i int, net, ratio, v float64) (float64, line.Mechanism, known.Validity) {
	if b.off {
		return 0, line.BelowOnset, known.Inside
	}
	if b.curve != nil {
		return b.curve.take(b, i, net, ratio, v)
	}
	z := net - b.offset[i]
	size := math.Abs(z)
	if size == 0 || !(b.factor > 0) {
		return 0, line.BelowOnset, known.Estimate
	}
	if b.onset > 0 {
		if size -= b.onset / b.factor; size <= 0 {
			return 0, line.BelowOnset, known.Estimate
		}
	}
	ruled := line.Conduction
	f := b.factor / b.found
	var share float64
	switch b.law[i] {
	case byDrift:
		r := math.Expm1(b.strength[i]) * size / b.size[i] * f * f * ratio / b.far
		share, ruled = r/(1+r), line.DriftOfIons
	case byTwin:
		k := b.strength[i] / b.found
		if w := (b.factor - b.found) / (b.twinPlace[i] - b.found); w > 0 {
			k += (b.twin[i] - k) * min(w, 1)
		}
		share = -math.Expm1(-k * b.factor * ratio / b.far)
	default:
		share = -math.Expm1(-b.strength[i] * f * ratio / b.far)
	}
	got := min(share, mostShare) * size
	if most := b.supply[i] / v; got > most {
		got, ruled = most, line.SupplyOfIons
	}
	return -math.Copysign(got, z), ruled, known.Estimate
}

// walked is the web of each draw behind each station.
type walked struct {
	a, b  []column // [C/m²]
	ruled [][]line.Mechanism
	// flags are those of a bar's law, and [known.Estimate] where a cover stands at what the gas leaves it; nil at a
	// station that has neither.
	flags [][]known.Validity
}

// walk runs draws lo … hi of the line at speed v into w.
func (m *Calibrated) walk(w *walked, v float64, lo, hi int) {
	ratio := m.speed / v
	lnRatio := math.Log(v / m.speed)
	n := hi - lo
	a, b, grow := make([]float64, n), make([]float64, n), make([]float64, n)
	for s := range m.stages {
		t := &m.stages[s]
		if s > 0 {
			m.stages[s-1].carry(a, b, v, lo, lnRatio)
		}
		ruled := w.ruled[s][lo:hi]
		if len(t.touch) > 0 {
			for i := range grow {
				grow[i] = numeric.Exp(t.exponent[lo+i] * lnRatio)
			}
			for j := range t.touch {
				face := a
				if t.touch[j].face == 1 {
					face = b
				}
				var flags []known.Validity
				if w.flags[s] != nil {
					flags = w.flags[s][lo:hi]
				}
				t.touch[j].pass(face, grow, ruled, flags, v, lo)
			}
			t.cap(a, b, m.netCap, ruled)
		}
		if t.bar != nil {
			face := a
			if t.bar.face == 1 {
				face = b
			}
			for i := range n {
				var got float64
				got, ruled[i], w.flags[s][lo+i] = t.bar.take(lo+i, a[i]+b[i], ratio, v)
				face[i] += got
			}
		}
		copy(w.a[s][lo:hi], a)
		copy(w.b[s][lo:hi], b)
	}
}

// carry takes the web to the next station: what was gained unseen, then the leak of
// net charge along a named path and the pairing of the faces.
func (t *stage) carry(a, b []float64, v float64, lo int, lnRatio float64) {
	for f, face := range [2][]float64{a, b} {
		if h := t.hidden[f]; h != nil {
			grow := numeric.Exp(0.5 * lnRatio)
			for i := range face {
				face[i] += h[lo+i] * grow
			}
		}
	}
	dwell := t.length / v
	keepDiff := numeric.Exp(-dwell / t.tauDiff)
	keep := numeric.Exp(-dwell / t.tauNet)
	if dwell == 0 || t.tau == nil && keep == 1 && keepDiff == 1 {
		return
	}
	for i := range a {
		if t.tau != nil {
			keep = numeric.Exp(-dwell / t.tau[lo+i])
		}
		net, diff := (a[i]+b[i])*keep, (a[i]-b[i])*keepDiff
		a[i], b[i] = (net+diff)/2, (net-diff)/2
	}
}

// pass is one pass of the face over the contact; flags notes where the gas ruled a cover and may be nil.
func (t *touch) pass(face, grow []float64, ruled []line.Mechanism, flags []known.Validity, v float64, lo int) {
	if t.cover == nil {
		for i, g := range t.closes[lo : lo+len(face)] {
			face[i] += g * (t.strength[lo+i]*grow[i] - face[i])
			ruled[i] = line.Transfer
		}
		return
	}
	kept := t.cover.kept(v)
	for i, g := range t.closes[lo : lo+len(face)] {
		var held bool
		face[i], held = t.cover.pass(face[i], t.strength[lo+i]*grow[i], g, kept)
		if flags != nil && held {
			flags[i] = known.Estimate
		}
		ruled[i] = line.InsulatingRoller
	}
}

// cap holds the net charge to what the gas leaves in the opening gap: the discharge
// takes its charge from the faces that touched.
func (t *stage) cap(a, b []float64, most float64, ruled []line.Mechanism) {
	for i := range a {
		over := math.Abs(a[i]+b[i]) - most
		if over <= 0 {
			continue
		}
		share := math.Copysign(over, a[i]+b[i]) / float64(len(t.touch))
		for j := range t.touch {
			if t.touch[j].face == 0 {
				a[i] -= share
			} else {
				b[i] -= share
			}
		}
		ruled[i] = line.GasCap
	}
}

// run walks all draws at speed v.
func (m *Calibrated) run(v float64) *walked {
	w := m.blank()
	inParts(Draws+1, func(lo, hi int) { m.walk(w, v, lo, hi) })
	return w
}

// blank is space for a walk.
func (m *Calibrated) blank() *walked {
	n := len(m.stages)
	w := &walked{make([]column, n), make([]column, n), make([][]line.Mechanism, n), make([][]known.Validity, n)}
	for s := range n {
		w.a[s], w.b[s] = make(column, Draws+1), make(column, Draws+1)
		w.ruled[s] = make([]line.Mechanism, Draws+1)
		if m.stages[s].bar != nil || slices.ContainsFunc(m.stages[s].touch, func(t touch) bool { return t.cover != nil }) {
			w.flags[s] = make([]known.Validity, Draws+1)
		}
	}
	return w
}
