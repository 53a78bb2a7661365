package cure

import "example.org/pithball/units"

// SideEffects are what changes take besides charge. What no price is given for has
// none.
type SideEffects struct {
	Lost     units.Ratio      // output lost against the surveyed speed, below 0: gained
	Water    units.MassFlow   // evaporated
	Power    units.Power      // of humidifiers
	Air      units.VolumeFlow // compressed, as free air
	PerYear  float64          // [currency] of lost output, water and power where prices are given
	Currency string           // of PerYear
	Notices  []string         // of what else follows, in words
}

func (m *Calibrated) side(*walked) SideEffects {
	s := SideEffects{Currency: m.site.Prices.Currency, Lost: units.Ratio(1 - float64(m.at)/m.speed)}
	p := &m.site.Prices
	if s.Lost > 0 {
		s.PerYear = float64(s.Lost) * p.PerHour * p.Hours
	}
	return s
}
