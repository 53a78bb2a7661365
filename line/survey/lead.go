package survey

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// draws is the number of posterior samples behind the chance that a contact is
// the main source: its standard error is below 1 % at 90 %.
const draws = 1000

// lead finds which station made the largest change of any one face: the chance
// by sampling the posterior, and the main source if the readings themselves say
// so.
func (d *Diagnosis) lead() {
	n := len(d.mean)
	stations := len(d.desc.Stations)
	wins := make([]int, stations)
	if d.factorise() {
		x, big := make([]float64, n), make([]float64, stations)
		for i := range uint64(draws) {
			d.draw(x, 1, i)
			clear(big)
			for k := range n {
				if st := d.Changes[k].Station; d.desc.Stations[st].Kind != line.Ioniser {
					big[st] = max(big[st], math.Abs(x[k]))
				}
			}
			wins[slices.Index(big, slices.Max(big))]++
		}
	}
	for st, w := range wins {
		if w > 0 {
			d.Leads = append(d.Leads, Leads{st, float64(w) / draws})
		}
	}
	slices.SortStableFunc(d.Leads, func(a, b Leads) int { return cmp.Compare(b.Chance, a.Chance) })
	if len(d.Leads) == 0 || d.Leads[0].Chance < 0.9 {
		return
	}
	// The chance may come from a wide prior alone: then the readings have not told.
	st := d.Leads[0].Station
	best := -1
	for k := range d.Changes {
		if d.Changes[k].Station == st && (best < 0 || math.Abs(d.mean[k]) > math.Abs(d.mean[best])) {
			best = k
		}
	}
	if d.Changes[best].Identified && d.Changes[best].Told > 0.5 {
		d.Main = st
	}
}

// suggest finds the one measurement that would remove most of the open variance
// of the changes: for a reading with row h and own variance r the posterior
// variance of change k falls by (C·h)_k²/(hᵀ·C·h + r). Each change counts in
// units of its prior variance.
func (d *Diagnosis) suggest(u []line.Unknown) *Suggestion {
	l := d.line
	co := l.Response(u, d.Speed, nil)
	n := len(u)
	var open float64
	for k := range n {
		if d.desc.Stations[u[k].Station].Kind != line.Ioniser {
			open += d.cov.At(k, k)
		}
	}
	var best *Suggestion
	try := func(s Suggestion, row []float64, own float64) {
		h := mat.NewVecDense(n, row)
		var ch mat.VecDense
		ch.MulVec(d.cov, h)
		den := mat.Dot(h, &ch) + own*own
		var gain float64
		for k := range n {
			if d.desc.Stations[u[k].Station].Kind != line.Ioniser {
				gain += sq(ch.AtVec(k)) / den
			}
		}
		s.Removes = gain / open
		if s.Removes > 0.02 && (best == nil || s.Removes > best.Removes+1e-9) {
			best = &s
		}
	}
	volt := slices.IndexFunc(d.desc.Meters, func(m line.Meter) bool { return m.Kind == "voltmeter" })
	perFilm := l.PerOuter()
	offset := 3.0 // V, typical contact-potential floor if no voltmeter is described
	if volt >= 0 {
		offset = float64(d.desc.Meters[volt].Offset)
	}
	field := slices.IndexFunc(d.desc.Meters, func(m line.Meter) bool { return m.Kind == "field meter" })
	for i := range d.desc.Stations {
		s := &d.desc.Stations[i]
		switch s.Kind {
		case line.Roller, line.Nip:
			if !d.overEarthedMetal(i) {
				continue
			}
			for _, f := range []line.Face{line.FaceA, line.FaceB} {
				if s.Kind == line.Roller && s.Change[0].Face == f {
					continue // lies on the roller
				}
				row := make([]float64, n)
				for k := range row {
					row[k] = perFilm * co[i][f-1][k]
				}
				e := d.estimate(row)
				try(Suggestion{Quantity: line.OverRoller, Station: i, Face: f}, row, math.Hypot(offset, 0.1*math.Abs(e.Value)))
			}
		}
		if field < 0 || s.Kind == line.Winder || i+1 < len(d.desc.Stations) && d.desc.Stations[i+1].At == s.At {
			continue
		}
		m := &d.desc.Meters[field]
		volts := float64(m.Nominal) / epsilon0
		row := make([]float64, n)
		for k := range row {
			row[k] = volts * (co[i][0][k] + co[i][1][k])
		}
		e := d.estimate(row)
		// Four repeats in a free span, with the geometry's and the meter's errors.
		own := math.Abs(e.Value) * math.Hypot(float64(m.Spots)/2, math.Hypot(float64(m.Gain), 0.08))
		try(Suggestion{Quantity: line.FieldMeter, Station: i}, row, math.Hypot(own, float64(m.Offset)))
	}
	return best
}

// overEarthedMetal reports whether a non-contact voltmeter over the roller reads
// against earthed metal: a metal roller that the survey did not find isolated.
func (d *Diagnosis) overEarthedMetal(station int) bool {
	if r := d.desc.Stations[station].Roller; r == nil || r.Kind != "metal" {
		return false
	}
	return !slices.ContainsFunc(d.Ground, func(g GroundFinding) bool { return g.Station == station && g.Isolated })
}

const epsilon0 = units.Epsilon0
