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
