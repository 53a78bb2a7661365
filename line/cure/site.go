package cure

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Site is what no reading says of a line and what its cures depend on: the answers
// of the people who are responsible for it. The zero value answers nothing.
type Site struct {
	Safety upkeep.SafetyAnswers `json:"safety"` // zone and flammables are the first question of all
	Prices Prices               `json:"prices"` // for sums
	// how the web leaks against humidity: only decades and spread count here,
	// the time at the surveyed air stands at the station. nil: not known.
	Leak *LeakLaw `json:"leak,omitempty"`
	// that of the web, at which the humidity of the air counts; 0: that of the air.
	WebTemperature units.Temperature `json:"webTemperature,omitempty"`
	// what ionisers take, by the names of their stations, those of cures too.
	Devices map[string]Device `json:"devices,omitempty"`
}

// Prices make sums of amounts; without one the amount stands alone.
type Prices struct {
	Currency string `json:"currency,omitempty"` // of all prices
	// [currency/h] margin of an hour of the line at its present speed
	PerHour  float64          `json:"perHour,omitempty"`
	Hours    float64          `json:"hours,omitempty"`    // [h/a] in which the line runs
	Kilowatt float64          `json:"kWh,omitempty"`      // [currency/kWh] of electricity or steam
	Water    float64          `json:"water,omitempty"`    // [currency/m³] of water
	Labour   float64          `json:"labour,omitempty"`   // [currency/h] of cleaning
	FreshAir units.VolumeFlow `json:"freshAir,omitempty"` // outdoor air of the hall
}

// Check returns a [*known.FieldError] for everything that is wrong with the answers.
func (s *Site) Check() error {
	p := &s.Prices
	var errs []error
	for _, name := range slices.Sorted(maps.Keys(s.Devices)) {
		d := s.Devices[name]
		errs = append(errs, d.check(fmt.Sprintf("devices[%s]", name)))
	}
	if s.WebTemperature != 0 {
		errs = append(errs, known.InRange("webTemperature", s.WebTemperature, units.Celsius(-40), units.Celsius(200)))
	}
	return errors.Join(s.Safety.Check(), errors.Join(errs...), known.NotNegative("prices.labour", p.Labour),
		known.InRange("prices.hours", p.Hours, 0, 8784), known.NotNegative("prices.perHour", p.PerHour),
		known.NotNegative("prices.kWh", p.Kilowatt), known.NotNegative("prices.water", p.Water),
		known.NotNegative("prices.freshAir", p.FreshAir))
}

// free says that somebody decided that there is neither zone nor flammables.
func (s *Site) free() bool {
	return s.Safety.Open() == "" && s.Safety.Zone == upkeep.NoZone && s.Safety.Flammables == upkeep.NoFlammables
}
