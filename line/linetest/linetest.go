// Package linetest checks that a model of a production line obeys the laws that
// hold for every line: charge is conserved, an empty place or a split span
// changes nothing, the sign and the names of the faces do not matter, nothing
// comes from nothing, the gas caps the net charge, and a bar never adds to what it
// sees. Another project runs the checks on its own model:
//
//	func TestLine(t *testing.T) {
//		linetest.Run(t, func(d *line.Description) (linetest.Model, error) { return mine(d) })
//	}
//
// Each law is a plain function that returns an error and knows no test engine;
// [Descriptions] draws lines with rapid; [Broken] has for every law a model that
// breaks it.
package linetest

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Model is what a line must do to be checked: [line.Line] does.
type Model interface {
	// Len returns the number of stations.
	Len() int
	// RunTo writes the web as it leaves each station.
	RunTo(dst []line.Result, v units.Speed) int
}

// Maker builds the model of a description.
type Maker func(*line.Description) (Model, error)

// Of makes the models of package line.
func Of(d *line.Description) (Model, error) { return line.New(d) }

// Law is one statement that holds for every line.
type Law struct {
	Name   string // stable name of the subtest
	Says   string // the relation in words
	Source string // why it holds
	// Check returns a [*Violation] if the model of the description breaks the law at
	// the speed, another error if the model cannot be built.
	Check func(mk Maker, d *line.Description, v units.Speed) error
}

// Violation is a broken law.
type Violation struct {
	Law     string      // name of the law
	Station string      // where
	Speed   units.Speed // at which
	Got     float64     // [C/m²] what was found
	Want    string      // what the law asks
}

// Error names law, station, speed, finding and demand.
func (v *Violation) Error() string {
	return fmt.Sprintf("%s: station %q at %v: %g C/m²: want %s", v.Law, v.Station, v.Speed, v.Got, v.Want)
}

// slack is the rounding allowed, relative to all charge moved on the line.
const slack = 1e-12

func run(mk Maker, d *line.Description, v units.Speed) ([]line.Result, error) {
	m, err := mk(d)
	if err != nil {
		return nil, err
	}
	res := make([]line.Result, m.Len())
	m.RunTo(res, v)
	return res, nil
}

// scale is all charge moved on the line: what rounding is measured by.
func scale(res []line.Result) float64 {
	var s float64
	for _, r := range res {
		s += math.Abs(float64(r.GainA)) + math.Abs(float64(r.GainB)) + math.Abs(float64(r.Lost))
	}
	return s
}

// Laws returns all laws, the cheapest first.
func Laws() []Law {
	return []Law{
		{"balance", "net charge = Σ gains − Σ lost, after every station", "conservation of charge", balance},
		{"cap", "after a contact |σ_A + σ_B| is at most what one gap to earth holds", "breakdown of air, see charge.CapFreeWeb", capped},
		{"nothing", "without changes at contacts and offsets of bars there is no charge", "conservation of charge", nothing},
		{"sign", "the negative of all changes gives the negative of all charges", "no sign is special for contact, leak and balanced bars", sign},
		{"faces", "the names of the faces do not matter", "labels", faces},
		{"empty", "a place where nothing happens changes nothing", "labels", empty},
		{"split", "a span cut in two loses as much as the whole span", "exponential laws have no memory", split},
		{"bar", "a bar without offset leaves the sign and never adds to the net it sees", "only the opposite polarity is drawn", bar},
	}
}

func balance(mk Maker, d *line.Description, v units.Speed) error {
	res, err := run(mk, d, v)
	if err != nil {
		return err
	}
	var net float64
	tol := slack*scale(res) + 1e-300 // below that float64 itself rounds coarsely
	for i, r := range res {
		net += float64(r.GainA) + float64(r.GainB) - float64(r.Lost)
		if !(math.Abs(float64(r.Net())-net) <= tol) {
			return &Violation{"balance", d.Stations[i].Name, v, float64(r.Net()) - net, "0 between the net charge and the gains less the losses"}
		}
	}
	return nil
}

// oneSided is above what air holds over any gap of a centimetre or more at any
// density that a description allows: 24.22 kV/cm + 6.08 kV/√cm/√d times δ ≤ 1.6.
const oneSided = units.Epsilon0 * (24.22e5 + 6.08e5) * 1.6

func capped(mk Maker, d *line.Description, v units.Speed) error {
	res, err := run(mk, d, v)
	if err != nil {
		return err
	}
	for i, r := range res {
		if len(d.Stations[i].Change) > 0 && !(math.Abs(float64(r.Net())) <= oneSided) {
			return &Violation{"cap", d.Stations[i].Name, v, float64(r.Net()), fmt.Sprintf("a net charge of at most %.2g C/m²", oneSided)}
		}
	}
	return nil
}

// edit returns a deep copy of a description, changed.
func edit(d *line.Description, f func(*line.Description)) *line.Description {
	c := *d
	c.Stations = append([]line.StationSpec(nil), d.Stations...)
	for i := range c.Stations {
		s := &c.Stations[i]
		s.Change = append([]line.ChangeSpec(nil), s.Change...)
		if s.Ioniser != nil {
			ion := *s.Ioniser
			s.Ioniser = &ion
		}
	}
	f(&c)
	return &c
}

// twin compares the stations of two lines one by one.
func twin(law string, mk Maker, d, e *line.Description, v units.Speed, pair func(i int) int, want func(r line.Result) (a, b float64), says string) error {
	r1, err := run(mk, d, v)
	if err != nil {
		return err
	}
	r2, err := run(mk, e, v)
	if err != nil {
		return err
	}
	tol := slack*(scale(r1)+scale(r2)) + 1e-300
	for i := range r1 {
		a, b := want(r1[i])
		got := r2[pair(i)]
		if !(math.Abs(float64(got.A)-a) <= tol) {
			return &Violation{law, d.Stations[i].Name, v, float64(got.A) - a, says}
		}
		if !(math.Abs(float64(got.B)-b) <= tol) {
			return &Violation{law, d.Stations[i].Name, v, float64(got.B) - b, says}
		}
	}
	return nil
}

func same(i int) int { return i }

func ab(r line.Result) (a, b float64) { return float64(r.A), float64(r.B) }

func nothing(mk Maker, d *line.Description, v units.Speed) error {
	e := edit(d, func(c *line.Description) {
		for i := range c.Stations {
			for j := range c.Stations[i].Change {
				c.Stations[i].Change[j].Median = 0
			}
			if ion := c.Stations[i].Ioniser; ion != nil {
				ion.Offset = 0
			}
		}
	})
	res, err := run(mk, e, v)
	if err != nil {
		return err
	}
	for i, r := range res {
		if r.A != 0 || r.B != 0 {
			return &Violation{"nothing", d.Stations[i].Name, v, float64(r.A), "no charge"}
		}
	}
	return nil
}

func sign(mk Maker, d *line.Description, v units.Speed) error {
	e := edit(d, func(c *line.Description) {
		for i := range c.Stations {
			for j := range c.Stations[i].Change {
				c.Stations[i].Change[j].Median *= -1
			}
			if ion := c.Stations[i].Ioniser; ion != nil {
				ion.Offset *= -1
			}
		}
	})
	return twin("sign", mk, d, e, v, same, func(r line.Result) (float64, float64) { return -float64(r.A), -float64(r.B) }, "the mirror image of the other sign")
}

func faces(mk Maker, d *line.Description, v units.Speed) error {
	e := edit(d, func(c *line.Description) {
		for i := range c.Stations {
			for j := range c.Stations[i].Change {
				ch := &c.Stations[i].Change[j]
				ch.Face = ch.Face.Other()
			}
			if ion := c.Stations[i].Ioniser; ion != nil {
				ion.Face = ion.Face.Other()
			}
		}
	})
	return twin("faces", mk, d, e, v, same, func(r line.Result) (float64, float64) { return float64(r.B), float64(r.A) }, "the charges of the other face")
}

// insert puts a place where nothing happens before station k.
func insert(d *line.Description, k int, at units.Length) *line.Description {
	return edit(d, func(c *line.Description) {
		p := line.StationSpec{Name: "linetest place", Kind: line.Place, At: at, Gap: 300 * units.Millimetre, Leak: c.Stations[k-1].Leak}
		c.Stations = append(c.Stations[:k:k], append([]line.StationSpec{p}, c.Stations[k:]...)...)
	})
}

func empty(mk Maker, d *line.Description, v units.Speed) error {
	for k := 1; k < len(d.Stations); k++ {
		e := insert(d, k, d.Stations[k].At)
		err := twin("empty", mk, d, e, v, func(i int) int {
			if i >= k {
				i++
			}
			return i
		}, ab, "what the line carries without the empty place")
		if err != nil {
			return err
		}
	}
	return nil
}

func split(mk Maker, d *line.Description, v units.Speed) error {
	for k := 1; k < len(d.Stations); k++ {
		e := insert(d, k, (d.Stations[k-1].At+d.Stations[k].At)/2)
		err := twin("split", mk, d, e, v, func(i int) int {
			if i >= k {
				i++
			}
			return i
		}, ab, "what the line carries with the span in one piece")
		if err != nil {
			return err
		}
	}
	return nil
}

func bar(mk Maker, d *line.Description, v units.Speed) error {
	e := edit(d, func(c *line.Description) {
		for i := range c.Stations {
			if ion := c.Stations[i].Ioniser; ion != nil {
				ion.Offset = 0
			}
		}
	})
	res, err := run(mk, e, v)
	if err != nil {
		return err
	}
	for i, r := range res {
		if d.Stations[i].Kind != line.Ioniser {
			continue
		}
		before := float64(r.Net()) - float64(r.GainA) - float64(r.GainB)
		after := float64(r.Net())
		tol := slack * scale(res)
		if !(math.Abs(after) <= math.Abs(before)+tol) || after*math.Copysign(1, before) < -tol {
			return &Violation{"bar", d.Stations[i].Name, v, after, fmt.Sprintf("between 0 and %g", before)}
		}
	}
	return nil
}

// Check tries all laws on the model of one description and returns the first
// violation; it needs no test engine.
func Check(mk Maker, d *line.Description, v units.Speed) error {
	for _, l := range Laws() {
		if err := l.Check(mk, d, v); err != nil {
			return err
		}
	}
	return nil
}

// Run tries each law in a subtest of its own on drawn lines and speeds.
func Run(t *testing.T, mk Maker) {
	t.Helper()
	for _, l := range Laws() {
		t.Run(l.Name, func(t *testing.T) {
			rapid.Check(t, func(r *rapid.T) {
				d := Descriptions().Draw(r, "line")
				if err := l.Check(mk, d, Speeds().Draw(r, "speed")); err != nil {
					r.Fatalf("%v\n%s (%s)", err, l.Says, l.Source)
				}
			})
		})
	}
}

// Fuzz tries all laws under the native fuzzer.
func Fuzz(f *testing.F, mk Maker) {
	f.Fuzz(rapid.MakeFuzz(func(r *rapid.T) {
		if err := Check(mk, Descriptions().Draw(r, "line"), Speeds().Draw(r, "speed")); err != nil {
			r.Fatal(err)
		}
	}))
}

// Speeds draws line speeds from 1 mm/s to 20 m/s.
func Speeds() *rapid.Generator[units.Speed] {
	return rapid.Map(rapid.Float64Range(-3, 1.3), func(x float64) units.Speed { return units.Speed(math.Pow(10, x)) })
}

// Descriptions draws valid lines of up to nine stations with rollers, nips,
// insulating rollers, bars, places and leak paths.
func Descriptions() *rapid.Generator[*line.Description] {
	return rapid.Custom(func(r *rapid.T) *line.Description {
		d := &line.Description{Schema: line.Schema, Name: "drawn",
			Web: line.Web{Material: "film", Thickness: 20 * units.Micrometre, Width: units.Metre, Density: units.Density(900),
				RelativePermittivity: known.Band{Value: 2.2}, VolumeResistivity: units.VolumeResistivity(math.Pow(10, rapid.Float64Range(8, 17).Draw(r, "log resistivity"))),
				Humidity: humidity.Inert},
			Speed: units.MetrePerSecond, Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 30 * units.PercentRH, Pressure: units.Atmosphere},
			Limit: line.Limit{Kind: "cling"}}
		at := units.Length(0)
		change := func(f line.Face) line.ChangeSpec {
			return line.ChangeSpec{Face: f, Median: units.SurfaceChargeDensity(rapid.Float64Range(-80, 80).Draw(r, "change") * 1e-6), Spread: units.MicrocoulombPerSquareMetre,
				Exposure: units.Ratio(rapid.Float64Range(0.01, 5).Draw(r, "exposure")), Speed: known.Band{Value: rapid.Float64Range(-1, 1).Draw(r, "exponent")}}
		}
		face := rapid.SampledFrom([]line.Face{line.FaceA, line.FaceB})
		d.Stations = append(d.Stations, line.StationSpec{Name: "unwind", Kind: line.Unwind, Change: []line.ChangeSpec{change(line.FaceA), change(line.FaceB)}})
		n := rapid.IntRange(0, 7).Draw(r, "stations")
		for i := range n {
			at += units.Length(rapid.Float64Range(0, 3).Draw(r, "step"))
			s := line.StationSpec{Name: fmt.Sprint("station ", i), At: at, Kind: rapid.SampledFrom([]line.Kind{line.Roller, line.Nip, line.Ioniser, line.Place}).Draw(r, "kind")}
			switch s.Kind {
			case line.Roller, line.Nip:
				s.Roller = &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: "metal"}
				if rapid.Bool().Draw(r, "insulating") {
					s.Roller.Kind, s.Roller.Cover = "insulating", units.Time(math.Pow(10, rapid.Float64Range(-3, 4).Draw(r, "log cover")))
				}
				s.Change = []line.ChangeSpec{change(face.Draw(r, "face"))}
				if s.Kind == line.Nip {
					s.Change = append(s.Change, change(s.Change[0].Face.Other()))
				}
			case line.Ioniser:
				s.Gap = units.Length(rapid.Float64Range(1e-3, 1).Draw(r, "gap"))
				s.Ioniser = &line.IonSpec{Face: face.Draw(r, "face"), Distance: 25 * units.Millimetre, Conductivity: units.Conductivity(math.Pow(10, rapid.Float64Range(-12, -7).Draw(r, "log conductivity"))),
					Zone: 50 * units.Millimetre, Supply: units.LineCurrent(rapid.Float64Range(1e-7, 1e-3).Draw(r, "supply"))}
			case line.Place:
				s.Gap = 300 * units.Millimetre
			}
			if rapid.Bool().Draw(r, "leaks") {
				s.Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: units.Time(math.Pow(10, rapid.Float64Range(-3, 3).Draw(r, "log leak")))}
			}
			d.Stations = append(d.Stations, s)
		}
		d.Stations = append(d.Stations, line.StationSpec{Name: "winder", Kind: line.Winder, At: at + 1})
		return d
	})
}

// spoiled is a model whose results are changed after the run.
type spoiled struct {
	Model
	d     *line.Description
	spoil func(d *line.Description, res []line.Result)
}

func (s spoiled) RunTo(dst []line.Result, v units.Speed) int {
	n := s.Model.RunTo(dst, v)
	s.spoil(s.d, dst[:n])
	return n
}

// Broken returns for each law, by its name, a maker whose models break it.
func Broken() map[string]Maker {
	spoil := func(f func(d *line.Description, res []line.Result)) Maker {
		return func(d *line.Description) (Model, error) {
			m, err := line.New(d)
			if err != nil {
				return nil, err
			}
			return spoiled{m, d, f}, nil
		}
	}
	last := func(res []line.Result) *line.Result { return &res[len(res)-1] }
	return map[string]Maker{
		"balance": spoil(func(_ *line.Description, res []line.Result) { last(res).A += 1e-9 }),
		"cap": spoil(func(d *line.Description, res []line.Result) {
			res[0].A += 1e-3
		}),
		"nothing": spoil(func(_ *line.Description, res []line.Result) { last(res).A += 1e-12 }),
		"sign": spoil(func(_ *line.Description, res []line.Result) {
			if r := last(res); r.A > 0 {
				r.A *= 0.99
			}
		}),
		"faces": spoil(func(_ *line.Description, res []line.Result) { last(res).B *= 0.99 }),
		"empty": spoil(func(_ *line.Description, res []line.Result) {
			last(res).A *= units.SurfaceChargeDensity(1 - 0.01*float64(len(res)))
		}),
		"split": func(d *line.Description) (Model, error) {
			// Each span is taken 1 mm longer than it is.
			return line.New(edit(d, func(c *line.Description) {
				for i := range c.Stations {
					c.Stations[i].At += units.Length(float64(i) * 1e-3)
					if c.Stations[i].Leak == nil {
						c.Stations[i].Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: units.Second}
					}
				}
			}))
		},
		"bar": spoil(func(d *line.Description, res []line.Result) {
			for i := range res {
				if d.Stations[i].Kind == line.Ioniser {
					over := res[i].GainA + res[i].GainB
					res[i].A += 3*over + 1e-9
					res[i].GainA += 3*over + 1e-9
				}
			}
		}),
	}
}
