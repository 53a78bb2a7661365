package cure

import (
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Blow sets the air of a bar whose maker's data are given to another pressure. What share of its ions left with the air
// at the old one stays its property: other air takes another share. More is not always better: beyond an optimum the
// same ions are spread thinner and mixed longer.
type Blow struct {
	Station string              `json:"station"` // an ioniser with maker's data
	Gauge   units.GaugePressure `json:"gauge"`   // at the holes or the slot, 0 (air off) … 10 bar
}

// Step returns Neutralise.
func (Blow) Step() Step { return Neutralise }

// String says which and how much.
func (c Blow) String() string {
	if c.Gauge == 0 {
		return "air of " + c.Station + " off"
	}
	s, _ := units.Format(c.Gauge, "bar(g)", 2) // the unit is known
	return "air of " + c.Station + " at " + s
}

func (c Blow) apply(m *Calibrated) error {
	s, b, err := m.barAt(c.Station)
	if err != nil {
		return err
	}
	if err := m.gate(c.Station); err != nil {
		return err
	}
	if b.curve == nil {
		return known.Wrong("station", c.Station, "an ioniser whose maker's data are given: without them nothing says "+
			"what its air does")
	}
	if err := c.check(); err != nil {
		return err
	}
	data, err := b.curve.blown(c.Gauge)
	if err != nil {
		return written.Fields(err, func(f string) string { return m.described(c.Station) + f })
	}
	ion := *m.desc.Stations[s].Ioniser
	ion.Bar = &data
	m.desc.Stations[s].Ioniser = &ion
	return m.rebuild()
}

// inLine begins the field of a fault that stands in the description of the line, not in the change that meets it.
const inLine, inAdded = "line file: ", "change that adds "

// described is where the ioniser of that name is described: in the file of the line, or in the change that added it.
func (m *Calibrated) described(name string) string {
	for i := range m.found {
		if m.found[i].Name == name {
			return fmt.Sprintf("%sstations[%d] (%s).", inLine, i, name)
		}
	}
	return fmt.Sprintf("%s%q: station.", inAdded, name)
}

// blown is the bar with its air at another pressure.
func (c *curve) blown(gauge units.GaugePressure) (line.Bar, error) {
	data := c.at.bar
	if data.At == 0 {
		if data.Gauge == 0 {
			return data, known.Wrong("ioniser.bar.at", data.At,
				"the speed of the air at the web for which its captured share holds")
		}
		data.At = c.place.Source().Spec().Air.At
	}
	data.Gauge = gauge
	return data, nil
}

// Pressures among which [Calibrated.Plan] looks for the air of a bar.
const airSteps, leastAir, mostAir = 16, 0.05 * units.BarGauge, 3 * units.BarGauge

// bestAir looks for the pressure at which the bar of station s leaves least of the net of the middle line. It scans:
// what a bar leaves does not fall with its air all along. ok says that it leaves a tenth less there than now.
func (m *Calibrated) bestAir(s int) (best units.GaugePressure, ok bool) {
	c := m.stages[s].bar.curve
	if c == nil || c.at.bar.Gauge == 0 {
		return 0, false
	}
	w := m.run(float64(m.at))
	a, b := m.arrives(w, s, Draws)
	net := units.SurfaceChargeDensity(a + b - m.stages[s].bar.offset[Draws])
	left := func(f fixture) float64 {
		place, err := f.place()
		if err != nil {
			return math.Inf(1)
		}
		return math.Abs(float64(place.Times(c.factor[Draws]).Act(net, m.at).Left))
	}
	now := left(c.at)
	least := now
	for k := range airSteps + 1 {
		gauge := units.GaugePressure(
			float64(leastAir) * numeric.Pow(float64(mostAir)/float64(leastAir), float64(k)/airSteps))
		f := c.at
		var err error
		if f.bar, err = c.blown(gauge); err != nil {
			return 0, false
		}
		if x := left(f); x < least {
			best, least = gauge, x
		}
	}
	return best, least < 0.9*now
}

// airOf is what the air of a bar takes, in words: from now to a change.
func (m *Calibrated) airOf(c Blow) string {
	s := m.station(c.Station)
	was := m.stages[s].bar.curve
	data, err := was.blown(c.Gauge)
	if err != nil {
		return ""
	}
	flow := func(b *line.Bar) float64 {
		q, err := b.AirUse(units.Metre, m.line.Air())
		if err != nil {
			return math.NaN()
		}
		return float64(q) * 60000 // m³/s in L/min
	}
	return fmt.Sprintf("%.0f instead of %.0f L/min of air per metre", flow(&data), flow(&was.at.bar))
}
