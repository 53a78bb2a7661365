package cure

import (
	"fmt"
	"math"
	"slices"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// curve is a bar whose maker's data the description has: its characteristic curve at its place times a factor of each
// draw. The factor was found at one place, speed and charge; elsewhere it moves with the error of the curve's shape,
//
//	k = k₀·(d/d₀)^a·(z/z₀)^b·(v/v₀)^c
//
// d the distance from the web, z the net beyond its offset, v the speed and a, b, c normal around 0 for each draw.
type curve struct {
	at     fixture
	place  *ioniser.Place
	factor column              // of the currents of the model, where it was found [1]
	z      column              // net beyond the offset where it was found, above 0; nil: it was not [C/m²]
	far    float64             // distance from the web where it was found [m]
	gauge  units.GaugePressure // of the air where it was found
	shape  [4]column           // exponents of distance, net and speed, and of the change of the air [1]
}

// fixture is all that a place is made of: another one needs another curve.
type fixture struct {
	bar            line.Bar
	distance, span units.Length
	factor         float64 // field factor [1]
	air            line.AirSpec
}

// Standard deviations of the shape: how the factor of the two-dimensional reference of package ioniser moves with
// distance, charge and speed, and where the air is turned on. A test holds them to it. [1]
const shapeDistance, shapeCharge, shapeSpeed, shapeAir = 0.4, 0.2, 0.25, 0.35

// fixture is that of a bar at a position with the field factor.
func (m *Calibrated) fixture(at units.Length, ion *line.IonSpec, factor float64) fixture { // factor [1]
	_, _, from, to := m.span(at, true)
	return fixture{*ion.Bar, ion.Distance, to - from, factor, m.desc.Air}
}

// newCurve makes the curve of a bar that nobody has read yet: as the model, or as its description says that it was
// found, and where neither a reading nor the description says, within the accuracy of the model.
func newCurve(at fixture, name string) (*curve, error) {
	place, err := at.place()
	if err != nil {
		return nil, err
	}
	c := &curve{at: at, place: place, far: float64(at.distance), gauge: at.bar.Gauge}
	if c.factor = same(float64(at.bar.Fit)); at.bar.Fit == 0 {
		c.factor = drawn(place.Source().Accuracy(), "accuracy", name)
	}
	c.draw(name)
	return c, nil
}

// place makes the curve.
func (f *fixture) place() (*ioniser.Place, error) {
	air, err := humidity.NewAir(f.air.Temperature, f.air.RelativeHumidity, f.air.Pressure)
	if err != nil {
		return nil, err
	}
	spec, err := f.bar.Spec(f.distance, f.span, air)
	if err != nil {
		return nil, err
	}
	src, err := ioniser.New(spec)
	if err != nil {
		return nil, err
	}
	return src.At(ioniser.GapOf(f.distance, f.factor))
}

// draw draws what no reading says of the bar.
func (c *curve) draw(name string) {
	for k, q := range [...]struct {
		name string
		sd   float64
	}{{"distance", shapeDistance}, {"charge", shapeCharge}, {"speed", shapeSpeed}, {"air", shapeAir}} {
		c.shape[k] = drawn(known.Band{Spread: q.sd, Kind: known.Normal}, "shape with "+q.name, name)
	}
}

// refresh makes the curves anew whose place, air or data have changed.
func (m *Calibrated) refresh() error {
	for i := range m.stages {
		b := m.stages[i].bar
		if b == nil || b.curve == nil {
			continue
		}
		s := &m.desc.Stations[i]
		at := m.fixture(s.At, s.Ioniser, b.factor)
		if at == b.curve.at {
			continue
		}
		place, err := at.place()
		if err != nil {
			return fmt.Errorf("%s: %w", s.Name, err)
		}
		next, other := *b.curve, *b
		next.at, next.place, other.curve = at, place, &next
		// The imbalance that a draw was found with is one of volts: on the web it goes with the geometry.
		if r := plateRatio(&next.at, &b.curve.at); r != 1 {
			other.offset = other.offset.times(same(r))
		}
		m.stages[i].bar = &other
	}
	return nil
}

// plateRatio is the charge of a web at one place over that at another, of one plate voltage. [1]
func plateRatio(to, from *fixture) float64 {
	at := func(f *fixture) float64 {
		lo, hi := ioniser.PlateOffset(units.Volt, f.distance, ioniser.GapOf(f.distance, f.factor))
		return float64(lo + hi)
	}
	if a, b := at(to), at(from); b > 0 && a > 0 {
		return a / b
	}
	return 1
}

// fit gives draw i of the curve the factor with which it deposits got on a net, and its bar what else it takes for it:
// an offset where it would have to take more than all, and a supply that can bring it.
func (c *curve) fit(b *bar, i int, net, got, v float64) {
	lo, hi := c.place.DeadBand()
	edge := float64(hi) // where the curve ends
	if net < float64(lo) {
		edge = float64(lo)
	}
	z := net - b.offset[i] - edge
	share := -got / z
	if lo == hi && share > mostShare {
		b.offset[i] = net - edge + got/mostShare
		z = net - b.offset[i] - edge
		share = mostShare
	}
	share = min(max(share, leastShare), mostShare)
	c.z[i] = max(math.Abs(z), 1e-12)
	if f, err := c.place.Fit(units.SurfaceChargeDensity(z+edge), units.SurfaceChargeDensity((1-share)*z+edge),
		units.Speed(v)); err == nil { // else the web lies where no source does anything
		c.factor[i] = f.Factor()
	}
	b.supply[i] = max(b.supply[i], math.Abs(got)*v)
}

// take is what the bar puts on its face of a net charge, what ruled, and the flags of the model. ratio is the survey's
// speed over v.
func (c *curve) take(b *bar, i int, net, ratio, v float64) (float64, line.Mechanism, known.Validity) {
	net -= b.offset[i]
	r := c.place.Times(c.factorAt(i, net, ratio)).Act(units.SurfaceChargeDensity(net), units.Speed(v))
	got, ruled := float64(r.Deposited), line.MechanismOf(r.Regime)
	if most := b.supply[i] / v; math.Abs(got) > most {
		got, ruled = math.Copysign(most, got), line.SupplyOfIons
	}
	return got, ruled, r.Validity
}

// factorAt is the factor of draw i for a net at the survey's speed over ratio.
func (c *curve) factorAt(i int, net, ratio float64) float64 { // [1]
	x := 0.0
	if ratio != 1 {
		x -= c.shape[2][i] * math.Log(ratio)
	}
	if d := float64(c.at.distance); d != c.far {
		x += c.shape[0][i] * math.Log(d/c.far)
	}
	lo, hi := c.place.DeadBand()
	if z := max(net-float64(hi), float64(lo)-net); c.z != nil && z > 0 && z != c.z[i] {
		x += c.shape[1][i] * min(max(math.Log(z/c.z[i]), -mostDecades), mostDecades)
	}
	if c.gauge != c.at.bar.Gauge {
		x += c.shape[3][i] * min(math.Abs(math.Log(float64(c.at.bar.Gauge)/float64(c.gauge)))/math.Ln10, 1)
	}
	return c.factor[i] * numeric.Exp(x)
}

// mostDecades is ln of how far a charge may lie from the one at which the curve was found: 100 times. [1]
const mostDecades = 4.6

// emission is what the points emit of one polarity. [A/m]
func (c *curve) emission() float64 {
	b := &c.at.bar
	if b.Output > 0 {
		return float64(b.Current) * float64(b.Output)
	}
	if b.Current == 0 { // passive points
		return float64(c.place.Source().Spec().Points.Most)
	}
	return float64(b.Current)
}

// cleanCurve cleans a bar with data: its emission is whole again, and in half of the draws what was missing against the
// data, or against the bars of the line with the same data, was dirt.
func (m *Calibrated) cleanCurve(name string, b *bar) error {
	s := m.station(name)
	ion := *m.desc.Stations[s].Ioniser
	data := *ion.Bar
	data.Output = 0 // all
	ion.Bar = &data
	m.desc.Stations[s].Ioniser = &ion
	c := *b.curve
	c.factor = slices.Clone(c.factor)
	like := func(x *bar) bool {
		if x == nil || x == b || x.curve == nil {
			return false
		}
		d, e := x.curve.at.bar, data
		d.Output, d.Fit, d.Balance, d.Wind, e.Fit, e.Balance, e.Wind = 0, 0, 0, 0, 0, 0, 0
		return d == e
	}
	for i, u := range chances("dirty", name) {
		if u >= 0.5 {
			continue
		}
		clean := 1.0
		for k := range m.stages {
			if x := m.stages[k].bar; like(x) {
				clean = max(clean, x.curve.factor[i])
			}
		}
		c.factor[i] = max(c.factor[i], clean)
	}
	b.supply = slices.Clone(b.supply)
	for i := range b.supply {
		b.supply[i] = max(b.supply[i], float64(data.Current))
	}
	b.curve = &c
	return m.refresh()
}

// newCurved is a new bar whose maker's data are given.
func (m *Calibrated) newCurved(t *stage, spec *line.StationSpec, ion *line.IonSpec) error {
	f := m.factorAt(spec.At, ion.Distance, spec.Gap)
	c, err := newCurve(m.fixture(spec.At, ion, f), spec.Name)
	if err != nil {
		return err
	}
	b := &bar{curve: c, face: int(ion.Face - line.FaceA), factor: f, found: f, far: 1, size: same(1),
		law: make([]barLaw, Draws+1), strength: make(column, Draws+1), offset: make(column, Draws+1),
		supply: same(c.emission()), passive: ion.Passive}
	if !ion.Passive {
		low, high := ioniser.PlateOffset(balance, ion.Distance, ioniser.GapOf(ion.Distance, f))
		for i, z := range scores("balance", spec.Name) {
			b.offset[i] = z * float64(low+high) / 2
		}
	}
	spec.Ioniser, t.bar = ion, b
	if spec.Gap == 0 && spec.Past == nil {
		m.placeBar(spec, 0)
	}
	return nil
}
