package line

import (
	"errors"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// unknownFall is what is thought of the law of a web that takes up water and that nobody
// tested [1/%RH]: papers and textiles lie between 0.03 and 0.09; a judgement.
var unknownFall = known.Band{Value: 0.06, Spread: 0.03, Kind: known.Normal}

// saturated is the humidity above which water condenses.
const saturated = 100 * units.PercentRH

// checkMoisture checks what the web says of water.
func (w *Web) checkMoisture() error {
	var errs []error
	if w.Humidity < humidity.Inert || w.Humidity > humidity.Absorbing {
		errs = append(errs, known.Wrong("web.humidity", "", "one of inert, adsorbing, absorbing"))
	}
	if b := w.DecadesPerPercent; b != nil {
		errs = append(errs, banded("web.decadesPerPercent", *b, 0, 1))
		if w.Humidity == humidity.Inert && b.Value != 0 {
			errs = append(errs, known.Wrong("web.decadesPerPercent", b.Value,
				"nothing for an inert web: moisture does not make it leak"))
		}
	}
	if w.Temperature != 0 {
		errs = append(errs, known.InRange("web.temperature", w.Temperature, units.Celsius(-40), units.Celsius(200)))
	}
	return errors.Join(errs...)
}

// LeakFall is the fall of log₁₀ of the web's leak times per %RH with its standard
// deviation: nothing for an inert web, what is described, or what is thought of a web that
// nobody tested. [1/%RH]
func (w *Web) LeakFall() (fall, sd float64) { // [1/%RH]
	b := w.DecadesPerPercent
	switch {
	case w.Humidity == humidity.Inert:
		return 0, 0
	case b == nil:
		b = &unknownFall
	}
	lo, hi := b.Limits()
	return b.Value, (hi - lo) / (2 * known.Z95)
}

// Damp is the relative humidity of air at the web's own temperature, 1 at most: water
// counts there. Without a temperature of the web it is that of the air. NaN for air that
// is none.
func (w *Web) Damp(t units.Temperature, rh units.RelativeHumidity) units.RelativeHumidity {
	if w.Temperature == 0 {
		return min(rh, saturated)
	}
	a, err := humidity.NewAir(t, rh, units.Atmosphere)
	if err != nil {
		return units.RelativeHumidity(math.NaN())
	}
	return min(a.At(w.Temperature).RelativeHumidity(), saturated)
}
