package cure

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Device is what an ioniser takes besides its place, by its maker or by the plant. What is
// 0 is not known, and a cure that brings the device says so.
type Device struct {
	// the compressed air of the whole device, as free air; 0 of a bar whose
	// description has pressure and holes: what they blow.
	Air     units.VolumeFlow `json:"air,omitempty"`
	Power   units.Power      `json:"power,omitempty"`   // of its supply
	Current units.Current    `json:"current,omitempty"` // that all points emit; 0 of a bar with maker's data: from them
	Yield   float64          `json:"yield,omitempty"`   // [kg/C] ozone by the emitted charge, measured
	Noise   float64          `json:"noise,omitempty"`   // [dB(A)] level at the place of work, by the device alone
	Price   float64          `json:"price,omitempty"`   // [currency] bought and mounted
	Life    units.Time       `json:"life,omitempty"`    // for which the price is paid
	Labour  units.Time       `json:"labour,omitempty"`  // of cleaning it, in each year
}

func (d *Device) check(at string) error {
	return errors.Join(known.InRange(at+".air", d.Air, 0, 10), known.InRange(at+".power", d.Power, 0, 1e6),
		known.InRange(at+".current", d.Current, 0, 1), known.InRange(at+".yield", d.Yield, 0, 1),
		known.InRange(at+".noise", d.Noise, 0, 160), known.NotNegative(at+".price", d.Price),
		known.NotNegative(at+".life", d.Life), known.InRange(at+".labour", d.Labour, 0, units.Day*366))
}

// SideEffects are what changes take besides charge, against the line as it was found: a
// device that is taken away or switched off gives back what it took. What no price is
// given for is not in a sum.
type SideEffects struct {
	Lost  units.Ratio      // output lost against the surveyed speed, below 0: gained
	Water units.MassFlow   // evaporated
	Power units.Power      // of humidifiers and supplies; that of compressed air apart
	Air   units.VolumeFlow // compressed, as free air
	// Ozone is the share of volume that the devices add in the fresh air of the hall, well mixed and
	// without decay: not what stands beside them. 0 without current, yield or fresh air.
	Ozone units.Ratio
	Noise float64 // [dB(A)] level of all devices that are added, at one place; 0: none is known
	Once  float64 // [currency] price of what is added
	// PerYear is the sum of lost output, water, power, air, cleaning and of the price of
	// what is added over its life [currency].
	PerYear  float64
	Currency string   // of the sums
	Notices  []string // of what else follows, and of what is not known, in words
}

// noEffects is what nothing has: no number at all.
func noEffects() SideEffects {
	nan := math.NaN()
	return SideEffects{Lost: units.Ratio(nan), Water: units.MassFlow(nan), Power: units.Power(nan),
		Air: units.VolumeFlow(nan), Ozone: units.Ratio(nan), Noise: nan, Once: nan, PerYear: nan}
}

// Energies behind a unit of a medium, from memory: steam evaporates a kilogram of water
// with what a boiler loses [kWh/kg], a compressor makes a cubic metre of free air at about 7 bar [kWh/m³].
const steam, compressed = 0.73, 0.11

const hour = 3600.0 // [s]

func (m *Calibrated) side(w *walked) SideEffects {
	p := &m.site.Prices
	s := SideEffects{Currency: p.Currency, Lost: units.Ratio(1 - float64(m.at)/m.speed)}
	if s.Lost > 0 {
		s.PerYear = float64(s.Lost) * p.PerHour * p.Hours
	}
	if m.water > 0 {
		s.Water = units.MassFlow(m.water)
		s.Power = units.Power(m.water * steam * 1000 * hour)       // kg/s · kWh/kg in W
		s.PerYear += m.water * hour * p.Hours * steam * p.Kilowatt // kg/h · h · kWh/kg · price
		s.PerYear += m.water * hour * p.Hours / 1000 * p.Water     // m³ · price
		s.Notices = append(s.Notices, "moisture: mould, corrosion, wet cold goods; see the notice on humidity")
	}
	t := taken{s: &s, p: p, sound: 0}
	now := map[string]bool{}
	for i := range m.stages {
		x := &m.stages[i]
		if x.bar == nil || x.bar.off {
			continue
		}
		now[x.name] = true
		if !m.had[x.name] {
			t.add(m, x.name, m.desc.Stations[i].Ioniser, 1)
		}
	}
	for _, spec := range m.found {
		if spec.Ioniser != nil && !now[spec.Name] {
			t.add(m, spec.Name, spec.Ioniser, -1)
		} else if spec.Ioniser != nil {
			t.blown(m, spec.Ioniser.Bar, m.desc.Stations[m.station(spec.Name)].Ioniser.Bar)
		}
	}
	if w != nil { // nil: only sums are asked for
		s.Notices = append(s.Notices, m.unchanged(w)...)
	}
	if t.sound > 0 {
		s.Noise = 10 * math.Log10(t.sound)
	}
	return s
}

// taken sums what devices take.
type taken struct {
	s     *SideEffects
	p     *Prices
	sound float64 // of those added, as intensity over that of 0 dB
}

// blown adds what the other air of a bar takes.
func (t *taken) blown(m *Calibrated, was, is *line.Bar) {
	if was == nil || is == nil || was.Gauge == is.Gauge {
		return
	}
	a, err := was.AirUse(m.desc.Web.Width, m.line.Air())
	b, err2 := is.AirUse(m.desc.Web.Width, m.line.Air())
	if err != nil || err2 != nil {
		return // the curve was made with this air
	}
	t.s.Air += b - a
	t.s.PerYear += float64(b-a) * hour * t.p.Hours * compressed * t.p.Kilowatt
}

// add adds a device, or takes it away.
func (t *taken) add(m *Calibrated, name string, ion *line.IonSpec, sign float64) {
	d := m.site.Devices[name]
	s, p := t.s, t.p
	air, err := humidity.NewAir(m.desc.Air.Temperature, m.desc.Air.RelativeHumidity, m.desc.Air.Pressure)
	if err != nil {
		return // the line was built with this air
	}
	if b := ion.Bar; b != nil {
		if d.Air == 0 {
			if q, err := b.AirUse(m.desc.Web.Width, air); err == nil {
				d.Air = q
			}
		}
		if d.Current == 0 {
			d.Current = units.Current(2 * float64(b.Current) * float64(m.desc.Web.Width)) // both polarities
		}
	}
	s.Air += units.VolumeFlow(sign * float64(d.Air))
	s.Power += units.Power(sign * float64(d.Power))
	s.PerYear += sign * float64(d.Air) * hour * p.Hours * compressed * p.Kilowatt
	s.PerYear += sign * float64(d.Power) / 1000 * p.Hours * p.Kilowatt
	s.PerYear += sign * float64(d.Labour) / hour * p.Labour
	if p.FreshAir > 0 && d.Yield > 0 && d.Current > 0 {
		rate := ionflow.OzoneRate(d.Current, d.Yield)
		s.Ozone += units.Ratio(sign * float64(ionflow.OzoneConcentration(rate, p.FreshAir, air.Temperature(),
			air.Pressure())))
	}
	if sign < 0 {
		return
	}
	s.Once += d.Price
	if d.Life > 0 {
		s.PerYear += d.Price / (float64(d.Life) / (365.25 * float64(units.Day)))
	}
	if d.Noise > 0 {
		t.sound += numeric.Pow(10, d.Noise/10)
	}
	t.unknown(name, ion, &d)
}

// unknown says what nobody gave of a device that is added.
func (t *taken) unknown(name string, ion *line.IonSpec, d *Device) {
	list := ""
	add := func(missing bool, what string) {
		if !missing {
			return
		}
		if list != "" {
			list += ", "
		}
		list += what
	}
	if !ion.Passive {
		add(d.Power == 0, "power")
		add(d.Yield == 0 || d.Current == 0 || t.p.FreshAir == 0, "ozone (ask for current and yield, and measure)")
		add(d.Air == 0, "compressed air, if it blows")
		add(d.Noise == 0, "noise")
	}
	add(d.Price == 0, "price")
	if list != "" {
		t.s.Notices = append(t.s.Notices, fmt.Sprintf("%s: not given: %s", name, list))
	}
	if d.Air > 0 {
		t.s.Notices = append(t.s.Notices, name+": compressed air: eye protection, check the noise, never at people")
	}
}
