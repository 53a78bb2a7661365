// Package linetest checks that a model of a production line obeys the laws that hold
// for every line: charge is conserved, an empty place or a split span changes
// nothing, the sign and the names of the faces do not matter, nothing comes from
// nothing, the gas caps the net charge, and a bar never adds to what it sees. Another
// project runs the checks on its own model:
//
//	func TestLine(t *testing.T) {
//		linetest.Lines().Run(t, func(d *line.Description) (linetest.Model, error) { return mine(d) })
//	}
//
// Further kits hold decisions on a calibrated line, [Cures], and what keeps a cure:
// [Seasons] a forecast of the year, [Comparisons] a comparison of two days. That a
// cover holds no more than the gas lets it is a law of chargetest.
//
// See package lawtest for what a kit can do. Import this package from tests only.
package linetest

import (
	"encoding/json"
	"fmt"
	"math"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Model is what a line must do to be checked: [line.Line] does.
//
// Beyond physics, the laws ask: a line whose contacts change nothing and whose bars
// have no offset carries exactly 0; the balance of each station closes to rounding;
// the same line at the same speed gives the same result, whatever ran before.
type Model interface {
	// Len returns the number of stations.
	Len() int
	// RunTo writes the web as it leaves each station.
	RunTo(dst []line.Result, v units.Speed) int
}

// Maker builds the model of a description. An error refuses a description; no more
// than half of those drawn may be refused.
type Maker func(*line.Description) (Model, error)

// Of makes the models of package line.
func Of(d *line.Description) (Model, error) { return line.New(d) }

// Input is a line and a speed at which a law is tried.
type Input struct {
	Line  *line.Description // valid
	Speed units.Speed       // 1 mm/s … 20 m/s
}

// String writes the input for messages: the speed, then the line, its parts and
// stations in the form of its file, one a line.
func (in Input) String() string {
	s := fmt.Sprintf("Speed: %v", in.Speed)
	part := func(name string, v any) {
		b, err := json.Marshal(v)
		s += fmt.Sprintf("\n%s: %s", name, b)
		if err != nil {
			s += err.Error()
		}
	}
	part("Web", in.Line.Web)
	part("Air", in.Line.Air)
	for i, x := range in.Line.Stations {
		part(fmt.Sprintf("Stations[%d]", i), x)
	}
	return s
}

// Lines returns the laws of every line. They are tried on lines of up to nine
// stations with rollers, nips, insulating rollers, bars, places and leak paths, at
// 1 mm/s to 20 m/s.
func Lines() lawtest.Kit[Maker, Input] {
	return lawtest.Kit[Maker, Input]{
		Laws: append(lineLaws(), twinLaws()...),
		Input: func(d *lawtest.Draw, _ Maker) Input {
			return Input{description(d), lawtest.Decades(d, "speed", 1e-3*units.MetrePerSecond, 20*units.MetrePerSecond)}
		},
	}
}

// run returns the line and what it carries.
func run(mk Maker, d *line.Description, v units.Speed) ([]line.Result, error) {
	m, err := mk(d)
	if err != nil {
		return nil, lawtest.Refused(err)
	}
	res := make([]line.Result, m.Len())
	m.RunTo(res, v)
	return res, nil
}

// rounding is what is allowed for it, relative to all charge moved on the lines.
func rounding(lines ...[]line.Result) float64 { // [C/m²]
	var s float64
	for _, res := range lines {
		for _, r := range res {
			s += math.Abs(float64(r.GainA)) + math.Abs(float64(r.GainB)) + math.Abs(float64(r.Lost))
		}
	}
	return 1e-12*s + 1e-300 // below that float64 itself rounds coarsely
}

// oneSided is above what air holds over any gap of a centimetre or more at any
// density that a description allows: 24.22 kV/cm + 6.08 kV/√cm/√d times δ ≤ 1.6.
const oneSided = units.Epsilon0 * (24.22e5 + 6.08e5) * 1.6

// each makes a check of one station after the other.
func each(check func(s line.StationSpec, r line.Result, slack float64) error) func(mk Maker, in Input) error {
	return func(mk Maker, in Input) error {
		res, err := run(mk, in.Line, in.Speed)
		if err != nil {
			return err
		}
		for i, r := range res {
			if err := check(in.Line.Stations[i], r, rounding(res)); err != nil {
				return err
			}
		}
		return nil
	}
}

// lineLaws are about one line.
func lineLaws() []lawtest.Law[Maker, Input] {
	return []lawtest.Law[Maker, Input]{{
		Name: "balance", Says: "net charge = Σ gains − Σ lost, after every station", Source: "conservation of charge",
		Broken: spoil(func(_ *line.Description, res []line.Result) { last(res).A += 1e-9 }),
		Check: func(mk Maker, in Input) error {
			var net float64
			return each(func(s line.StationSpec, r line.Result, slack float64) error {
				net += float64(r.GainA) + float64(r.GainB) - float64(r.Lost)
				ok := math.Abs(float64(r.Net())-net) <= slack
				return lawtest.That(ok, units.SurfaceChargeDensity(net).String(), r.Net(), s.Name)
			})(mk, in)
		},
	}, {
		Name: "cap", Says: "after a contact |σ_A + σ_B| is at most what one gap to earth holds", Source: "breakdown of air",
		Broken: spoil(func(_ *line.Description, res []line.Result) { res[0].A += 1e-3 }),
		Check: each(func(s line.StationSpec, r line.Result, _ float64) error {
			ok := len(s.Change) == 0 || math.Abs(float64(r.Net())) <= oneSided
			return lawtest.That(ok, fmt.Sprintf("a net charge of at most %.2g C/m²", oneSided), r.Net(), s.Name)
		}),
	}, {
		Name: "nothing", Says: "without changes at contacts and offsets of bars there is no charge",
		Source: "conservation of charge",
		Broken: spoil(func(_ *line.Description, res []line.Result) { last(res).A += 1e-12 }),
		Check: func(mk Maker, in Input) error {
			in.Line = edit(in.Line, func(c *line.ChangeSpec) { c.Median = 0 }, func(b *line.IonSpec) { b.Offset = 0 })
			return each(func(s line.StationSpec, r line.Result, _ float64) error {
				return lawtest.That(r.A == 0 && r.B == 0, "no charge", r.A, r.B, s.Name)
			})(mk, in)
		},
	}, {
		Name: "bar", Says: "a bar without offset leaves the sign and never adds to the net it sees",
		Source: "only the opposite polarity is drawn",
		Broken: spoil(func(d *line.Description, res []line.Result) {
			for i := range res {
				if d.Stations[i].Kind == line.Ioniser {
					over := 3*(res[i].GainA+res[i].GainB) + 1e-9
					res[i].A += over
					res[i].GainA += over
				}
			}
		}),
		Check: func(mk Maker, in Input) error {
			in.Line = edit(in.Line, nil, func(b *line.IonSpec) { b.Offset = 0 })
			return each(func(s line.StationSpec, r line.Result, slack float64) error {
				before := float64(r.Net()) - float64(r.GainA) - float64(r.GainB)
				after := float64(r.Net())
				ok := math.Abs(after) <= math.Abs(before)+slack && after*math.Copysign(1, before) >= -slack
				want := fmt.Sprintf("from 0 to %v", units.SurfaceChargeDensity(before))
				return lawtest.That(ok || s.Kind != line.Ioniser, want, r.Net(), s.Name)
			})(mk, in)
		},
	}}
}

// edit returns a deep copy of a description with changed contacts and bars.
func edit(d *line.Description, contact func(*line.ChangeSpec), bar func(*line.IonSpec)) *line.Description {
	c := *d
	c.Stations = append([]line.StationSpec(nil), d.Stations...)
	for i := range c.Stations {
		s := &c.Stations[i]
		s.Change = append([]line.ChangeSpec(nil), s.Change...)
		for j := range s.Change {
			if contact != nil {
				contact(&s.Change[j])
			}
		}
		if s.Ioniser != nil {
			ion := *s.Ioniser
			bar(&ion)
			s.Ioniser = &ion
		}
	}
	return &c
}

// faces are the charge densities of a web.
type faces struct{ a, b units.SurfaceChargeDensity }

// twin compares the stations of two lines one by one; want is what a station of the
// second carries if the one of the first carries r.
func twin(mk Maker, in Input, e *line.Description, pair func(i int) int, want func(r line.Result) faces) error {
	one, err := run(mk, in.Line, in.Speed)
	if err != nil {
		return err
	}
	two, err := run(mk, e, in.Speed)
	if err != nil {
		return err
	}
	slack := rounding(one, two)
	for i, r := range one {
		w, got := want(r), two[pair(i)]
		if !(math.Abs(float64(got.A-w.a)) <= slack && math.Abs(float64(got.B-w.b)) <= slack) {
			return lawtest.That(false, fmt.Sprintf("%v, %v", w.a, w.b), got.A, got.B, e.Stations[pair(i)].Name)
		}
	}
	return nil
}

func same(i int) int { return i }

// inserted compares with the line that has a place where nothing happens before one
// station after the other, at the share of the span before it.
func inserted(share float64) func(mk Maker, in Input) error {
	return func(mk Maker, in Input) error {
		for k := 1; k < len(in.Line.Stations); k++ {
			s := in.Line.Stations
			at := s[k-1].At + units.Length(share*float64(s[k].At-s[k-1].At))
			p := line.StationSpec{Name: "linetest place", Kind: line.Place, At: at, Gap: 300 * units.Millimetre,
				Leak: s[k-1].Leak}
			e := *in.Line
			e.Stations = append(append(s[:k:k], p), s[k:]...)
			err := twin(mk, in, &e, func(i int) int {
				if i >= k {
					i++
				}
				return i
			}, func(r line.Result) faces { return faces{r.A, r.B} })
			if err != nil {
				return err
			}
		}
		return nil
	}
}

// twinLaws compare a line with another.
func twinLaws() []lawtest.Law[Maker, Input] {
	return []lawtest.Law[Maker, Input]{{
		Name: "sign", Says: "the negative of all changes gives the negative of all charges",
		Source: "no sign is special for contact, leak and balanced bars",
		Broken: spoil(func(_ *line.Description, res []line.Result) {
			if r := last(res); r.A > 0 {
				r.A *= 0.99
			}
		}),
		Check: func(mk Maker, in Input) error {
			e := edit(in.Line, func(c *line.ChangeSpec) { c.Median *= -1 }, func(b *line.IonSpec) { b.Offset *= -1 })
			return twin(mk, in, e, same, func(r line.Result) faces { return faces{-r.A, -r.B} })
		},
	}, {
		Name: "faces", Says: "the names of the faces do not matter", Source: "labels",
		Broken: spoil(func(_ *line.Description, res []line.Result) { last(res).B *= 0.99 }),
		Check: func(mk Maker, in Input) error {
			e := edit(in.Line, func(c *line.ChangeSpec) { c.Face = c.Face.Other() },
				func(b *line.IonSpec) { b.Face = b.Face.Other() })
			return twin(mk, in, e, same, func(r line.Result) faces { return faces{r.B, r.A} })
		},
	}, {
		Name: "empty", Says: "a place where nothing happens changes nothing", Source: "labels",
		Broken: spoil(func(_ *line.Description, res []line.Result) {
			last(res).A *= units.SurfaceChargeDensity(1 - 0.01*float64(len(res)))
		}),
		Check: inserted(1),
	}, {
		Name: "split", Says: "a span cut in two loses as much as the whole span", Source: "exponential laws have no memory",
		Broken: longer,
		Check:  inserted(0.5),
	}}
}
