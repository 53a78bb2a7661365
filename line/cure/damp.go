package cure

import (
	"fmt"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// apply moistens the air at the line, or that of one leak path alone: Air is empty, "line"
// or the name of a station with a leak path.
func (c Moisten) apply(m *Calibrated) error {
	if err := c.check(); err != nil {
		return err
	}
	return m.breathe(c.Air, m.desc.Air.Temperature, c.To)
}

// apply warms or cools the air at the line, or that of one leak path, with the same
// water; Air as in Moisten.
func (c Warm) apply(m *Calibrated) error {
	if err := c.check(); err != nil {
		return err
	}
	a := &m.desc.Air
	air, err := humidity.NewAir(a.Temperature, a.RelativeHumidity, a.Pressure)
	if err != nil {
		return err
	}
	return m.breathe(c.Air, c.To, air.At(c.To).RelativeHumidity())
}

// local says that an air is that of one leak path, by the name of its station, not that of the line.
func local(name string) bool { return name != "" && name != "line" }

// breathe brings the air at the line, or at one leak path, to another state. The leak
// along each named path follows the law of the body: its time constant falls by
// Decades per %RH from that of the surveyed air, both at the temperature of the web.
// Of the law's spread a step of 10 %RH and more takes all, a smaller one its part; a
// judgement. An inert web keeps every bit: what it costs is all that happens. Of an
// absorbing web the air at the line stands for that in which its rolls came to rest as
// well; damp air at one path does not reach into it in the seconds that it is there, and
// is refused.
func (m *Calibrated) breathe(name string, t units.Temperature, rh units.RelativeHumidity) error {
	local := local(name)
	if s := m.station(name); local && (s < 0 || m.desc.Stations[s].Leak == nil) {
		return known.Wrong("air", name, noAir)
	}
	if err := m.gate(""); err != nil {
		return err
	}
	law := m.site.Leak
	inert := m.desc.Web.Humidity == humidity.Inert || law != nil && law.Class == humidity.Inert
	if !inert && law == nil {
		return known.Wrong("leak", "none", "a law of the web's leak against humidity: two decay tests at unlike humidities")
	}
	if local && !inert && law.Class == humidity.Absorbing {
		return known.Wrong("air", name, "line: an absorbing web does not follow the air of one path in the time that it "+
			"is there")
	}
	was := m.desc.Air
	before, err := humidity.NewAir(was.Temperature, was.RelativeHumidity, was.Pressure)
	if err != nil {
		return err
	}
	after, err := humidity.NewAir(t, rh, was.Pressure)
	if err != nil {
		return err
	}
	at := -1
	if local {
		at = m.station(name)
	}
	if err := m.dewy(at, after); err != nil {
		return err
	}
	if !local {
		more := float64(after.HumidityRatio()) - float64(before.HumidityRatio())
		m.water += float64(m.site.Prices.FreshAir) * float64(before.DryAirDensity()) * more // m³/s · kg/m³
		m.desc.Air.Temperature, m.desc.Air.RelativeHumidity = t, rh
	}
	if err := m.refresh(); err != nil || inert {
		return err
	}
	for s := range m.stages {
		x := &m.stages[s]
		if math.IsInf(x.tauNet, 1) || local && x.name != name {
			continue
		}
		x.dry(law, 100*(m.atWeb(before, x.web)-m.atWeb(after, x.web)))
	}
	return nil
}

// dry moves the leak times of a stage by the law, for air that is drier at the web by step. [%RH]
func (x *stage) dry(law *LeakLaw, step float64) {
	tau, z := x.tau, scores("leak law", "")
	if tau == nil {
		tau = same(x.tauNet)
	}
	moved := make(column, Draws+1)
	for i := range moved {
		moved[i] = tau[i] * numeric.Pow(10, law.Decades*step+law.Spread*min(math.Abs(step)/10, 1)*z[i])
	}
	x.tau = moved
}

// atWeb is the relative humidity at the temperature of the web, 1 at most; own is what a station gave, 0 for none, and
// nothing to an absorbing web. [1]
func (m *Calibrated) atWeb(a humidity.Air, own units.Temperature) float64 {
	t := m.site.WebTemperature
	if own > 0 && m.desc.Web.Humidity != humidity.Absorbing && (m.site.Leak == nil ||
		m.site.Leak.Class != humidity.Absorbing) {
		t = own
	}
	if t > 0 {
		a = a.At(t)
	}
	return min(float64(a.RelativeHumidity()), 1)
}

// stretch gives the way behind station i the temperature that a station gave the web, and its leak the time
// that follows from it: the law's spread reaches it as far as the law is used.
func (m *Calibrated) stretch(x *stage, i int) {
	if t, own := m.desc.WebTemperature(i); own {
		x.web = t
	}
	d := m.desc
	d.Web.Temperature = m.site.WebTemperature
	law := m.site.Leak
	if law == nil {
		fall, sd := d.Web.LeakFall()
		law = &LeakLaw{Class: d.Web.Humidity, Decades: fall, Spread: 10 * sd}
	}
	if step := 100 * float64(d.LeakStep(i)); step != 0 && law.Class == humidity.Adsorbing {
		x.dry(law, step)
	}
}

// dewy refuses air whose water would condense on the web of a stretch: on the way behind a station, or anywhere for a
// station below 0.
func (m *Calibrated) dewy(station int, a humidity.Air) error {
	i, dew := m.desc.Condensing(a)
	if station >= 0 {
		if i = -1; m.stages[station].web > 0 && m.stages[station].web <= dew {
			i = station
		}
	}
	if i < 0 {
		return nil
	}
	t, _ := m.desc.WebTemperature(i)
	return known.Wrong("to", a.RelativeHumidity(), fmt.Sprintf("air with a dew point below %v, the temperature of the "+
		"web behind %s: that of this air is %v, and water would condense there", t, m.stages[i].name, dew))
}

// settle puts the leaks that a survey found, and the air in which it found them, into the
// description, where the web leaks by its moisture: the changes hold in that air too.
func settle(desc *line.Description, leaks []survey.LeakFound) error {
	for _, f := range leaks {
		if len(f.Airs) == 0 {
			continue
		}
		now := f.Airs[0]
		held := desc.Stations[f.Station].Leak // found at the temperature that the web has there
		held.Time, held.WebTemperature = units.Time(now.Time.Value), 0
		t, own := desc.WebTemperature(f.Station)
		if own {
			held.WebTemperature = t
		}
		if fall, sd := desc.Web.LeakFall(); fall == 0 && sd == 0 {
			continue
		}
		if own && desc.Web.Humidity == humidity.Absorbing {
			t = desc.Web.Temperature // its leaks follow the air at that
		}
		if t == 0 {
			t = desc.Air.Temperature
		}
		air, err := humidity.NewAir(t, now.Humidity, desc.Air.Pressure)
		if err != nil {
			return err
		}
		desc.Air.RelativeHumidity = min(air.At(desc.Air.Temperature).RelativeHumidity(), 100*units.PercentRH)
	}
	return nil
}

// moisture takes from the description of the web what the site does not say: its law of
// the leak, if two decay tests gave one, and its temperature.
func (m *Calibrated) moisture() {
	w := &m.desc.Web
	if m.site.Leak == nil && w.DecadesPerPercent != nil && w.Humidity != humidity.Inert {
		fall, sd := w.LeakFall()
		m.site.Leak = &LeakLaw{Class: w.Humidity, Decades: fall, Spread: 10 * sd} // of a step of 10 %RH
	}
	if m.site.WebTemperature == 0 {
		m.site.WebTemperature = w.Temperature
	}
}

// deaf says why moisture does nothing to the web, "" where it does.
func (m *Calibrated) deaf() string {
	switch {
	case m.desc.Web.Humidity == humidity.Inert:
		return "an inert web: moisture does not make it leak"
	case !hasPath(m.desc.Stations):
		return "no path to earth: a net charge in a free span does not leak"
	}
	return ""
}

// leak adds what moistening brings, or says why it is refused: the price stands
// beside it.
func (m *Calibrated) leak(p *planner, base *Prediction, a *Aim) {
	const to = 45 * units.PercentRH
	reason := m.deaf()
	if reason == "" && m.site.Leak == nil {
		reason = "no law of the leak against humidity: two decay tests at unlike humidities give one"
	}
	if m.desc.Air.RelativeHumidity >= to && reason == "" {
		reason = "the air is damp already"
	}
	if reason == "" {
		p.add(m, base, a, Moisten{To: to})
		return
	}
	c := Cure{Step: Leaking, Changes: []Change{Moisten{To: to}}, Before: p.Before, After: p.Before, Reason: reason}
	if wet, err := m.Try(c.Changes...); err == nil {
		c.Prediction = *base
		c.Prediction.Side = wet.side(nil)
	}
	p.Refused = append(p.Refused, c)
}

func hasPath(list []line.StationSpec) bool {
	for i := range list {
		if list[i].Leak != nil {
			return true
		}
	}
	return false
}
