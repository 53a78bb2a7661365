package cure

import "example.org/pithball/units"

// SideEffects are what changes take besides charge. What no price is given for has
// none.
type SideEffects struct {
	Lost     units.Ratio    // output lost against the surveyed speed, below 0: gained
	Water    units.MassFlow // evaporated
	Power    units.Power    // of humidifiers
	PerYear  float64        // [currency] of lost output, water and power where prices are given
	Currency string         // of PerYear
	Notices  []string       // of what else follows, in words
}

// steam is the energy that evaporates a kilogram of water, with what a boiler loses;
// from memory. [kWh/kg]
const steam = 0.73

func (m *Calibrated) side(*walked) SideEffects {
	p := &m.site.Prices
	s := SideEffects{Currency: p.Currency, Lost: units.Ratio(1 - float64(m.at)/m.speed)}
	if s.Lost > 0 {
		s.PerYear = float64(s.Lost) * p.PerHour * p.Hours
	}
	if m.water > 0 {
		const hour = 3600.0
		s.Water = units.MassFlow(m.water)
		s.Power = units.Power(m.water * steam * 1000 * hour)       // kg/s · kWh/kg in W
		s.PerYear += m.water * hour * p.Hours * steam * p.Kilowatt // kg/h · h · kWh/kg · price
		s.PerYear += m.water * hour * p.Hours / 1000 * p.Water     // m³ · price
		s.Notices = append(s.Notices, "moisture: mould, corrosion, wet cold goods; see the notice on humidity")
	}
	return s
}
