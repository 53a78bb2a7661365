package cure

import (
	"fmt"
	"slices"

	"example.org/pithball/charge/field"
	"example.org/pithball/internal/written"
	"example.org/pithball/units"
)

// surroundings is how far earth is from a winding roll, as [survey.Diagnosis.Winding] takes it.
const surroundings = 2 * units.Metre

// unchanged says of changes that move no charge what they do instead: two equal tables would read like a cure that
// failed.
func (m *Calibrated) unchanged(w *walked) (out []string) {
	damp := false
	for _, x := range m.acts {
		switch x := x.(type) {
		case Shield:
			out = append(out, m.shielded(w, x.Station))
		case Earth:
			text := x.String() + ": " + earths + "web"
			if c := m.conductor(w, m.station(x.Station)); c.Voltage > 0 && !c.Isolated {
				text += "; it charges to at most " + written.Figure(float64(c.Voltage), 2) + " V then"
			}
			out = append(out, text)
		case Moisten, Warm:
			damp = true
		}
	}
	if why := m.deaf(); damp && why != "" {
		out = append(out, "the air changes nothing on the web: "+why)
	}
	return out
}

// shielded says what an earthed core does to the roll of a winder, by the median of the charge that arrives there.
func (m *Calibrated) shielded(w *walked, winder string) string {
	s := m.station(winder)
	a := quantiles(slices.Clone(w.a[s][:Draws]))[1]
	b := quantiles(slices.Clone(w.b[s][:Draws]))[1]
	wraps := func(earthed bool) string {
		spec := &m.desc.Stations[s]
		core := spec.Core
		if core == 0 {
			core = 40 * units.Millimetre
		}
		web := &m.desc.Web
		r, err := field.NewRoll(field.RollSpec{CoreRadius: core, EarthedCore: earthed, Thickness: web.Thickness,
			RelativePermittivity: web.RelativePermittivity.Value, Outer: units.SurfaceChargeDensity(a),
			Inner: units.SurfaceChargeDensity(b), Surroundings: surroundings})
		if err != nil {
			return "not known"
		}
		n, ok := r.WrapsTo(units.ElectricField(float64(m.line.NetCap()) / units.Epsilon0))
		if !ok {
			return "at no number of wraps"
		}
		return "after about " + written.Figure(float64(n), 2) + " wraps"
	}
	return fmt.Sprintf("the earthed core takes nothing off the web, whose charge sits in the film: it draws the "+
		"field of the "+
		"roll inwards, so that its surface reaches the strength of the air %s (%s on an insulating core); who unwinds "+
		"or cuts the roll meets the whole charge; a metal core without earth gathers charge and sparks", wraps(true),
		wraps(false))
}
