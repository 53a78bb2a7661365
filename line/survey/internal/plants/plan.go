package plants

import (
	"math"
	"slices"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// spot is one reading that is to be taken.
type spot struct {
	station int
	volt    bool
	face    int     // the face a voltmeter looks at
	cross   float64 // position across the web over its width
	speed   float64 // over the described speed
	day     int
	isolate bool // the roller under it is not earthed
}

// walkRound lists what the surveyor reads and in which order: four spots at each
// place, a voltmeter over most metal rollers, where both faces can be seen one
// after the other.
func (p *path) walkRound(d dice, k Kind, volts float64) []spot {
	var out []spot
	if k == FewVolts {
		volts /= 2
	}
	if k == FreeSpans || k == Balanced {
		volts = 0
	}
	round := func(speed float64, day int) {
		for i := range p.desc.Stations {
			s := &p.desc.Stations[i]
			switch s.Kind {
			case line.Place:
				y := d.between(0.2, 0.8)
				for j := range 4 {
					if k != OneSpot {
						y = 0.14 + 0.24*float64(j)
					}
					out = append(out, spot{station: i, cross: y, speed: speed, day: day})
				}
			case line.Roller, line.Nip:
				if s.Roller.Kind != line.BareMetal || !d.chance(volts) {
					continue
				}
				f := d.IntN(2)
				if s.Kind == line.Roller {
					f = 1 - p.faces(i)[0]
				}
				y := d.between(0.2, 0.8)
				n := pick(d, 1, 1, 2)
				for range n {
					out = append(out, spot{station: i, volt: true, face: f, cross: y, speed: speed, day: day})
					if k != OneSpot {
						y = d.between(0.2, 0.8)
					}
				}
			}
		}
	}
	round(1, 0)
	switch k {
	case Speeds:
		round(pick(d, 0.5, 0.6, 1.6), 0)
	case Days:
		round(1, 1)
	}
	return out
}

// row writes one reading down.
func (p *path) row(s spot, volts float64) survey.Reading {
	st := &p.desc.Stations[s.station]
	cross := units.Length(s.cross * float64(p.desc.Web.Width))
	r := survey.Reading{Repeat: 1, Speed: units.Speed(s.speed * float64(p.desc.Speed)), HasZero: true,
		HasAir: true, AirTemperature: p.desc.Air.Temperature, AirHumidity: p.desc.Air.RelativeHumidity}
	r.Time = time.Date(2026, 1, 14+s.day, 10, 0, 0, 0, time.UTC)
	if s.day > 0 {
		r.AirHumidity = 45 * units.PercentRH
	}
	r.Look = line.Look{
		Station:  st.Name,
		Quantity: line.FieldMeter,
		Face:     line.FaceA,
		Distance: 25 * units.Millimetre,
		Running:  true,
		Meter:    "FM",
		Cross:    cross,
	}
	full, step := float64(p.desc.Meters[0].FullScale), 10.0
	if math.Abs(volts) > 2000 {
		step = 100
	}
	if s.volt {
		r.Look = line.Look{
			Station:  st.Name,
			Quantity: line.OverRoller,
			Face:     line.FaceA + line.Face(s.face),
			Running:  true,
			Meter:    "VM",
			Cross:    cross,
		}
		full, step = 500, 0.1
	}
	r.Value = math.Round(volts/step) * step
	if math.Abs(volts) >= full {
		r.Value, r.AtLeast = math.Copysign(full, volts), true
	}
	return r
}

// earths adds the ground check: most conductors read a few ohms; the isolated
// one, if there is one, far more.
func (p *path) earths(d dice, isolated int, measured float64) []survey.Reading {
	var out []survey.Reading
	for i := range p.desc.Stations {
		r := p.desc.Stations[i].Roller
		if r == nil || r.Kind != line.BareMetal || i != isolated && !d.chance(measured) {
			continue
		}
		ohms := math.Round(10*d.between(0.3, 8)) / 10
		if i == isolated {
			ohms = math.Pow(10, d.between(7, 10))
		}
		out = append(
			out,
			survey.Reading{
				Look:   line.Look{Station: p.desc.Stations[i].Name, Quantity: line.EarthResistance},
				Repeat: 1,
				Value:  ohms,
			},
		)
	}
	return out
}

// isolate picks a roller that is read by the voltmeter and is not the source.
func (p *path) isolate(d dice, plan []spot) int {
	var free []int
	for _, s := range plan {
		if s.volt && !slices.Contains(p.main, s.station) && !slices.Contains(free, s.station) {
			free = append(free, s.station)
		}
	}
	if len(free) == 0 {
		return -1
	}
	at := pick(d, free...)
	for i := range plan {
		plan[i].isolate = plan[i].volt && plan[i].station == at
	}
	return at
}

// alone reports whether the plan reads the main contact alone: on the way in and
// on the way out the nearest reading that sees what it changed has no other
// contact between. A field meter sees it unless the faces cancel to less than a
// third, a voltmeter sees the face it looks at.
func (p *path) alone(plan []spot, isolated int) bool {
	if len(p.main) != 1 {
		return false
	}
	c := p.main[0]
	w := p.want[c]
	top := 0
	if math.Abs(w[1]) > math.Abs(w[0]) {
		top = 1
	}
	net := math.Abs(w[0]+w[1]) > math.Abs(w[top])/3
	sees := func(s spot) bool {
		if s.volt {
			return s.face == top && s.station != isolated
		}
		return net && len(p.desc.Stations[s.station].Off) == 0
	}
	k := slices.Index(p.contacts, c)
	before, after := k == 0, false
	for _, s := range plan {
		if !sees(s) {
			continue
		}
		// A voltmeter over a contact reads behind it, and before it where the contact
		// does not touch the face.
		if k > 0 && s.station >= p.contacts[k-1] && s.station < c {
			before = true
		}
		if s.volt && s.station == c && slices.Contains(p.faces(c), s.face) ||
			s.station > c && (k+1 == len(p.contacts) || s.station < p.contacts[k+1]) ||
			s.volt && k+1 < len(p.contacts) && s.station == p.contacts[k+1] &&
				!slices.Contains(p.faces(p.contacts[k+1]), s.face) {
			after = true
		}
	}
	return before && after
}
