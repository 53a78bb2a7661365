package linetest

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// answerLaws are about what a calibrated line answers.
func answerLaws() []lawtest.Law[DeciderMaker, Input] {
	return []lawtest.Law[DeciderMaker, Input]{{
		Name: "calibrated input", Says: "the line of the calibrated description runs as the median of what is predicted; " +
			"with bars, within its band",
		// What a bar takes scatters also where no contact does, and the median of what several leave is not what they
		// leave at their medians.
		Source: "what was found was found there",
		Broken: wrong(off{input: func(d *line.Description, _ int) {
			d.Stations[0].Change = slices.Clone(d.Stations[0].Change)
			d.Stations[0].Change[0].Median += 1e-9
		}}),
		Check: func(mk DeciderMaker, in Input) error {
			sure := edit(in.Line, func(c *line.ChangeSpec) { c.Spread = 1e-12 }, func(*line.IonSpec) {})
			m, err := mk(sure, decided())
			if err != nil {
				return lawtest.Refused(err)
			}
			d, err := m.Description()
			if err != nil {
				return lawtest.Refused(err)
			}
			res := ran(&d)
			bars := slices.ContainsFunc(d.Stations, func(s line.StationSpec) bool { return s.Ioniser != nil })
			for i, s := range m.Predict().Stations {
				for _, p := range []struct {
					run  units.SurfaceChargeDensity
					band cure.Quantiles
				}{{res[i].A, s.A}, {res[i].B, s.B}} {
					low, high := p.band[1], p.band[1]
					if bars {
						low, high = p.band[0], p.band[2]
					}
					x, slack := float64(p.run), 1e-11+1e-9*math.Abs(float64(p.run)) // the spread that is left
					if !(low-slack <= x && x <= high+slack) {
						return lawtest.That(false, fmt.Sprint(p.run, " at ", s.Name), units.SurfaceChargeDensity(p.band[1]))
					}
				}
			}
			return nil
		},
	}, {
		Name: "exposure", Says: "at the surveyed speed no exposure of a contact counts",
		Source: "what was found was found there",
		Broken: func(d *line.Description, s *cure.Site) (Decider, error) {
			m, err := Decides(d, s)
			if err != nil {
				return nil, err
			}
			return m.With(cure.Run{Speed: d.Speed * 1.01})
		},
		Check: func(mk DeciderMaker, in Input) error {
			still := func(c *line.ChangeSpec) { c.Speed = known.Band{Value: 0.5} }
			was, _, err := try(mk, edit(in.Line, still, func(*line.IonSpec) {}))
			if err != nil {
				return err
			}
			other := edit(in.Line, func(c *line.ChangeSpec) {
				still(c)
				c.Exposure = units.Ratio(0.1 + float64(c.Exposure)/2)
			}, func(*line.IonSpec) {})
			is, _, err := try(mk, other)
			if err != nil {
				return err
			}
			one, two := was.Predict(), is.Predict()
			for i, s := range one.Stations {
				for k := range s.Net {
					x, y := s.Net[k], two.Stations[i].Net[k]
					if !(math.Abs(x-y) <= 1e-9*(1e-6+math.Abs(x))) {
						return lawtest.That(false, fmt.Sprint(x, " at ", s.Name), y)
					}
				}
			}
			return nil
		},
	}, {
		Name: "one exponent", Says: "the net of a nip has one sign at every speed",
		Source: "a nip grows with the speed on both faces alike",
		Broken: func(d *line.Description, s *cure.Site) (Decider, error) { return Decides(apart(d), s) },
		Check: func(mk DeciderMaker, in Input) error {
			d := nip(in)
			x := min(max(float64(in.Speed), 0.25), 4)
			_, is, err := try(mk, d, cure.Run{Speed: units.Speed(x)})
			if err != nil {
				return err
			}
			p := is.Predict()
			s := p.Stations[len(p.Stations)-1]
			return lawtest.That(s.Net[0] > 0 && s.Net[2] > 0, "above 0 as at the surveyed speed", s.Net[0], s.Net[2])
		},
	}, {
		Name: "inert", Says: "moisture changes no bit of an inert web", Source: "it does not leak",
		Broken: wrong(noisy),
		Check: func(mk DeciderMaker, in Input) error {
			was, is, err := try(mk, in.Line, cure.Moisten{To: 70 * units.PercentRH})
			if err != nil {
				return err
			}
			return equal(was.Predict(), is.Predict(), every)
		},
	}, {
		Name: "flat range", Says: "at the ends of the flat range a bar takes nearly the share of the best place",
		Source: "1 − e^(−κf) with f within 5 %",
		Broken: wrong(off{place: func(s *cure.BarSpot) { s.From = (s.From + 9*1.02*units.Metre) / 10 }}),
		Check: func(mk DeciderMaker, in Input) error {
			d := barred(in)
			m, err := mk(d, decided())
			if err != nil {
				return lawtest.Refused(err)
			}
			spot, err := m.BestPlace("first", 25*units.Millimetre)
			if err != nil {
				return lawtest.Refused(err)
			}
			share := func(at units.Length) (float64, error) {
				is, err := m.With(cure.Move{Station: "bar", To: at})
				if err != nil {
					return 0, lawtest.Refused(err)
				}
				p := is.Predict()
				k := slices.IndexFunc(p.Stations, func(s cure.StationPrediction) bool { return s.Name == "bar" })
				return 1 - p.Stations[k].Net[1]/p.Stations[k-1].Net[1], nil
			}
			best, err := share(spot.At)
			if err != nil {
				return err
			}
			for _, at := range []units.Length{spot.From, spot.To} {
				s, err := share(at)
				if err != nil {
					return err
				}
				if !(math.Abs(s-best) < 0.05) {
					return lawtest.That(false, fmt.Sprint(best, " nearly"), s, at)
				}
			}
			return nil
		},
	}, {
		Name: "one fails", Says: "a row of the table is the line with that bar off; what was off when a place was read stays",
		Source: "what a table says and what a line does are one",
		Broken: wrong(off{input: func(d *line.Description, tried int) {
			for i := range d.Stations {
				if tried > 0 {
					d.Stations[i].Off = nil
				}
			}
		}}),
		Check: func(mk DeciderMaker, in Input) error {
			d := barred(in)
			m, err := mk(d, decided())
			if err != nil {
				return lawtest.Refused(err)
			}
			without, err := m.With(cure.Switch{Station: "bar"})
			if err != nil {
				return lawtest.Refused(err)
			}
			p, f := without.Predict(), m.IfOneFails()
			row := slices.IndexFunc(f.Rows, func(r cure.FailureRow) bool { return r.Out == "bar" })
			if row < 0 {
				return lawtest.That(false, "a row of the bar", len(f.Rows))
			}
			for k, name := range f.Stations {
				s := slices.IndexFunc(p.Stations, func(s cure.StationPrediction) bool { return s.Name == name })
				if f.Rows[row].Net[k] != p.Stations[s].Net || f.Rows[row].Over[k] != p.Stations[s].Over {
					return lawtest.That(false, fmt.Sprint(p.Stations[s].Net, " at ", name), f.Rows[row].Net[k])
				}
			}
			now, err := without.Description()
			if err != nil {
				return lawtest.Refused(err)
			}
			for i := range d.Stations {
				if !slices.Equal(d.Stations[i].Off, now.Stations[i].Off) {
					return lawtest.That(false, fmt.Sprint(d.Stations[i].Off, " at ", d.Stations[i].Name), now.Stations[i].Off)
				}
			}
			return nil
		},
	}, {
		Name: "passive", Says: "a passive bar is credited with no more than the net that it sees",
		Source: "it has no other ions than those its field makes",
		Broken: wrong(off{predict: func(p *cure.Prediction, tried int) {
			if tried > 0 {
				last := &p.Stations[len(p.Stations)-1]
				last.Net = cure.Quantiles{-last.Net[2], -last.Net[1], -last.Net[0]}
			}
		}}),
		Check: func(mk DeciderMaker, in Input) error {
			d := nip(in)
			was, is, err := try(mk, d, cure.Add{Station: line.StationSpec{Name: "brush", Kind: line.Ioniser,
				At:      1.5 * units.Metre,
				Ioniser: &line.IonSpec{Face: line.FaceB, Distance: 25 * units.Millimetre, Passive: true}}})
			if err != nil {
				return err
			}
			one, two := was.Predict().Stations, is.Predict().Stations
			a, b := one[len(one)-1].Net, two[len(two)-1].Net
			ok := true
			for k := range a {
				ok = ok && b[k] >= 0 && b[k] <= a[k]+1e-18
			}
			return lawtest.That(ok, fmt.Sprint("between 0 and ", a), b)
		},
	}, {
		Name: "JSON", Says: "predictions and plans go to JSON and back", Source: "plain data",
		Broken: wrong(off{predict: func(p *cure.Prediction, _ int) { p.AnyOver = math.NaN() }}),
		Check: func(mk DeciderMaker, in Input) error {
			m, err := mk(in.Line, decided())
			if err != nil {
				return lawtest.Refused(err)
			}
			p, err := m.Plan(cure.Aim{Most: 1})
			if err != nil {
				return lawtest.Refused(err)
			}
			var predicted cure.Prediction
			var plan cure.Plan
			if err := roundTrip(m.Predict(), &predicted); err != nil {
				return err
			}
			return roundTrip(*p, &plan)
		},
	}}
}

// roundTrip writes x, reads it into y and writes that.
func roundTrip[T any](x T, y *T) error {
	b, err := json.Marshal(x)
	if err != nil {
		return lawtest.That(false, "JSON", err)
	}
	if err := json.Unmarshal(b, y); err != nil {
		return lawtest.That(false, "JSON that can be read", err)
	}
	again, err := json.Marshal(*y)
	return lawtest.That(err == nil && string(again) == string(b), string(b), string(again), err)
}

// ran is a line at the speed of its description.
func ran(d *line.Description) []line.Result {
	res := make([]line.Result, len(d.Stations))
	if l, err := line.New(d); err == nil {
		l.RunTo(res, d.Speed)
	}
	return res
}

// short is the drawn line with the stations of a law instead of its own.
func short(in Input, list ...line.StationSpec) *line.Description {
	d := *in.Line
	d.Web.VolumeResistivity = units.VolumeResistivity(1e19)
	nothing := func(f line.Face) line.ChangeSpec { return line.ChangeSpec{Face: f, Spread: 1e-12} }
	d.Stations = append([]line.StationSpec{{Name: "unwind", Kind: line.Unwind,
		Change: []line.ChangeSpec{nothing(line.FaceA), nothing(line.FaceB)}}}, list...)
	d.Stations = append(d.Stations, line.StationSpec{Name: "winder", Kind: line.Winder, At: 3 * units.Metre})
	return &d
}

// nip is a line of one nip, of which face A gets one and a half times what B loses.
func nip(in Input) *line.Description {
	size := 1e-6 + math.Abs(float64(in.Line.Stations[0].Change[0].Median))/20 // up to 5 µC/m²
	change := func(f line.Face, x float64) line.ChangeSpec {
		return line.ChangeSpec{Face: f, Median: units.SurfaceChargeDensity(x), Spread: 1e-12,
			Speed: known.Band{Value: 0.5, Spread: 0.3, Kind: known.Normal}}
	}
	return short(in, line.StationSpec{Name: "nip", Kind: line.Nip, At: units.Metre,
		Roller: &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal},
		Change: []line.ChangeSpec{change(line.FaceA, 1.1*size), change(line.FaceB, -size)}})
}

// apart makes two rollers of each nip, with an exponent of speed for each face.
func apart(d *line.Description) *line.Description {
	c := *d
	c.Stations = nil
	for _, s := range d.Stations {
		if s.Kind != line.Nip {
			c.Stations = append(c.Stations, s)
			continue
		}
		for j := range s.Change {
			one := s
			one.Name, one.Kind = fmt.Sprint(s.Name, " face ", j), line.Roller
			one.Change = s.Change[j : j+1]
			c.Stations = append(c.Stations, one)
		}
	}
	return &c
}

// barred is a charged web between two rollers with a bar in mid-span and a place behind it
// that was read with the bar off.
func barred(in Input) *line.Description {
	roller := func(name string, at units.Length) line.StationSpec {
		return line.StationSpec{Name: name, Kind: line.Roller, At: at,
			Roller: &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal},
			Change: []line.ChangeSpec{{Face: line.FaceA, Spread: 1e-12, Exposure: 1e-3}}}
	}
	d := short(in, roller("first", units.Metre),
		line.StationSpec{Name: "bar", Kind: line.Ioniser, At: 1.5 * units.Metre,
			Past: &line.PastSpec{Radius: 50 * units.Millimetre, X: 500 * units.Millimetre},
			Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre, Zone: 50 * units.Millimetre,
				Conductivity: units.Conductivity(2e-10 + 1e-9/(1+float64(in.Speed))), Supply: units.LineCurrent(1e-2)}},
		roller("second", 2*units.Metre),
		line.StationSpec{Name: "place", Kind: line.Place, At: 2.5 * units.Metre, Gap: 300 * units.Millimetre,
			Off: []string{"bar"}})
	size := units.SurfaceChargeDensity(1e-6 + math.Abs(float64(in.Line.Stations[0].Change[0].Median))/20)
	d.Stations[0].Change[0].Median = size
	return d
}
