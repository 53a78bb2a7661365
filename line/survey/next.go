package survey

import (
	"cmp"
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/units"
)

// Suggestion is a measurement that the survey format can record, with what it would
// settle.
type Suggestion struct {
	Quantity line.Quantity // field meter or over-roller voltmeter
	Station  int           // index of the station
	Face     line.Face     // the face to look at; NoFace for a field meter in a free span
	// Behind says that the field is to be read in the free span behind a roller, with
	// the gap behind the web written down.
	Behind bool
	// From and To are the chance of the likeliest source now, and what is expected of
	// it with this reading. [1]
	From, To float64
}

// Number of samples and of possible outcomes by which a suggestion is judged.
const (
	nextDraws    = 256
	nextOutcomes = 12
	nextLeast    = 0.005 // a smaller gain is none
)

// Next returns the measurement that would do most to settle which source it is:
// of every kind of reading at every place that the survey format can record and the
// diagnosis would use, those that were not taken yet. nil if none would help.
func (d *Diagnosis) Next() *Suggestion {
	if d.none() {
		return nil
	}
	if d.Answer.Kind == Contradict {
		return nil // these readings come first
	}
	n := min(nextDraws, len(d.samples))
	c := d.contest(d.samples[:n])
	items := len(c.stations) + len(c.spans)
	lead := 0.0
	for j := range items {
		lead = max(lead, c.win(j))
	}
	a, b := make([][]float64, d.line.Len()), make([][]float64, d.line.Len())
	for i := range a {
		a[i], b[i] = make([]float64, n), make([]float64, n)
	}
	f := newForward(d.line, &d.desc, d.model.lay, d.model.walk.at)
	for j := range n {
		f.run(d.samples[j], nil, func(i int, qa, qb float64) { a[i][j], b[i][j] = qa, qb })
	}
	var best *Suggestion
	y, sd := make([]float64, n), make([]float64, n)
	for _, s := range d.candidates() {
		w, err := d.line.View(s.look(d))
		if err != nil || w.Unused != "" {
			continue
		}
		m := &d.desc.Meters[w.Meter]
		shared := sq(float64(m.Offset))
		if d.used(w.Meter) {
			shared *= 0.3 // most of the offset is known from the other readings
		}
		spots := d.model.spots * math.Sqrt(d.model.kappa)
		for i := range n {
			qa, qb := a[s.Station][i], b[s.Station][i]
			y[i] = (w.OnA*qa + w.OnB*qb) * 1e-6
			scatter := spots * math.Hypot(w.OnA*qa, w.OnB*qb) * 1e-6 * math.Sqrt(0.5+0.125)
			sd[i] = math.Sqrt(sq(scatter) + shared + sq(y[i])*(sq(float64(m.Gain))+sq(w.PlaceSD)+sq(w.Sensitivity)))
		}
		if to := c.expected(y, sd); to-lead > nextLeast && (best == nil || to > best.To+1e-9) {
			s.From, s.To = d.likeliest, min(d.likeliest+to-lead, 1) // one figure for one thing
			best = &s
		}
	}
	return best
}

// expected is the mean over possible outcomes of the chance of the item that would
// lead: y is what each sample would show and sd how exactly it is read.
func (c *contest) expected(y, sd []float64) float64 {
	n := len(y)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(p, q int) int { return cmp.Or(cmp.Compare(y[p], y[q]), cmp.Compare(p, q)) })
	// Outcomes at even quantiles of the weighted samples.
	wins := make([]float64, len(c.stations)+len(c.spans))
	var out float64
	at, run := 0, 0.0
	for k := range nextOutcomes {
		for want := (float64(k) + 0.5) / nextOutcomes * c.total; at < n-1 && run+c.weight[order[at]] < want; at++ {
			run += c.weight[order[at]]
		}
		shown := y[order[at]]
		clear(wins)
		var all float64
		for i := range n {
			w := c.weight[i] * numeric.Exp(-0.5*sq((shown-y[i])/sd[i])) / sd[i]
			wins[c.top[i]] += w
			all += w
		}
		out += slices.Max(wins) / all
	}
	return out / nextOutcomes
}

// candidates lists every reading that could be taken and was not.
func (d *Diagnosis) candidates() []Suggestion {
	var out []Suggestion
	add := func(s Suggestion) {
		if !d.taken(&s) {
			out = append(out, s)
		}
	}
	for i := range d.desc.Stations {
		s := &d.desc.Stations[i]
		switch s.Kind {
		case line.Roller, line.Nip:
			if d.overEarthedMetal(i) {
				for _, f := range []line.Face{line.FaceA, line.FaceB} {
					if s.Kind == line.Nip || s.Change[0].Face != f {
						add(Suggestion{Quantity: line.OverRoller, Station: i, Face: f})
					}
				}
			}
			if i+1 < len(d.desc.Stations) && d.desc.Stations[i+1].At > s.At {
				add(Suggestion{Quantity: line.FieldMeter, Station: i, Behind: true})
			}
		case line.Place:
			add(Suggestion{Quantity: line.FieldMeter, Station: i})
		}
	}
	return out
}

// look is how the reading would be taken, with the first meter of its kind.
func (s *Suggestion) look(d *Diagnosis) *line.Look {
	r := line.Look{Station: d.desc.Stations[s.Station].Name, Quantity: s.Quantity, Face: s.Face, Running: true}
	kind := line.VoltmeterKind
	if s.Quantity == line.FieldMeter {
		kind, r.Face = line.FieldMeterKind, line.FaceA
	}
	for i := range d.desc.Meters {
		if m := &d.desc.Meters[i]; m.Kind == kind && r.Meter == "" {
			r.Meter, r.Distance = m.Name, m.Nominal
		}
	}
	if s.Behind {
		r.Gap = behindRoller
	}
	return &r
}

// behindRoller is the gap behind the web that stands for a free span nobody has
// described.
const behindRoller = 300 * units.Millimetre

// taken reports whether such a reading is in the survey and was used. In a free span
// one place between two contacts is as good as another.
func (d *Diagnosis) taken(s *Suggestion) bool {
	field := s.Quantity == line.FieldMeter
	for _, g := range d.model.groups {
		same := g.OverFilm != field && g.Station == s.Station
		if same && (field || (g.OnA != 0) == (s.Face == line.FaceA)) {
			return true
		}
		off := len(d.desc.Stations[g.Station].Off) > 0
		if field && !g.OverFilm && !off && d.sameStretch(s.Station, g.Station) {
			return true
		}
	}
	return false
}

// sameStretch reports whether nothing is described to happen between two stations.
func (d *Diagnosis) sameStretch(a, b int) bool {
	for i := min(a, b) + 1; i <= max(a, b); i++ {
		if k := d.desc.Stations[i].Kind; k != line.Place && k != line.Winder {
			return false
		}
	}
	return len(d.desc.Stations[a].Off) == 0
}

// used reports whether a reading with the meter entered the estimate.
func (d *Diagnosis) used(meter int) bool {
	return slices.ContainsFunc(d.model.groups, func(g *group) bool { return g.Meter == meter })
}
