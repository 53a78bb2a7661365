package survey

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/units"
)

// A line on which no contact does anything worth a cure is one explanation of its
// own: then all contacts are weak together. The description cannot say so, because
// it speaks of each contact by itself. quietSpread of the limit is what the contacts
// of a quiet line do to a face.
const quietSpread = 0.5

// quiet is the chance that nothing comes near the limit, against all explanations
// in which one contact, or something unlisted, does. It judges what was read: a
// contact that no reading sees speaks neither for it nor against it.
func (d *Diagnosis) quiet(groups []*group, conds []condition) float64 {
	defer d.room.back(d.room.mark())
	defer d.passing.back(d.passing.mark())
	m := newModel(d, groups, conds, d.passing)
	l := m.lay
	spread := sq(quietSpread * float64(d.line.Limit()) * 1e6)
	for k := range l.changes {
		if !l.bar[k] {
			l.wide[k] = max(l.prior[k], sq(2*freeSpread/3)) // strong is anything that a web carries
			l.prior[k], l.mean[k], m.dual.m[k] = spread, 0, 0
		}
	}
	for i := range l.layerWide {
		l.layerWide[i] = max(l.layerWide[i], sq(2*freeSpread/3))
	}
	m.quiet = true
	m.doubts = m.newDoubts()
	calm := m.rounds(true)
	best := calm.clone(d.room)
	best.climb(m, nil, 6, true)
	source := make([]bool, len(m.doubts))
	for i := range m.doubts {
		source[i] = m.doubts[i].row < 0
		if source[i] && calm.on[i] {
			calm.flip(m, i)
		}
	}
	calm.climb(m, source, 6, false)
	d.dismissed = m.dismissed(calm)
	weight := numeric.Exp(min(best.log-calm.log, 50)) // of the best explanation against the calm one
	for i, on := range best.on {
		if on && source[i] {
			return 1 / (1 + weight)
		}
	}
	var others float64
	for i := range m.doubts {
		if !source[i] {
			continue
		}
		if g := calm.gain(m, i); math.Abs(g-m.doubts[i].odds) > 0.5 {
			others += numeric.Exp(min(g, 50))
		}
	}
	return 1 / (1 + others)
}

// PlaceNet is the net charge at a place.
type PlaceNet struct {
	Station int                        // index of the place
	Net     Estimate                   // [C/m²]
	Limit   units.SurfaceChargeDensity // that it is not below
}

// netAbove is the place at which the net charge was read whose band reaches farthest, nil
// if no band reaches the limit: what many weak contacts add up to may, while none of them
// does.
func (d *Diagnosis) netAbove() *PlaceNet {
	var out *PlaceNet
	most := float64(d.line.Limit())
	for _, g := range d.model.groups {
		if e := d.States[g.Station].Net; !g.OverFilm && max(e.High, -e.Low) > most {
			out, most = &PlaceNet{g.Station, e, d.line.Limit()}, max(e.High, -e.Low)
		}
	}
	return out
}

// dismissed reports whether an explanation takes several readings of one place as wrong.
func (m *model) dismissed(sp *space) bool {
	gone := map[*group]float64{}
	for i := range m.doubts {
		if r := m.doubts[i].row; r >= 0 && sp.on[i] {
			g := m.rows[r].group
			if m.rows[r].at >= 0 {
				gone[g]++
			} else {
				gone[g] += g.n
			}
			if gone[g] > 1 {
				return true
			}
		}
	}
	return false
}

// facesRead reports whether a voltmeter saw a face behind every contact that can
// charge both with opposite signs: what cancels outside no field meter sees.
func (d *Diagnosis) facesRead() (bool, []int) {
	var missing []int
	for i := range d.desc.Stations {
		if k := d.desc.Stations[i].Kind; k != line.Nip && k != line.Unwind {
			continue
		}
		seen := false
		for j := i; j < len(d.desc.Stations); j++ {
			if j > i && d.desc.Stations[j].Kind == line.Nip {
				break // a voltmeter there reads behind that contact too
			}
			if d.faceReadAt(j) {
				seen = true
				break
			}
		}
		if !seen {
			missing = append(missing, i)
		}
	}
	return len(missing) == 0, missing
}

// faceReadAt reports whether a used voltmeter reading was taken over the station.
func (d *Diagnosis) faceReadAt(station int) bool {
	for _, g := range d.model.groups {
		if g.OverFilm && g.Station == station {
			return true
		}
	}
	return false
}
