package cure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/pithball/internal/written"
	"example.org/pithball/units"
)

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
				text += "; it charges to at most " + written.Figure(max(0.1, float64(c.Voltage)), 2) + " V then"
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

// shielded says what an earthed core does to the roll of a winder, by the charge that arrives there: by the draw whose
// net charge is the median in size, and by that which only one of twenty exceeds.
func (m *Calibrated) shielded(w *walked, winder string) string {
	s := m.station(winder)
	a, b := w.a[s], w.b[s]
	order := make([]int, Draws)
	for i := range order {
		order[i] = i
	}
	size := func(i int) float64 { return math.Abs(a[i] + b[i]) }
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(size(i), size(j)) })
	wraps := func(share float64, earthed bool) string {
		i := order[int(share*Draws)]
		r, err := m.desc.Wound(units.SurfaceChargeDensity(a[i]), units.SurfaceChargeDensity(b[i]), earthed)
		if err != nil {
			return "after a number of wraps that is not known"
		}
		n, ok := r.WrapsTo(units.ElectricField(float64(m.line.NetCap()) / units.Epsilon0))
		if !ok {
			return "at no number of wraps"
		}
		return "after about " + written.Figure(float64(n), 2) + " wraps"
	}
	return fmt.Sprintf("the earthed core takes nothing off the web, whose charge sits in the film: it draws the field of "+
		"the roll inwards, so that its surface reaches the strength of the air %s (%s on an insulating core), and by "+
		"the upper end of the charge, 95 %%, %s (%s); who unwinds or cuts the roll meets the whole charge; a metal core "+
		"without earth gathers charge and sparks", wraps(0.5, true), wraps(0.5, false), wraps(0.95, true), wraps(0.95, false))
}
