package plants

import (
	"fmt"
	"math"
	"slices"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

const micro = 1e-6 // C/m² per µC/m²

// path is a plant as it stands: the described stations and the hidden device.
type path struct {
	desc     *line.Description
	contacts []int // stations that charge the web
	main     []int // of them the strong ones
	after    int   // hidden device after this station, -1
	want     [][2]float64
	hidden   [2]float64 // what the hidden device gives to each face
	limit    float64
	film     float64 // t/εr [m]
}

// habits are how a generator lays out its lines.
type habits struct {
	thin, thick   float64 // film [m]
	contacts      [2]int  // rollers and nips
	places        float64 // chance of a place after a contact
	wrong         float64 // described spreads are off by up to this factor
	strong        [2]float64
	weak          float64 // median of the other changes
	past, covered float64 // chance that a place stands past a roller, that a roller is covered
}

func density(x float64) units.SurfaceChargeDensity { return units.SurfaceChargeDensity(x * micro) }

// lay describes a plant and says what each contact does.
func lay(d dice, k Kind, h habits) *path {
	t := h.thin * math.Pow(h.thick/h.thin, d.Float64())
	eps := d.between(2.1, 3.3)
	p := &path{after: -1, limit: d.between(1.5, 3), film: t / eps}
	p.desc = &line.Description{
		Schema: line.Schema, Name: "invented", Note: "Invented: no such plant exists.",
		Web: line.Web{
			Material:        "film",
			Thickness:       units.Length(t),
			ThicknessSpread: 0.03,
			Width:           units.Length(d.between(0.6, 2)),
			Density:         units.Density(950),
			RelativePermittivity: known.Band{
				Value:  eps,
				Spread: 0.05,
				Kind:   known.LogNormal,
			},
			VolumeResistivity: units.VolumeResistivity(1e15),
			Humidity:          humidity.Inert,
		},
		Speed: units.Speed(d.between(1, 6)),
		Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 20 * units.PercentRH,
			Pressure: units.Atmosphere},
		Limit: line.Limit{Kind: line.OwnLimit, Net: density(p.limit)},
		Meters: []line.Meter{
			{
				Name:      "FM",
				Kind:      line.FieldMeterKind,
				Nominal:   25 * units.Millimetre,
				Guarded:   true,
				FullScale: units.DisplayVoltage(20e3),
				Gain:      0.06,
				Offset:    40 * units.Volt,
				Placing:   3 * units.Millimetre,
				Spots:     0.2,
			},
			{Name: "VM", Kind: line.VoltmeterKind, FullScale: units.DisplayVoltage(500), Gain: 0.04, Offset: 3 * units.Volt,
				Spots: 0.1},
		},
	}
	off := func(s float64) units.SurfaceChargeDensity {
		return density(s * math.Pow(h.wrong, d.between(-1, 1)))
	}
	band := known.Band{Value: 0.5, Spread: 0.3, Kind: known.Normal}
	add := func(s line.StationSpec) {
		p.desc.Stations = append(p.desc.Stations, s)
		p.want = append(p.want, [2]float64{})
	}
	both := func(s float64) []line.ChangeSpec {
		return []line.ChangeSpec{
			{Face: line.FaceA, Spread: off(s), Speed: band},
			{Face: line.FaceB, Spread: off(s), Speed: band},
		}
	}
	at := 0.0
	add(line.StationSpec{Name: "unwind", Kind: line.Unwind, Change: both(5)})
	p.contacts = append(p.contacts, 0)
	n := h.contacts[0] + d.IntN(h.contacts[1]-h.contacts[0]+1)
	nip := 1 + d.IntN(n)
	bars := 0
	radius := units.Length(d.between(0.04, 0.08))
	place := func(last bool) {
		switch {
		case !last && !d.chance(h.places):
			return
		case !last && d.chance(h.past):
			add(line.StationSpec{Name: fmt.Sprintf("place at %.2f m", at+0.05), Kind: line.Place, At: units.Length(at + 0.05),
				Past: &line.PastSpec{Radius: radius, X: units.Length(d.between(0.03, 0.12))}})
			return
		}
		add(
			line.StationSpec{
				Name: fmt.Sprintf("place at %.2f m", at+0.2),
				Kind: line.Place,
				At:   units.Length(at + 0.2),
				Gap:  units.Length(d.between(0.12, 0.4)),
			},
		)
	}
	place(false)
	for i := 1; i <= n; i++ {
		at += d.between(0.5, 1)
		s := line.StationSpec{
			Name:   fmt.Sprintf("idler %d", i),
			Kind:   line.Roller,
			At:     units.Length(at),
			Roller: &line.RollerSpec{Radius: radius, Kind: line.BareMetal, Capacity: 200 * units.Picofarad},
		}
		if i == nip {
			s.Name, s.Kind, s.Change = "nip", line.Nip, both(12)
		} else {
			spread := 3.0
			if i == n {
				s.Name, spread = "lay-on roller", 4
			}
			s.Change = []line.ChangeSpec{{Face: pick(d, line.FaceA, line.FaceB), Spread: off(spread), Speed: band}}
		}
		if i != nip && d.chance(h.covered) {
			s.Roller.Kind, s.Roller.Cover, s.Roller.Capacity = line.InsulatingCover, units.Time(0.05), 0
		}
		add(s)
		p.contacts = append(p.contacts, len(p.desc.Stations)-1)
		place(i == n)
		if k != Two && bars < 2 && i < n && d.chance(0.25) {
			bars++
			name := fmt.Sprintf("bar %d", bars)
			add(line.StationSpec{Name: name, Kind: line.Ioniser, At: units.Length(at + 0.3), Gap: 300 * units.Millimetre,
				Ioniser: &line.IonSpec{
					Face: line.FaceA, Distance: 30 * units.Millimetre, Conductivity: units.Conductivity(1e-9),
					Zone: 50 * units.Millimetre, Supply: 300 * units.MicroamperePerMetre}})
			if d.chance(0.3) {
				add(
					line.StationSpec{
						Name: "place with " + name + " off",
						Kind: line.Place,
						At:   units.Length(at + 0.4),
						Gap:  250 * units.Millimetre,
						Off:  []string{name},
					},
				)
			}
			if d.chance(0.7) {
				add(line.StationSpec{Name: "place after " + name, Kind: line.Place, At: units.Length(at + 0.45),
					Gap: 250 * units.Millimetre})
			}
		}
	}
	add(line.StationSpec{Name: "winder", Kind: line.Winder, At: units.Length(at + 0.5)})
	p.hide(d, k, h)
	return p
}

// hide decides what each contact does.
func (p *path) hide(d dice, k Kind, h habits) {
	big := h.strong[0] * math.Pow(h.strong[1]/h.strong[0], d.Float64())
	weak := func(top float64) float64 { return d.sign() * min(h.weak*math.Exp(0.7*d.NormFloat64()), top) }
	for _, c := range p.contacts {
		top := big / 3
		if k == None {
			top = 0.45 * p.limit
		}
		for _, f := range p.faces(c) {
			p.want[c][f] = weak(top)
		}
	}
	switch k {
	case None:
		return
	case Unlisted:
		// The hidden device stands between two listed stations where a web can be
		// charged: not where the line begins or ends.
		p.after = 1 + d.IntN(len(p.desc.Stations)-3)
		p.hidden[d.IntN(2)] = d.sign() * big
		if d.chance(0.4) {
			p.hidden = [2]float64{p.hidden[0] + p.hidden[1], -(p.hidden[0] + p.hidden[1]) * d.between(0.4, 1)}
		}
		return
	case Two:
		a := d.IntN(len(p.contacts))
		b := (a + 1 + d.IntN(len(p.contacts)-1)) % len(p.contacts)
		p.main = []int{p.contacts[min(a, b)], p.contacts[max(a, b)]}
		p.strong(d, p.main[0], big)
		p.strong(d, p.main[1], big*d.between(0.85, 1.18))
		return
	case Balanced:
		i := slices.IndexFunc(p.desc.Stations, func(s line.StationSpec) bool { return s.Kind == line.Nip })
		if d.chance(0.3) {
			i = 0
		}
		p.main = []int{i}
		x := d.sign() * big
		p.want[i] = [2]float64{x, -x * d.between(0.93, 1.07)}
		return
	}
	p.main = []int{pick(d, p.contacts...)}
	p.strong(d, p.main[0], big)
}

// strong makes a contact the strong source: a contact of both faces charges one,
// or both with opposite signs, as a nip or a peel does.
func (p *path) strong(d dice, c int, big float64) {
	faces := p.faces(c)
	x := d.sign() * big
	f := pick(d, faces...)
	p.want[c][f] = x
	if len(faces) == 2 && d.chance(0.6) {
		p.want[c][1-f] = -x * d.between(0.5, 0.97)
	}
}

// faces lists the faces that a contact touches, 0 for A and 1 for B.
func (p *path) faces(c int) []int {
	var out []int
	for _, ch := range p.desc.Stations[c].Change {
		out = append(out, int(ch.Face-line.FaceA))
	}
	return out
}

// bars lists the ionisers.
func (p *path) bars() []int {
	var out []int
	for i := range p.desc.Stations {
		if p.desc.Stations[i].Kind == line.Ioniser {
			out = append(out, i)
		}
	}
	return out
}

func (p *path) hiddenSize() float64 { return max(math.Abs(p.hidden[0]), math.Abs(p.hidden[1])) }
