package survey

import (
	"cmp"
	"math"
	"slices"

	"example.org/pithball/line"
)

// Blunder is what would explain a reading that does not fit the others.
type Blunder uint8

// The blunders.
const (
	NoBlunder    Blunder = iota // nothing simple explains it
	WrongSign                   // the sign
	TenTimes                    // ten times too much
	ATenth                      // a tenth of it
	WrongPlace                  // it is what another place shows
	KiloAsVolts                 // kilovolts written as volts
	OutsideGroup                // a spot unlike the others at the same place
)

// OddReading is a reading that does not fit the others. It need not be wrong: a
// reversed patch of the web looks the same.
type OddReading struct {
	Reading  int     // in the survey
	Shown    float64 // [V] zero taken off, in volts of mid-web
	Expected float64 // [V] by the other readings
	SD       float64 // [V] standard deviation of that, with the reading's own
	Chance   float64 // [1] that it does not belong; 1 where its own group says so
	Blunder  Blunder // what would explain it
	Place    int     // of WrongPlace: the station whose reading it may be; else -1
}

// Agreement is how well the readings fit together.
type Agreement struct {
	Used      int          // readings that entered
	Odd       []OddReading // by falling chance
	Scatter   float64      // [1] relative scatter of a charged face from spot to spot, as found
	Described float64      // [1] the same as described
	// Strain is by how much readings of different places disagree beyond what their
	// errors allow, as a factor on standard deviations; the bands are that much wider.
	Strain float64 // [1]
}

// oddChance is the chance from which on a reading is named.
const oddChance = 0.3

// Agreement says how well the readings fit together, and names those that do not.
func (d *Diagnosis) Agreement() Agreement {
	if d.none() {
		nan := math.NaN()
		return Agreement{Scatter: nan, Described: nan, Strain: nan}
	}
	m := d.model
	a := Agreement{Described: m.spots, Scatter: m.spots * math.Sqrt(m.kappa), Strain: math.Sqrt(m.misfit)}
	for i := range d.Fits {
		if d.Fits[i].Used {
			a.Used++
		}
	}
	for i := range m.rows {
		r := &m.rows[i]
		g := r.group
		if g == nil || g.over != 0 {
			continue
		}
		mean, variance := m.dual.without(i)
		mean += m.constant(r.gi)
		one := m.misfit * m.own(r.gi, m.fit(r.gi), 1, 1)
		if r.at <= 0 { // once for each group
			for _, reading := range g.dropped {
				a.Odd = append(a.Odd, d.odd(reading, g.mean, math.Sqrt(one), 1, OutsideGroup))
			}
		}
		if d.wrong[i] < oddChance {
			continue
		}
		readings := g.readings
		if r.at >= 0 {
			readings = readings[r.at : r.at+1]
		}
		for _, reading := range readings {
			a.Odd = append(a.Odd, d.odd(reading, mean, math.Sqrt(variance+one), d.wrong[i], NoBlunder))
		}
	}
	slices.SortStableFunc(a.Odd, func(x, y OddReading) int {
		return cmp.Or(cmp.Compare(y.Chance, x.Chance), cmp.Compare(x.Reading, y.Reading))
	})
	return a
}

// odd looks for what would explain a reading: what it would be without the blunder
// must lie within two standard deviations of what the others say, and what is said
// must be known well enough for that to mean something.
func (d *Diagnosis) odd(reading int, expected, sd, chance float64, otherwise Blunder) OddReading {
	o := OddReading{
		Reading:  reading,
		Shown:    d.shown[reading].volts,
		Expected: expected,
		SD:       sd,
		Chance:   chance,
		Blunder:  otherwise,
		Place:    -1,
	}
	if sd > 0.4*math.Abs(expected) {
		return o
	}
	r := &d.survey.Readings[reading]
	best := 2.0
	try := func(b Blunder, meant float64, place int) {
		if off := math.Abs(meant-expected) / sd; off < best {
			best, o.Blunder, o.Place = off, b, place
		}
	}
	try(WrongSign, -o.Shown, -1)
	try(TenTimes, o.Shown/10, -1)
	try(ATenth, 10*o.Shown, -1)
	if r.Quantity == line.FieldMeter {
		try(KiloAsVolts, 1000*o.Shown, -1)
	}
	if o.Blunder != otherwise {
		return o
	}
	// Another place: the reading would fit there by itself, and nowhere else.
	w := d.line.Station(r.Station)
	for gi, g := range d.model.groups {
		if g.Station == w || g.Meter != d.meterOf(r) || g.over != 0 {
			continue
		}
		fit, one := d.model.fit(gi), math.Sqrt(d.model.own(gi, d.model.fit(gi), 1, 1))
		if one > 0.4*math.Abs(fit) || math.Abs(o.Shown-fit) > one {
			continue
		}
		if o.Place >= 0 {
			return OddReading{
				Reading:  reading,
				Shown:    o.Shown,
				Expected: expected,
				SD:       sd,
				Chance:   chance,
				Blunder:  otherwise,
				Place:    -1,
			}
		}
		o.Blunder, o.Place = WrongPlace, g.Station
	}
	return o
}

func (d *Diagnosis) meterOf(r *Reading) int {
	return slices.IndexFunc(d.desc.Meters, func(m line.Meter) bool { return m.Name == r.Meter })
}
