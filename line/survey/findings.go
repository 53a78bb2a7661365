package survey

import (
	"math"
	"slices"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
)

// Findings are what a diagnosis says, as data. Every sentence of a [Verdict] is
// built from them and from nothing else.
type Findings struct {
	Earth     EarthFinding    // what is to be earthed
	Source    SourceFinding   // the source
	Agreement Agreement       // how well the readings agree
	Next      *Suggestion     // what to measure next
	Bars      []BarFinding    // what the bars do
	Layer     *LayerFinding   // where the display deceives most; nil where it does not
	Wraps     int             // after which the roll at the end can spark; 0: it does not by what was read
	Inert     bool            // whether the web takes up no water
	Outlook   *OutlookFinding // what a wanted speed would bring
	Alone     []AloneFinding  // pail charges and decay times
}

// EarthFinding is what the ground check says.
type EarthFinding struct {
	Isolated []IsolatedState // of rollers above GroundLimit; without a capacity only the finding is set
	Measured int             // conductors that were measured
	Missing  []int           // conductors that were not
}

// FaceChange is what a face gained.
type FaceChange struct {
	Face   line.Face // the face
	Change Estimate  // [C/m²]
}

// SourceFinding is where the charge comes from.
type SourceFinding struct {
	Answer
	Faces  [][]FaceChange // of each station that is named alone, or of what is not listed
	Leads  []Leads        // those that are open, by falling chance
	Unread []int          // contacts of both faces behind which no voltmeter saw a face
	Beyond []int          // contacts that no reading sees
	// Step says of what the scatter of spots tells that the means show it too, and leave open
	// whether it is more than weak contacts make.
	Step bool
	Net  *PlaceNet // where the net charge is not below the limit, if that is why the readings cannot tell
	// Rises says where the net charge passes the limit, where the source is not named: what of
	// it the sets do not say by themselves.
	Rises []NetRise
}

// BarFinding is an ioniser that stands where it sees little.
type BarFinding struct {
	Station int      // index of the bar
	Factor  float64  // [1] of the far-away field that it sees
	Share   Estimate // [1] of the net charge that it took
	// Known says that the net charge before it is known to be large enough for the
	// share to mean something.
	Known bool
}

// LayerFinding is a place where the faces carry nearly balanced charges.
type LayerFinding struct {
	Station   int           // index of the station
	A, B, Net Estimate      // [C/m²]
	Nominal   units.Length  // distance of the field meter
	Shown     units.Voltage // what it would show there in mid-span
	Brush     float64       // [1] larger face over 250 µC/m²
}

// OutlookFinding is the line at the wanted speed, at the station that matters.
type OutlookFinding struct {
	Speed   units.Speed // the wanted speed
	Station int         // index of the station
	A, B    [3]float64  // [C/m²] 5, 50, 95 %
	Worst   float64     // [1] greatest chance of a station to be above the limit
	At      int         // that station
}

// AloneFinding is a reading that has an answer of its own.
type AloneFinding struct {
	Reading  int           // index of the reading
	Station  int           // index of the station
	Quantity line.Quantity // what was read
	Value    float64       // [C or s]
}

// Findings works out what there is to say.
func (d *Diagnosis) Findings() (Findings, error) {
	if d.none() {
		return Findings{}, errNone()
	}
	f := Findings{
		Earth:     d.earth(),
		Source:    d.source(),
		Agreement: d.Agreement(),
		Next:      d.Next(),
		Layer:     d.layer(),
		Inert:     d.desc.Web.Humidity == humidity.Inert,
	}
	if n, ok := d.Winding(); ok {
		f.Wraps = n
	}
	for i := range d.desc.Stations {
		if d.desc.Stations[i].Kind == line.Ioniser && d.factor(i) <= goodPlace {
			f.Bars = append(f.Bars, d.bar(i))
		}
	}
	for i := range d.survey.Readings {
		r := &d.survey.Readings[i]
		if r.Quantity == line.PailCharge || r.Quantity == line.DecayTime {
			f.Alone = append(f.Alone, AloneFinding{i, d.line.Station(r.Station), r.Quantity, r.Value - r.Zero})
		}
	}
	if d.desc.Wish != 0 && len(d.model.groups) > 0 {
		o, err := d.At(d.desc.Wish)
		if err != nil {
			return f, err
		}
		at := d.line.Len() - 1
		if f.Layer != nil {
			at = f.Layer.Station
		}
		f.Outlook = &OutlookFinding{Speed: d.desc.Wish, Station: at, A: o.A[at], B: o.B[at]}
		for i, p := range o.Over {
			if p > f.Outlook.Worst {
				f.Outlook.Worst, f.Outlook.At = p, i
			}
		}
	}
	return f, nil
}

func (d *Diagnosis) earth() EarthFinding {
	var f EarthFinding
	for _, g := range d.Ground {
		switch {
		case !g.Measured:
			f.Missing = append(f.Missing, g.Station)
			continue
		case g.Isolated:
			s, ok := d.Isolated(g)
			if !ok {
				s = IsolatedState{Finding: g}
			}
			f.Isolated = append(f.Isolated, s)
		}
		f.Measured++
	}
	return f
}

func (d *Diagnosis) source() SourceFinding {
	f := SourceFinding{Answer: d.Answer}
	for _, set := range d.Answer.Sets {
		if len(set) == 1 && d.Answer.Kind != CannotTell {
			var faces []FaceChange
			for i := range d.Changes {
				if c := &d.Changes[i]; c.Station == set[0] {
					faces = append(faces, FaceChange{c.Face, c.Found})
				}
			}
			f.Faces = append(f.Faces, faces)
		}
	}
	if d.Answer.Kind == NotListed {
		f.Faces = append(f.Faces, d.unlistedFaces())
	}
	for _, w := range d.Leads {
		if len(f.Leads) < 3 && w.Chance >= 0.02 {
			f.Leads = append(f.Leads, w)
		}
	}
	_, f.Unread = d.facesRead()
	f.Beyond = d.beyond()
	f.Step = f.Scatter && d.evidence(f.Sets[0]) >= evidenceAsked
	if f.Kind == CannotTell && f.Why == NetOpen {
		f.Net = d.netAbove()
	}
	f.Rises = d.untold()
	return f
}

// unlistedFaces is what the faces gained in the stretch that the answer names, by
// nothing that is described, if it was that; a face whose band holds 0 is left out.
func (d *Diagnosis) unlistedFaces() []FaceChange {
	l := d.model.lay
	limit := float64(d.line.Limit()) * 1e6
	var gained [2][]float64
	for _, sample := range d.samples {
		var q [2]float64
		for j, s := range l.spans {
			if s.from >= d.Answer.Between[0] && s.to <= d.Answer.Between[1] {
				q[0] += sample[l.unlisted+2*j]
				q[1] += sample[l.unlisted+2*j+1]
			}
		}
		if max(math.Abs(q[0]), math.Abs(q[1])) > limit {
			gained[0], gained[1] = append(gained[0], q[0]), append(gained[1], q[1])
		}
	}
	var out []FaceChange
	for f, x := range gained {
		if len(x) == 0 {
			continue
		}
		if e := estimate(x, 1e-6); e.Low*e.High > 0 {
			out = append(out, FaceChange{line.FaceA + line.Face(f), e})
		}
	}
	return out
}

// beyond lists the contacts that stand behind the last reading that could see them.
func (d *Diagnosis) beyond() []int {
	last := -1
	for _, g := range d.model.groups {
		last = max(last, g.Station)
	}
	var out []int
	for i := range d.desc.Stations {
		s := &d.desc.Stations[i]
		if len(s.Change) == 0 || i < last {
			continue
		}
		// Over the last roller a voltmeter sees the face that it does not touch.
		seen := slices.ContainsFunc(
			d.model.groups,
			func(g *group) bool { return g.Station == i && (!g.OverFilm || s.Kind == line.Nip) },
		)
		if !seen {
			out = append(out, i)
		}
	}
	return out
}

// goodPlace is the share of the field from which on a bar stands well.
const goodPlace = 0.5

// factor is the share of the field that the ioniser at a station sees.
func (d *Diagnosis) factor(station int) float64 {
	f, _ := d.line.PlaceFactor(station, d.desc.Stations[station].Ioniser.Distance, 0)
	return f
}

// bar works out the share of the net charge that a bar took, sample by sample.
func (d *Diagnosis) bar(station int) BarFinding {
	out := BarFinding{Station: station, Factor: d.factor(station)}
	k := slices.IndexFunc(d.model.lay.changes, func(u line.Unknown) bool { return u.Station == station })
	before, share := make([]float64, len(d.samples)), make([]float64, len(d.samples))
	f := newForward(d.line, &d.desc, d.model.lay, d.model.walk.at)
	for i, s := range d.samples {
		f.run(s, nil, func(at int, a, b float64) {
			if at == station {
				before[i] = a + b - s[k]
			}
		})
		if before[i] != 0 {
			share[i] = -s[k] / before[i]
		}
	}
	net := estimate(before, 1)
	out.Share = estimate(share, 1)
	// Known to have a sign, and to within a factor of three.
	small, large := math.Min(math.Abs(net.Low), math.Abs(net.High)), math.Max(math.Abs(net.Low), math.Abs(net.High))
	out.Known = net.Low*net.High > 0 && large < 3*small
	return out
}

// Cancels reports whether the faces cancel outside after a station: opposite signs
// that are known, each face above the limit, and a net charge below a third of the
// larger one.
func (d *Diagnosis) Cancels(station int) bool {
	if station < 0 || station >= len(d.States) || d.none() {
		return false
	}
	s := &d.States[station]
	a, b := math.Abs(s.A.Value), math.Abs(s.B.Value)
	return s.A.Value*s.B.Value < 0 && min(a, b) > float64(d.line.Limit()) && math.Abs(s.Net.Value) < max(a, b)/3 &&
		s.A.Low*s.A.High > 0 &&
		s.B.Low*s.B.High > 0
}

// layer is the station where the display deceives most: where the faces cancel and
// the net charge is smallest.
func (d *Diagnosis) layer() *LayerFinding {
	var best *LayerFinding
	for i, s := range d.States {
		if !d.Cancels(i) {
			continue
		}
		a, b := math.Abs(s.A.Value), math.Abs(s.B.Value)
		// Between an ioniser and the place after it nothing changes: the first of equals, whatever the last digits are.
		if best == nil || math.Abs(s.Net.Value) < math.Abs(best.Net.Value)*(1-1e-6) {
			best = &LayerFinding{Station: i, A: s.A, B: s.B, Net: s.Net, Brush: max(a, b) / 250e-6}
		}
	}
	if best == nil {
		return nil
	}
	best.Nominal = 25 * units.Millimetre
	if k := slices.IndexFunc(d.desc.Meters, func(m line.Meter) bool { return m.Kind == line.FieldMeterKind }); k >= 0 {
		best.Nominal = d.desc.Meters[k].Nominal
	}
	best.Shown = units.Voltage(best.Net.Value / units.Epsilon0 * float64(best.Nominal))
	return best
}
