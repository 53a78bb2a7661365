package cure

import (
	"fmt"
	"math"
	"slices"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Prediction is a line as it will run.
type Prediction struct {
	Speed    units.Speed         // for which it holds
	Stations []StationPrediction // in the order of the path
	Worst    int                 // index of the station most likely over the limit
	AnyOver  float64             // [1] chance that the net is over the limit at any place or at the winder
	AnyFace  float64             // [1] chance that a single face is, left alone
	// Extrapolated says that the speed lies beyond 0.7 … 1.5 times what was surveyed: the
	// figures are then computed from priors and wait for a reading.
	Extrapolated bool
	Assumed      bool           // no survey stands behind it
	Estimates    []string       // stations whose Validity says estimate, in the order of the path
	Side         SideEffects    // of all changes tried
	Notices      []known.Notice // what to consult
}

// StationPrediction is the web behind a station. Densities are in C/m².
type StationPrediction struct {
	Name      string           // of the station
	Kind      line.StationKind // what stands there
	A, B, Net Quantiles        // charge density of each face and of both [C/m²]
	// Display is what one reading of the first field meter of the description shows at
	// its nominal distance, NaN except at a place that it can read [V].
	Display Quantiles
	Over    float64 // [1] chance that the net is over the limit
	Face    float64 // [1] chance that the greater face is, if the other one is drained by metal
	// Back is the net regained since the last ioniser that is on, NaN before the first
	// [C/m²]; Since is its name.
	Back  Quantiles
	Since string         // see Back
	Ruled line.Mechanism // what ruled the change at the station in most draws
	// Validity has the flags that more than one of twenty draws carry: those of the
	// curve of an ioniser that is on; [known.Estimate] at one without data, whose law is
	// one of three opinions, and at a roller whose cover stands at what the gas leaves it.
	// What such a station did, those behind it carry on.
	Validity known.Validity
}

// Flags are the flags of the laws in words, a station each in the order of the path.
func (p *Prediction) Flags() []string {
	var out []string
	for i := range p.Stations {
		if s := &p.Stations[i]; s.Validity != known.Inside {
			out = append(out, s.Name+": "+s.Validity.String())
		}
	}
	return out
}

// reach are the multiples of the surveyed speeds up to which exponents of speed are
// taken as they are; a judgement.
const reachDown, reachUp = 0.7, 1.5

// Predict says what the line carries as it is now. The bits are the same on any
// number of goroutines.
func (m *Calibrated) Predict() Prediction {
	if m.none() {
		nan := math.NaN()
		return Prediction{Speed: m.Speed(), AnyOver: nan, AnyFace: nan, Side: noEffects()}
	}
	w := m.run(float64(m.at))
	n := len(m.stages)
	v := float64(m.at)
	p := Prediction{Speed: m.at, Stations: make([]StationPrediction, n), Assumed: m.assumed,
		Extrapolated: v < reachDown*m.surveyed[0] || v > reachUp*m.surveyed[1], Side: m.side(w)}
	inParts(n, func(lo, hi int) {
		for s := lo; s < hi; s++ {
			p.Stations[s] = m.predict(w, s)
		}
	})
	for s := range p.Stations {
		if p.Stations[s].Validity&known.Estimate != 0 {
			p.Estimates = append(p.Estimates, p.Stations[s].Name)
		}
		if p.Stations[s].Over > p.Stations[p.Worst].Over {
			p.Worst = s
		}
	}
	p.AnyOver, p.AnyFace = m.over(w, nil)
	p.Notices = m.notices(w)
	return p
}

func (m *Calibrated) predict(w *walked, s int) StationPrediction {
	t := &m.stages[s]
	limit := float64(m.line.Limit())
	a, b := w.a[s][:Draws], w.b[s][:Draws]
	nan := math.NaN()
	p := StationPrediction{Name: t.name, Kind: t.kind, Display: Quantiles{nan, nan, nan}, Back: Quantiles{nan, nan, nan},
		Over:  shareOf(Draws, func(i int) bool { return math.Abs(a[i]+b[i]) > limit }),
		Face:  shareOf(Draws, func(i int) bool { return max(math.Abs(a[i]), math.Abs(b[i])) > limit }),
		Ruled: most(w.ruled[s][:Draws])}
	if w.flags[s] != nil {
		for bit := known.Validity(1); bit > 0; bit <<= 1 {
			if shareOf(Draws, func(i int) bool { return w.flags[s][i]&bit != 0 }) > noticed {
				p.Validity |= bit
			}
		}
	}
	x := slices.Clone(a)
	p.A = quantiles(x)
	copy(x, b)
	p.B = quantiles(x)
	net := func(s, i int) float64 { return w.a[s][i] + w.b[s][i] }
	for i := range x {
		x[i] = net(s, i)
	}
	p.Net = quantiles(x)
	for d := s - 1; d >= 0; d-- {
		if b := m.stages[d].bar; b != nil && !b.off {
			for i := range x {
				x[i] = net(s, i) - net(d, i)
			}
			p.Back, p.Since = quantiles(x), m.stages[d].name
			break
		}
	}
	if look, ok := m.look(s); ok {
		view, err := m.line.View(&look)
		if err == nil && view.Unused == "" {
			z := scores("display", t.name)
			for i := range x {
				mid := view.OnA*a[i] + view.OnB*b[i]
				x[i] = mid + m.line.Deviation(&view, mid)*z[i]
			}
			p.Display = quantiles(x)
		}
	}
	return p
}

// look is how the first field meter reads a place.
func (m *Calibrated) look(s int) (line.Look, bool) {
	if m.stages[s].kind != line.Place {
		return line.Look{}, false
	}
	for i := range m.desc.Meters {
		if meter := &m.desc.Meters[i]; meter.Kind == line.FieldMeterKind {
			return line.Look{Station: m.stages[s].name, Quantity: line.FieldMeter, Face: line.FaceA, Distance: meter.Nominal,
				Running: true, Meter: meter.Name}, true
		}
	}
	return line.Look{}, false
}

func most(list []line.Mechanism) line.Mechanism {
	var count [16]int
	best := line.Nothing
	for _, r := range list {
		if r := min(r, 15); r > 0 {
			count[r]++
			if count[r] > count[best] || best == line.Nothing {
				best = r
			}
		}
	}
	return best
}

// judged lists the stations at which a limit counts: those of the names, by default
// every place and the winder.
func (m *Calibrated) judged(names []string) []int {
	var out []int
	for s := range m.stages {
		k := m.stages[s].kind
		if len(names) == 0 && (k == line.Place || k == line.Winder) || slices.Contains(names, m.stages[s].name) {
			out = append(out, s)
		}
	}
	return out
}

// over is the chance that a net, and that a face, is over the limit at any of the
// stations that count.
func (m *Calibrated) over(w *walked, names []string) (net, face float64) { // [1]
	limit := float64(m.line.Limit())
	at := m.judged(names)
	net = shareOf(Draws, func(i int) bool {
		return slices.ContainsFunc(at, func(s int) bool { return math.Abs(w.a[s][i]+w.b[s][i]) > limit })
	})
	face = shareOf(Draws, func(i int) bool {
		return slices.ContainsFunc(at, func(s int) bool { return max(math.Abs(w.a[s][i]), math.Abs(w.b[s][i])) > limit })
	})
	return net, face
}

// noticed is the chance from which on a condition is told. [1]
const noticed = 0.05

// notices are raised by their condition.
func (m *Calibrated) notices(w *walked) []known.Notice {
	var out []known.Notice
	if m.site.Safety.Open() != "" || !m.site.free() {
		out = append(out, hazard.NoticeNotApproval.Notice(m.site.Safety.Open()))
	}
	for s := range m.stages {
		if n, ok := m.conductorNotice(w, s); ok {
			out = append(out, n)
		}
	}
	capped, layer := false, 0.0
	for s := range m.stages {
		capped = capped || shareOf(Draws, func(i int) bool { return w.ruled[s][i] == line.GasCap }) > noticed
		for i := range Draws {
			if w.a[s][i]*w.b[s][i] < 0 {
				layer = max(layer, min(math.Abs(w.a[s][i]), math.Abs(w.b[s][i])))
			}
		}
	}
	if capped {
		out = append(out, hazard.NoticeBrush.Notice("the air caps the net charge at a contact"))
	}
	if share := layer / float64(hazard.PropagatingBrushDensity); share > noticed {
		out = append(out, hazard.NoticePropagatingBrush.Notice(fmt.Sprintf(
			"up to %.2g µC/m² of opposite sign on both faces", layer/float64(units.MicrocoulombPerSquareMetre))))
	}
	return out
}

// conductorNotice is raised by a metal roller that is isolated, or whose earth
// nobody measured.
func (m *Calibrated) conductorNotice(w *walked, s int) (known.Notice, bool) {
	spec := &m.desc.Stations[s]
	if spec.Roller == nil || spec.Roller.Kind != line.BareMetal {
		return known.Notice{}, false
	}
	o, ok := m.earth[spec.Name]
	if ok && !o.isolated {
		return known.Notice{}, false
	}
	figure := spec.Name + ": resistance to earth not measured"
	if o.measured {
		c := m.conductor(w, s)
		figure = spec.Name + ": " + written.Figures(o.value) + " to earth"
		switch {
		case c.Energy > 0:
			figure += ", " + written.Figures(c.Voltage) + ", " + written.Figures(c.Energy)
		case c.Voltage > 0 || c.Current == 0: // what takes no charge stays at 0 V
			figure += ", " + written.Figures(c.Voltage)
		default:
			figure += "; what it charges to is not known"
		}
	}
	return hazard.NoticeIsolatedConductor.Notice(figure), true
}

// ConductorPrediction is a metal roller that the web charges.
type ConductorPrediction struct {
	Station    string           // its name
	Resistance units.Resistance // to earth; 0 where it was not measured
	Measured   bool             // whether somebody measured it
	Isolated   bool             // above the limit, or not measured
	Current    units.Current    // that it takes from the web, the 95 % end of its magnitude
	// Voltage is Current times Resistance, limited by the sparkover voltage; 0 where the resistance was not measured,
	// and where the description has no sparkover voltage of an isolated roller and no capacity either, or a voltage above
	// [hazard.OpenGap] would follow: the air ends its rise somewhere, and nothing says where.
	Voltage units.Voltage
	Energy  units.Energy // ½CV² at Voltage; 0 where the capacity is not known
	// Every is the time from one spark to the next, 0 where it does not spark.
	Every units.Time
}

// Conductors lists every metal roller with what it charges to at the present speed:
// measured, not measured, isolated. One that nobody measured counts as isolated.
func (m *Calibrated) Conductors() []ConductorPrediction {
	w := m.run(float64(m.at))
	var out []ConductorPrediction
	for s := range m.stages {
		if r := m.desc.Stations[s].Roller; r != nil && r.Kind == line.BareMetal {
			out = append(out, m.conductor(w, s))
		}
	}
	return out
}

func (m *Calibrated) conductor(w *walked, s int) ConductorPrediction {
	spec := &m.desc.Stations[s]
	o, ok := m.earth[spec.Name]
	c := ConductorPrediction{Station: spec.Name, Resistance: o.value, Measured: o.measured, Isolated: o.isolated || !ok}
	x := make([]float64, Draws)
	for i := range x {
		a, b := m.arrives(w, s, i)
		x[i] = math.Abs(w.a[s][i] + w.b[s][i] - a - b)
	}
	c.Current = units.Current(quantiles(x)[2] * float64(m.at) * float64(m.desc.Web.Width)) // C/m² · m/s · m
	if !(c.Measured && c.Resistance > 0) {
		return c
	}
	r := spec.Roller
	free := units.Voltage(float64(c.Current) * float64(c.Resistance))
	switch {
	case r.Sparkover == 0 && (r.Capacity == 0 && c.Isolated || free > hazard.OpenGap):
		return c // the air ends its rise somewhere, and nothing says where
	case r.Capacity == 0 && r.Sparkover > 0:
		c.Voltage = min(free, r.Sparkover)
		return c
	case r.Capacity == 0:
		c.Voltage = free
		return c
	}
	h, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Metal, Capacitance: r.Capacity,
		Resistance: c.Resistance, Sparkover: r.Sparkover})
	if err == nil {
		state := h.Charged(c.Current)
		c.Voltage, c.Energy, c.Every = state.Voltage, state.Energy, state.SparkEvery
	}
	return c
}

// arrives is the web of a draw as it reaches a station.
func (m *Calibrated) arrives(w *walked, s, i int) (a, b float64) { // [C/m²]
	if s == 0 {
		return 0, 0
	}
	x, y := []float64{w.a[s-1][i]}, []float64{w.b[s-1][i]}
	m.stages[s-1].carry(x, y, float64(m.at), i, math.Log(float64(m.at)/m.speed))
	return x[0], y[0]
}

// station is the index of the station of that name, -1 without one.
func (m *Calibrated) station(name string) int {
	return slices.IndexFunc(m.stages, func(t stage) bool { return t.name == name })
}

// none says that nothing made this line: the zero value.
func (m *Calibrated) none() bool { return len(m.stages) == 0 }

// errNone is what the zero value answers.
func errNone() error {
	return known.Wrong("line", "none", "a line made by Calibrate or Assume")
}

// Len returns the number of stations.
func (m *Calibrated) Len() int { return len(m.stages) }

// Speed returns the speed at which the line runs now.
func (m *Calibrated) Speed() units.Speed {
	if m.none() {
		return units.Speed(math.NaN())
	}
	return m.at
}

// Limit returns the net charge density that the description judges against.
func (m *Calibrated) Limit() units.SurfaceChargeDensity {
	if m.none() {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return m.line.Limit()
}

// Changes returns the changes that were tried, in their order.
func (m *Calibrated) Changes() []Change { return slices.Clone(m.acts) }
