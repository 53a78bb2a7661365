package line

import (
	"example.org/pithball/units"
)

// DescriptionWith returns the description of the line that [Line.With] gives for the
// same arguments: [New] of it runs at speed v as that line does. It is the
// calibrated input, with the speed v, the medians of the contacts as an uncharged
// face would get them, and the strength of each ioniser that makes its deposit.
// [C/m²]
func (l *Line) DescriptionWith(x []float64, v units.Speed, exponent func(k int) float64) (Description, error) {
	m, err := l.With(x, v, exponent)
	if err != nil {
		return Description{}, err
	}
	d := l.desc.clone()
	d.Speed = v
	for i := range d.Stations {
		s, t := &d.Stations[i], &m.steps[i]
		for j := range s.Change {
			// What the contact makes of an uncharged face gives its saturation again.
			uncharged, _, _ := t.changes[j].pass(0, v)
			s.Change[j].Median = units.SurfaceChargeDensity(uncharged)
			s.Change[j].Speed.Value = t.changes[j].law.Spec().SpeedExponent
		}
		switch {
		case s.Ioniser == nil:
		case s.Ioniser.Bar != nil:
			// 0 would stand for the model as it is: a bar that does nothing gets next to nothing.
			s.Ioniser.Bar.Fit = units.Ratio(min(max(t.ion.bar.Factor(), 1e-12), 100))
		default:
			law := &t.ion.share
			s.Ioniser.Conductivity = units.Conductivity(law.strength * units.Epsilon0 / float64(s.Ioniser.Zone)) // κ = λL/ε0
			s.Ioniser.Supply = units.LineCurrent(law.supply)
		}
	}
	return d, nil
}
