package linetest

import (
	"fmt"
	"math"
	"slices"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Decider is a line on which changes can be tried: [cure.Calibrated] does, by
// [Decides].
type Decider interface {
	// With returns the line with changes; the line itself stays as it is.
	With(changes ...cure.Change) (Decider, error)
	// Predict says what it carries.
	Predict() cure.Prediction
	// Conductors lists its metal rollers.
	Conductors() []cure.ConductorPrediction
	// Plan lists the cures.
	Plan(a cure.Aim) (*cure.Plan, error)
	// Description is the calibrated input.
	Description() (line.Description, error)
	// BestPlace is the best place of a bar in the span behind a station.
	BestPlace(after string, distance units.Length) (cure.BarSpot, error)
	// IfOneFails is the line with each ioniser off in turn.
	IfOneFails() cure.Failures
}

// DeciderMaker builds the model of a description and of the answers of its site.
type DeciderMaker func(*line.Description, *cure.Site) (Decider, error)

// Decides makes the models of package cure, from a description alone.
func Decides(d *line.Description, site *cure.Site) (Decider, error) {
	l, err := line.New(d)
	if err != nil {
		return nil, err
	}
	m, err := cure.Assume(l, site)
	return decider{m}, err
}

type decider struct{ *cure.Calibrated }

func (d decider) With(changes ...cure.Change) (Decider, error) {
	m, err := d.Try(changes...)
	return decider{m}, err
}

// Cures returns the laws of every line on which changes are tried, with the lines of
// [Lines] as inputs.
func Cures() lawtest.Kit[DeciderMaker, Input] {
	return lawtest.Kit[DeciderMaker, Input]{
		Laws: slices.Concat(tryLaws(), answerLaws(), planLaws()),
		Input: func(d *lawtest.Draw, _ DeciderMaker) Input {
			return Input{description(d), lawtest.Decades(d, "speed", 1e-2*units.MetrePerSecond, 20*units.MetrePerSecond)}
		},
	}
}

// decided is the site of somebody who decided that there is nothing to ignite.
func decided() *cure.Site {
	return &cure.Site{Safety: upkeep.SafetyAnswers{Zone: upkeep.NoZone, Flammables: upkeep.NoFlammables,
		DecidedBy: "linetest"}}
}

// try makes the model and tries changes on it.
func try(mk DeciderMaker, d *line.Description, changes ...cure.Change) (was, is Decider, err error) {
	if was, err = mk(d, decided()); err != nil {
		return nil, nil, lawtest.Refused(err)
	}
	if is, err = was.With(changes...); err != nil {
		return nil, nil, lawtest.Refused(err)
	}
	return was, is, nil
}

// equal compares the faces of stations of the same name, to the last bit.
func equal(was, is cure.Prediction, names func(name string) bool) error {
	for _, s := range was.Stations {
		k := slices.IndexFunc(is.Stations, func(o cure.StationPrediction) bool { return o.Name == s.Name })
		if !names(s.Name) {
			continue
		}
		if k < 0 || is.Stations[k].A != s.A || is.Stations[k].B != s.B || is.Stations[k].Net != s.Net ||
			is.Stations[k].Over != s.Over {
			return lawtest.That(false, fmt.Sprint(s.A, s.B, s.Over, " at ", s.Name), k)
		}
	}
	return nil
}

func every(string) bool { return true }

// off is a model that is wrong where its changes or its answers are spoiled.
type off struct {
	Decider
	tried   int // changes
	predict func(p *cure.Prediction, tried int)
	metal   func(c []cure.ConductorPrediction, tried int)
	plan    func(p *cure.Plan)
	input   func(d *line.Description, tried int)
	place   func(s *cure.BarSpot)
	fails   func(f *cure.Failures)
}

func (o off) With(changes ...cure.Change) (Decider, error) {
	m, err := o.Decider.With(changes...)
	o.Decider, o.tried = m, o.tried+1+len(changes)
	return o, err
}

func (o off) Predict() cure.Prediction {
	p := o.Decider.Predict()
	if o.predict != nil {
		o.predict(&p, o.tried)
	}
	return p
}

func (o off) Conductors() []cure.ConductorPrediction {
	c := o.Decider.Conductors()
	if o.metal != nil {
		o.metal(c, o.tried)
	}
	return c
}

func (o off) Plan(a cure.Aim) (*cure.Plan, error) {
	p, err := o.Decider.Plan(a)
	if err == nil && o.plan != nil {
		o.plan(p)
	}
	return p, err
}

func (o off) Description() (line.Description, error) {
	d, err := o.Decider.Description()
	if err == nil && o.input != nil {
		o.input(&d, o.tried)
	}
	return d, err
}

func (o off) BestPlace(after string, distance units.Length) (cure.BarSpot, error) {
	s, err := o.Decider.BestPlace(after, distance)
	if err == nil && o.place != nil {
		o.place(&s)
	}
	return s, err
}

func (o off) IfOneFails() cure.Failures {
	f := o.Decider.IfOneFails()
	if o.fails != nil {
		o.fails(&f)
	}
	return f
}

// wrong makes a maker of wrong models.
func wrong(o off) DeciderMaker {
	return func(d *line.Description, s *cure.Site) (Decider, error) {
		m, err := Decides(d, s)
		out := o
		out.Decider = m
		return out, err
	}
}

// noisy draws anew for each set of changes, so that cures differ by chance.
var noisy = off{predict: func(p *cure.Prediction, tried int) {
	for i := range p.Stations {
		p.Stations[i].A[1] += 1e-12 * float64(tried)
	}
}}

// tryLaws are about changes.
func tryLaws() []lawtest.Law[DeciderMaker, Input] {
	return []lawtest.Law[DeciderMaker, Input]{{
		Name: "nothing tried", Says: "without changes every number keeps its bits", Source: "common draws",
		Broken: wrong(noisy),
		Check: func(mk DeciderMaker, in Input) error {
			was, is, err := try(mk, in.Line)
			if err != nil {
				return err
			}
			return equal(was.Predict(), is.Predict(), every)
		},
	}, {
		Name: "place added", Says: "a place where nothing happens changes no number elsewhere", Source: "common draws",
		Broken: wrong(noisy),
		Check: func(mk DeciderMaker, in Input) error {
			n := len(in.Line.Stations)
			s := line.StationSpec{Name: "linetest place", Kind: line.Place, At: in.Line.Stations[n-1].At,
				Gap: 300 * units.Millimetre}
			was, is, err := try(mk, in.Line, cure.Add{Station: s})
			if err != nil {
				return err
			}
			return equal(was.Predict(), is.Predict(), every)
		},
	}, {
		Name: "put back", Says: "a station that is removed and put back leaves what was there", Source: "common draws",
		Broken: wrong(noisy),
		Check: func(mk DeciderMaker, in Input) error {
			k := len(in.Line.Stations) / 2
			if k == 0 || k == len(in.Line.Stations)-1 {
				return lawtest.Skip("nothing between unwind and winder")
			}
			s := in.Line.Stations[k]
			last := in.Line.Stations[len(in.Line.Stations)-1].Name
			was, is, err := try(mk, in.Line, cure.Remove{Station: s.Name}, cure.Add{Station: s})
			if err != nil {
				return err
			}
			for _, o := range in.Line.Stations[:k] {
				if o.At == s.At {
					return lawtest.Skip("two stations at one position may change places")
				}
			}
			for _, o := range in.Line.Stations[k+1:] {
				if o.At == s.At {
					return lawtest.Skip("two stations at one position may change places")
				}
			}
			return equal(was.Predict(), is.Predict(), func(name string) bool { return name == last })
		},
	}, {
		Name: "survey speed", Says: "at the surveyed speed no exponent of speed counts",
		Source: "what was found was found there",
		Broken: func(d *line.Description, s *cure.Site) (Decider, error) {
			m, err := Decides(d, s)
			if err != nil {
				return nil, err
			}
			return m.With(cure.Run{Speed: d.Speed * 1.01})
		},
		Check: func(mk DeciderMaker, in Input) error {
			was, _, err := try(mk, in.Line)
			if err != nil {
				return err
			}
			other := edit(in.Line, func(c *line.ChangeSpec) {
				c.Speed = known.Band{Value: -c.Speed.Value / 2, Spread: 0.3, Kind: known.Normal}
			}, func(*line.IonSpec) {})
			is, _, err := try(mk, other)
			if err != nil {
				return err
			}
			return equal(was.Predict(), is.Predict(), every)
		},
	}, {
		Name: "chance", Says: "a chance lies in 0 … 1 and does not rise with the limit; quantiles do not fall",
		Source: "probability",
		Broken: wrong(off{predict: func(p *cure.Prediction, _ int) {
			for i := range p.Stations {
				p.Stations[i].Over = 1 - p.Stations[i].Over
			}
		}}),
		Check: func(mk DeciderMaker, in Input) error {
			var last []float64
			for _, limit := range []units.SurfaceChargeDensity{1e-6, 5e-6, 3e-5} {
				d := *in.Line
				d.Limit = line.Limit{Kind: line.OwnLimit, Net: limit}
				m, _, err := try(mk, &d)
				if err != nil {
					return err
				}
				for i, s := range m.Predict().Stations {
					ok := s.Over >= 0 && s.Over <= 1 && s.Net[0] <= s.Net[1] && s.Net[1] <= s.Net[2] &&
						(len(last) <= i || s.Over <= last[i])
					if !ok {
						return lawtest.That(false, "a chance that falls, 5 ≤ 50 ≤ 95 %", s.Over, s.Net, s.Name)
					}
					if len(last) <= i {
						last = append(last, 0)
					}
					last[i] = s.Over
				}
			}
			return nil
		},
	}, {
		Name: "earth", Says: "earthing never raises a voltage or an energy", Source: "V = I·R",
		Broken: wrong(off{metal: func(c []cure.ConductorPrediction, tried int) {
			for i := range c {
				c[i].Voltage += units.Voltage(tried)
			}
		}}),
		Check: func(mk DeciderMaker, in Input) error {
			for _, s := range in.Line.Stations {
				if s.Roller == nil || s.Roller.Kind != line.BareMetal {
					continue
				}
				was, is, err := try(mk, in.Line, cure.Earth{Station: s.Name, Resistance: 1000 * units.Ohm})
				if err != nil {
					return err
				}
				worse, err := is.With(cure.Earth{Station: s.Name, Resistance: units.Megohm})
				if err != nil {
					return lawtest.Refused(err)
				}
				one, two, three := was.Conductors(), is.Conductors(), worse.Conductors()
				for i := range one {
					measured := one[i].Measured // else there was no voltage to compare with
					if measured && two[i].Voltage > one[i].Voltage || three[i].Voltage > two[i].Voltage {
						return lawtest.That(false, "no more than before", two[i].Voltage, three[i].Voltage, one[i].Station)
					}
				}
			}
			return nil
		},
	}}
}

// planLaws are about plans.
func planLaws() []lawtest.Law[DeciderMaker, Input] {
	metals := func(d *line.Description) (n int) {
		for _, s := range d.Stations {
			if s.Roller != nil && s.Roller.Kind == line.BareMetal {
				n++
			}
		}
		return n
	}
	return []lawtest.Law[DeciderMaker, Input]{{
		Name: "zone first", Says: "while zone and flammables are open a plan holds earthing only, and all of it",
		Source: "zone first, model second",
		Broken: func(d *line.Description, _ *cure.Site) (Decider, error) { return Decides(d, decided()) },
		Check: func(mk DeciderMaker, in Input) error {
			m, err := mk(in.Line, nil)
			if err != nil {
				return lawtest.Refused(err)
			}
			p, err := m.Plan(cure.Aim{Speed: in.Speed, Chance: 0.5})
			if err != nil {
				return lawtest.Refused(err)
			}
			only := !slices.ContainsFunc(p.Cures, func(c cure.Cure) bool { return c.Step != cure.Earthing })
			ok := p.Stop != "" && only && len(p.Set) == 0 && len(p.Ground) == metals(in.Line) && len(p.Cures) == metals(in.Line)
			return lawtest.That(ok, "a stop and earthing of every roller", p.Stop, len(p.Cures), len(p.Ground))
		},
	}, {
		Name: "order", Says: "a plan keeps the order of steps and every conductor; what it reaches is a chance",
		Source: "earth, source, leak, neutralise, shield, slow down",
		Broken: wrong(off{plan: func(p *cure.Plan) {
			slices.Reverse(p.Cures)
			p.Ground = p.Ground[:0]
			p.After = 2
		}}),
		Check: func(mk DeciderMaker, in Input) error {
			m, err := mk(in.Line, decided())
			if err != nil {
				return lawtest.Refused(err)
			}
			p, err := m.Plan(cure.Aim{Most: 1})
			if err != nil {
				return lawtest.Refused(err)
			}
			ordered := slices.IsSortedFunc(p.Cures, func(a, b cure.Cure) int { return int(a.Step) - int(b.Step) })
			ok := ordered && len(p.Ground) == metals(in.Line) && p.After >= 0 && p.After <= 1 && !math.IsNaN(p.Before) &&
				p.After <= p.Before+1e-12
			return lawtest.That(ok, "ordered steps, every conductor, no worse than before", p.Cures, len(p.Ground), p.After)
		},
	}}
}
