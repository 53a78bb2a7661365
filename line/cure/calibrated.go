package cure

import (
	"fmt"
	"math"

	"example.org/pithball/charge"
	"example.org/pithball/decay"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Calibrated is a line as a survey left it known: [Draws] lines that all fit the
// readings, and one in the middle. It is immutable and may be used from many
// goroutines; [Calibrated.Try] gives another one.
type Calibrated struct {
	desc     line.Description
	line     *line.Line // of desc, for the geometry
	stages   []stage
	netCap   float64            // most net charge that a parting web keeps [C/m²]
	speed    float64            // at which everything was found [m/s]
	surveyed [2]float64         // slowest and fastest speed of the survey [m/s]
	at       units.Speed        // at which it runs
	site     Site               // what the survey does not say
	earth    map[string]ohms    // of conductors, by station
	removed  map[string]removed // stations taken away, to be put back as they were
	acts     []Change
	water    float64            // evaporated by the changes [kg/s]
	found    []line.StationSpec // as described, never written
	had      map[string]bool    // whether an ioniser of that name ran then
	assumed  bool               // no survey stands behind it
}

// ohms is a resistance to earth.
type ohms struct {
	value    units.Resistance
	measured bool
	isolated bool // above survey.GroundLimit, or not known to be below
}

type removed struct {
	spec  line.StationSpec
	stage stage
}

// Judgements: by which factor the exposure of a contact is uncertain, and what share
// an exponent of speed has in common with the other stations of its line.
const (
	rollerExposure, rollerFactor = 0.3, 3.0
	nipExposure, nipFactor       = 1.0, 2.0
	sharedSpeed, ownSpeed        = 0.827, 0.562 // of the described spread: 0.25/0.30, 0.17/0.30
)

// posteriorSeed is another stream of the posterior than the one behind the figures
// of a diagnosis.
const posteriorSeed = 3

// Calibrate makes the lines that fit the readings of a diagnosis: changes of all
// contacts and ionisers, what happens unlisted and, where two speeds were read, the
// exponents from its posterior, exposures and laws of ionisers from their priors.
// site may be nil; then nothing of it is answered. Errors are [*known.FieldError]s.
func Calibrate(d *survey.Diagnosis, site *Site) (*Calibrated, error) {
	if d == nil || d.Posterior() == nil {
		return nil, known.Wrong("diagnosis", "none", "a diagnosis")
	}
	desc := d.Line().Description()
	if err := settle(&desc, d.Leaks); err != nil {
		return nil, err
	}
	f := found{speed: float64(d.Speed), low: float64(d.Speed), high: float64(d.Speed)}
	p := d.Posterior()
	for i := range d.Survey().Readings {
		if r := &d.Survey().Readings[i]; r.Running && r.Speed > 0 {
			f.low, f.high = min(f.low, float64(r.Speed)), max(f.high, float64(r.Speed))
		}
	}
	list := p.Unknowns()
	rows := make([]column, len(list))
	for k := range rows {
		rows[k] = make(column, Draws+1)
	}
	inParts(Draws, func(lo, hi int) {
		x := make([]float64, p.Len())
		for i := lo; i < hi; i++ {
			p.Draw(x, posteriorSeed, uint64(i))
			for k := range rows {
				rows[k][i] = x[k]
			}
		}
	})
	const micro = 1e-6
	f.exponents = map[int]column{}
	for k, u := range list {
		col := rows[k]
		if u.Kind != survey.ExponentUnknown {
			for i := range Draws {
				col[i] *= micro
			}
		}
		q := append([]float64(nil), col[:Draws]...)
		col[Draws] = quantiles(q)[1]
		switch u.Kind {
		case survey.ChangeUnknown:
			f.changes = append(f.changes, col)
		case survey.UnlistedUnknown:
			col[Draws] = 0 // the description has no place for it
			f.hidden = append(f.hidden, hiddenGain{u.Station, int(u.Face - line.FaceA), col})
		case survey.ExponentUnknown:
			col[Draws] = 0
			f.exponents[u.Station] = col
		}
	}
	m, err := build(&desc, f, site)
	if err != nil {
		return nil, err
	}
	for _, g := range d.Ground {
		m.earth[desc.Stations[g.Station].Name] = ohms{g.Resistance, g.Measured, g.Isolated || !g.Measured}
	}
	return m, nil
}

// Assume makes the lines that a description alone leaves possible: its medians and
// spreads, before anything was read, marked so.
func Assume(l *line.Line, site *Site) (*Calibrated, error) {
	if l == nil || l.Len() == 0 {
		return nil, known.Wrong("line", "none", "a line made by line.New")
	}
	desc := l.Description()
	v := float64(desc.Speed)
	f := found{speed: v, low: v, high: v, assumed: true}
	u, median, spread := l.Unknowns()
	for k := range u {
		b := known.Band{Value: median[k], Spread: spread[k], Kind: known.Normal}
		f.changes = append(f.changes, drawn(b, "change "+u[k].Face.String(), desc.Stations[u[k].Station].Name))
	}
	return build(&desc, f, site)
}

// found is what a survey, or a description, says of each draw.
type found struct {
	speed, low, high float64
	changes          []column // in the order of line.Unknowns [C/m²]
	hidden           []hiddenGain
	exponents        map[int]column // scores by station, −1 for the shared one; nil: not found
	assumed          bool
	exposed          bool // the described exposures are exact
}

// hiddenGain is what a face gains on the way from a station on.
type hiddenGain struct {
	from, face int
	gain       column // [C/m²]
}

// build solves the strength of every contact and ioniser of each draw so that the
// changes are met by the charge that arrives.
func build(desc *line.Description, f found, site *Site) (*Calibrated, error) {
	desc.Speed = units.Speed(f.speed)
	l, err := line.New(desc)
	if err != nil {
		return nil, err
	}
	m := &Calibrated{desc: *desc, line: l, netCap: float64(l.NetCap()), speed: f.speed,
		surveyed: [2]float64{f.low, f.high}, at: units.Speed(f.speed), earth: map[string]ohms{},
		removed: map[string]removed{}, assumed: f.assumed}
	if site != nil {
		if err := site.Check(); err != nil {
			return nil, err
		}
		if _, err := upkeep.Hazards(desc, site.Safety, nil); err != nil { // checks the answers
			return nil, err
		}
		m.site = *site
	}
	m.moisture()
	shared := scores("exponent", "")
	if c := f.exponents[-1]; c != nil {
		shared = c
	}
	for i := range desc.Stations {
		t := newStage(desc, i)
		m.stretch(&t, i)
		for j := range desc.Stations[i].Change {
			c, err := newTouch(desc, i, j, f.exposed)
			if err != nil {
				return nil, err
			}
			t.touch = append(t.touch, c)
		}
		if len(t.touch) > 0 {
			own := f.exponents[i]
			if own == nil {
				own = scores("exponent", t.name)
			}
			t.exponent = exponents(desc.Stations[i].Change[0].Speed, shared, own)
		}
		if s := desc.Stations[i].Ioniser; s != nil {
			if t.bar, err = m.newBar(i, s); err != nil {
				return nil, err
			}
		}
		for _, h := range f.hidden {
			if h.from == i {
				t.hidden[h.face] = h.gain
			}
		}
		m.stages = append(m.stages, t)
	}
	m.found, m.had = desc.Stations, map[string]bool{}
	for i := range m.stages {
		if m.stages[i].bar != nil {
			m.had[m.stages[i].name] = true
		}
	}
	m.solve(f.changes)
	m.twins()
	return m, nil
}

func newStage(desc *line.Description, i int) stage {
	s := &desc.Stations[i]
	w := &desc.Web
	t := stage{name: s.Name, kind: s.Kind, tauNet: math.Inf(1),
		tauDiff: float64(decay.RelaxationTime(w.VolumeResistivity, w.RelativePermittivity.Value))}
	if i+1 < len(desc.Stations) {
		t.length = float64(desc.Stations[i+1].At - s.At)
	}
	if s.Leak != nil {
		t.tauNet = float64(s.Leak.Time)
	}
	return t
}

// newTouch is a contact with its exposure drawn; its strength is solved later.
func newTouch(desc *line.Description, i, j int, exact bool) (touch, error) {
	s := &desc.Stations[i]
	c := touch{face: int(s.Change[j].Face - line.FaceA), strength: make(column, Draws+1)}
	if s.Kind == line.Unwind {
		c.closes = same(1) // it leaves the roll with what it has
		return c, nil
	}
	median, factor := rollerExposure, rollerFactor
	if s.Kind == line.Nip {
		median, factor = nipExposure, nipFactor
	}
	if n := float64(s.Change[j].Exposure); n > 0 {
		median = n
	}
	if exact {
		factor = 1
	}
	c.closes = drawn(spreadFactor(median, factor), "exposure", s.Name) // both faces of a nip turn alike
	for k, n := range c.closes {
		c.closes[k] = -math.Expm1(-n)
	}
	if s.Roller == nil || s.Roller.Kind != line.InsulatingCover {
		return c, nil
	}
	contact, err := charge.NewContact(charge.ContactSpec{Exposure: 1})
	if err != nil {
		return c, err
	}
	r, err := charge.NewCoveredRoller(charge.CoveredRollerSpec{Contact: contact, Radius: s.Roller.Radius,
		Tau: s.Roller.Cover}) // as line has it
	if err != nil {
		return c, err
	}
	c.cover = &cover{tau: float64(s.Roller.Cover), turn: 2 * math.Pi * float64(s.Roller.Radius), bound: float64(r.Bound())}
	return c, nil
}

// exponents are alike along a line: a part is shared, a part the station's own. They
// are held to −1 … 2, beyond which no contact is described.
func exponents(b known.Band, shared, own column) column {
	lo, hi := b.Limits()
	sd := (hi - lo) / (2 * known.Z95)
	c := make(column, Draws+1)
	for i := range c {
		c[i] = min(max(b.Value+sd*(sharedSpeed*shared[i]+ownSpeed*own[i]), -1), 2)
	}
	return c
}

// newBar is an ioniser whose strength is solved later.
func (m *Calibrated) newBar(i int, s *line.IonSpec) (*bar, error) {
	f, _ := m.line.PlaceFactor(i, s.Distance, 0)
	b := &bar{face: int(s.Face - line.FaceA), factor: f, found: f, far: 1, strength: make(column, Draws+1),
		size: same(1), law: make([]barLaw, Draws+1), offset: same(float64(s.Offset) / max(f, 1e-3)), onset: float64(s.Onset),
		supply: same(float64(s.Supply)), passive: s.Passive}
	if s.Bar == nil {
		if m.assumed && s.Conductivity > 0 { // what its description says, as uncertain as a new one
			median := f * float64(s.Conductivity) * float64(s.Zone) / units.Epsilon0 / m.speed // f·λL/(ε0·v)
			b.strength, b.described = drawn(spreadFactor(median, newBarFactor), "strength", m.desc.Stations[i].Name), true
			for k, x := range b.strength {
				b.strength[k] = min(x, -math.Log1p(-mostShare))
			}
		}
		return b, nil
	}
	c, err := newCurve(m.fixture(m.desc.Stations[i].At, s, f), m.desc.Stations[i].Name)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", m.desc.Stations[i].Name, err)
	}
	c.z = make(column, Draws+1)
	b.curve, b.supply = c, same(c.emission())
	return b, nil
}

// solve walks every draw at the survey's speed and gives each contact the saturation,
// each ioniser the strength, that brings its face to where the readings have it.
func (m *Calibrated) solve(changes []column) {
	inParts(Draws+1, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			m.solveOne(i, changes)
		}
	})
}

func (m *Calibrated) solveOne(i int, changes []column) {
	var now, want [2]float64 // charge of each face as it is, and as the readings have it
	a, b := make([]float64, 1), make([]float64, 1)
	grow := []float64{1}
	ruled := []line.Mechanism{0}
	k := 0
	for s := range m.stages {
		t := &m.stages[s]
		if s > 0 {
			for _, x := range []*[2]float64{&now, &want} {
				a[0], b[0] = x[0], x[1]
				m.stages[s-1].carry(a, b, m.speed, i, 0)
				x[0], x[1] = a[0], b[0]
			}
		}
		for j := range t.touch {
			c := &t.touch[j]
			want[c.face] += changes[k][i]
			need, g := want[c.face]-now[c.face], c.closes[i]
			if c.cover != nil {
				c.strength[i] = c.cover.strengthFor(now[c.face], need, g, c.cover.kept(m.speed))
			} else {
				c.strength[i] = now[c.face] + need/g
			}
			face := now[c.face : c.face+1]
			c.pass(face, grow, ruled, nil, m.speed, i)
			k++
		}
		if len(t.touch) > 0 {
			a[0], b[0] = now[0], now[1]
			t.cap(a, b, m.netCap, ruled)
			now[0], now[1] = a[0], b[0]
		}
		if t.bar != nil {
			f, net := t.bar.face, now[0]+now[1]
			if t.bar.described { // nobody read it
				t.bar.size[i] = t.bar.seen(i, net)
				got, _, _ := t.bar.take(i, net, 1, m.speed)
				want[f] = now[f] + got
			} else if c := t.bar.curve; c != nil && m.assumed {
				c.z[i] = max(math.Abs(net), 1e-12)
				got, _, _ := t.bar.take(i, net, 1, m.speed)
				want[f] = now[f] + got
				t.bar.share(i, net, got, m.speed)
			} else {
				want[f] += changes[k][i]
				t.bar.fit(i, net, want[f]-now[f], m.speed)
			}
			got, _, _ := t.bar.take(i, net, 1, m.speed)
			now[f] += got
			k++
		}
	}
}

// Description returns the calibrated input: [line.New] of it runs at the survey's
// speed as the middle line does, with what was changed. Spreads are those of what was
// found.
func (m *Calibrated) Description() (line.Description, error) {
	if m.none() {
		return line.Description{}, errNone()
	}
	w := m.run(m.speed)
	d := clone(&m.desc)
	d.Speed = units.Speed(m.speed)
	var gains []float64
	for s := range m.stages {
		t, spec := &m.stages[s], &d.Stations[s]
		var a, b float64
		if s > 0 {
			x, y := []float64{w.a[s-1][Draws]}, []float64{w.b[s-1][Draws]}
			m.stages[s-1].carry(x, y, m.speed, Draws, 0)
			a, b = x[0], y[0]
		}
		gain := [2]float64{w.a[s][Draws] - a, w.b[s][Draws] - b}
		if t.tau != nil { // as it leaks now, at the temperature that the web has there
			spec.Leak = &line.LeakSpec{Path: spec.Leak.Path, WebTemperature: t.web,
				Time: units.Time(min(max(t.tau[Draws], 1e-9), 1e12))}
		}
		spec.Change = append([]line.ChangeSpec(nil), spec.Change...)
		for j := range t.touch {
			c := &t.touch[j]
			gains = append(gains, gain[c.face])
			spec.Change[j].Exposure = units.Ratio(min(max(-math.Log1p(-c.closes[Draws]), 1e-3), 50)) // as described
			if t.kind == line.Unwind {
				spec.Change[j].Exposure = m.desc.Stations[s].Change[j].Exposure
			}
			made := make([]float64, Draws)
			for i := range made {
				made[i] = c.strength[i] * c.closes[i]
			}
			q := quantiles(made)
			spec.Change[j].Spread = units.SurfaceChargeDensity(max((q[2]-q[0])/(2*known.Z95), 1e-12))
		}
		if t.bar != nil {
			ion := *spec.Ioniser
			if ion.Bar == nil {
				ion.Offset = units.SurfaceChargeDensity(t.bar.offset[Draws] * t.bar.factor)
			}
			spec.Ioniser = &ion
			gains = append(gains, gain[t.bar.face])
		}
	}
	l, err := line.New(d)
	if err != nil {
		return line.Description{}, err
	}
	return l.DescriptionWith(gains, d.Speed, func(k int) float64 { return m.middleExponent(l, k) })
}

// middleExponent is the exponent of the contact behind unknown k, 0 for an ioniser.
func (m *Calibrated) middleExponent(l *line.Line, k int) float64 { // [1]
	u, _, _ := l.Unknowns()
	if e := m.stages[u[k].Station].exponent; e != nil {
		return e[Draws]
	}
	return 0
}
