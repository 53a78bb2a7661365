package line

import (
	"fmt"
	"math"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// LeakSpec is a named way to earth.
type LeakSpec struct {
	Path decay.Path `json:"path"` // how: "earthed edge", "earthed backing", …
	Time units.Time `json:"time"` // time constant with which net charge is lost on it, 1 ns … 1e12 s
	// of the web when the time was found, in the described air; left out: that of web.temperature, and where
	// the web has another temperature there the time follows the humidity at it. An absorbing web
	// does not follow: a stretch of its own needs a time that was measured in it.
	WebTemperature units.Temperature `json:"webTemperature,omitempty"`
}

// A web that is heated or cooled has another temperature than the air around it, and water
// counts at the surface: the vapour of the air is that of the room, so that the humidity at
// the web is e/e_sat(T_web), less over a warm web and more over a chilled one. A station says
// so of the web from there on.

// WebTemperature is the temperature of the web behind a station: what that station gives, or the
// last before it that gives one, and then own is true; else that of [Web], 0 where it is that of
// the air. 0 and false for a station that is none.
func (d *Description) WebTemperature(station int) (t units.Temperature, own bool) {
	if station < 0 || station >= len(d.Stations) {
		return 0, false
	}
	for i := station; i >= 0; i-- {
		if t := d.Stations[i].WebTemperature; t != 0 {
			return t, true
		}
	}
	return d.Web.Temperature, false
}

// DampBehind is the relative humidity of air that the leak behind a station follows, 1 at most:
// that at the web's own temperature there. An absorbing web leaks by the air in which its
// rolls came to rest, at the temperature of [Web]: it does not follow the air of one stretch
// in the time that it is there. NaN for air that is none, and a station that is none.
func (d *Description) DampBehind(station int, t units.Temperature, rh units.RelativeHumidity) units.RelativeHumidity {
	if station < 0 || station >= len(d.Stations) {
		return units.RelativeHumidity(math.NaN())
	}
	w := Web{Temperature: d.Web.Temperature}
	if here, own := d.WebTemperature(station); own && d.Web.Humidity != humidity.Absorbing {
		w.Temperature = here
	}
	return w.Damp(t, rh)
}

// LeakStep is by how much drier the described air is at the web behind a station than at the
// temperature of the web at which the leak time there holds: above 0 on a heated stretch. 0 without a
// leak, where the two temperatures are one, and of an absorbing web; NaN for a station that is none.
func (d *Description) LeakStep(station int) units.RelativeHumidity {
	if station < 0 || station >= len(d.Stations) {
		return units.RelativeHumidity(math.NaN())
	}
	if d.Stations[station].Leak == nil || d.Web.Humidity == humidity.Absorbing {
		return 0
	}
	held := d.Stations[station].Leak.WebTemperature
	if held == 0 {
		held = d.Web.Temperature
	}
	if here, _ := d.WebTemperature(station); here == held {
		return 0
	}
	a := &d.Air
	return (&Web{Temperature: held}).Damp(a.Temperature, a.RelativeHumidity) -
		d.DampBehind(station, a.Temperature, a.RelativeHumidity)
}

// LeakTime is the time constant of the leak behind a station, in the described air and at the
// temperature of the web there: time·10^(fall·step) with the fall of [Web.LeakFall] per %RH and
// the step of [Description.LeakStep], within 1 ns … 1e12 s; +Inf without a leak, NaN for a
// station that is none.
func (d *Description) LeakTime(station int) units.Time {
	switch {
	case station < 0 || station >= len(d.Stations):
		return units.Time(math.NaN())
	case d.Stations[station].Leak == nil:
		return units.Time(math.Inf(1))
	}
	tau, step := d.Stations[station].Leak.Time, d.LeakStep(station)
	if step == 0 {
		return tau
	}
	fall, _ := d.Web.LeakFall()
	moved := float64(tau) * numeric.Pow(10, fall*100*float64(step)) // s
	return units.Time(min(max(moved, leastLeak), mostLeak))
}

// Condensing finds the first station behind which the web, as stations give its temperature, is as
// cold as the dew point of an air, or below 0 °C its frost point, or colder; -1 if there is none.
func (d *Description) Condensing(a humidity.Air) (station int, dew units.Temperature) {
	dew = a.CondensationPoint()
	for i := range d.Stations {
		if t := d.Stations[i].WebTemperature; t != 0 && t <= dew {
			return i, dew
		}
	}
	return -1, dew
}

// checkStretches checks what stations say of the temperature of the web.
func (d *Description) checkStretches(add func(error)) {
	at := func(i int) string {
		if d.Stations[i].Name == "" {
			return fmt.Sprintf("stations[%d].", i)
		}
		return fmt.Sprintf("stations[%d] (%s).", i, d.Stations[i].Name)
	}
	for i := range d.Stations {
		s := &d.Stations[i]
		lo, hi := units.Celsius(-40), units.Celsius(200)
		switch {
		case s.WebTemperature == 0:
		case s.Kind == Winder:
			add(known.Wrong(at(i)+"webTemperature", s.WebTemperature, "nothing at a winder: no way lies behind it"))
		default:
			add(known.InRange(at(i)+"webTemperature", s.WebTemperature, lo, hi))
		}
		l := s.Leak
		if l == nil {
			continue
		}
		if l.WebTemperature != 0 {
			add(known.InRange(at(i)+"leak.webTemperature", l.WebTemperature, lo, hi))
		}
		if d.Web.Humidity != humidity.Absorbing {
			continue
		}
		switch here, own := d.WebTemperature(i); {
		case own && l.WebTemperature != here:
			add(known.Wrong(at(i)+"leak.webTemperature", given(l.WebTemperature), fmt.Sprintf("%v, with a time that was "+
				"measured there: an absorbing web does not follow the air of one stretch in the time that it is there", here)))
		case !own && l.WebTemperature != 0:
			add(known.Wrong(at(i)+"leak.webTemperature", l.WebTemperature, "nothing where no station gives the temperature of "+
				"an absorbing web"))
		}
	}
	a, err := humidity.NewAir(d.Air.Temperature, d.Air.RelativeHumidity, units.Atmosphere)
	if err != nil {
		return // it is told of the air
	}
	if i, dew := d.Condensing(a); i >= 0 {
		add(known.Wrong(at(i)+"webTemperature", d.Stations[i].WebTemperature, fmt.Sprintf("more than %v, the dew point of "+
			"the described air: water condenses on a web that is colder, and nothing here tells how that leaks", dew)))
	}
}

// given is a temperature as it was written, "" where it was left out.
func given(t units.Temperature) string {
	if t == 0 {
		return ""
	}
	return t.String()
}
