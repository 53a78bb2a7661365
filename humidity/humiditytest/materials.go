package humiditytest

import (
	"fmt"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Ambient is where a material is tried, at every whole percentage of relative humidity.
type Ambient struct {
	T units.Temperature // 5 … 40 °C
}

func ambient[M any](d *lawtest.Draw, _ M) Ambient {
	return Ambient{lawtest.Between(d, "temperature", units.Celsius(5), units.Celsius(40))}
}

// leak is a wrong law of resistivity.
type leak[Q humidity.Value] struct {
	value           func(rh float64) float64
	inside, outside float64 // decades
}

func (l leak[Q]) Value(a humidity.Air) Q { return Q(l.value(float64(a.RelativeHumidity()))) }

func (l leak[Q]) Decades(a humidity.Air) float64 {
	if l.Validity(a) != 0 {
		return l.outside
	}
	return l.inside
}

func (leak[Q]) Validity(a humidity.Air) known.Validity {
	if a.RelativeHumidity() > 60*units.PercentRH {
		return known.AboveRange
	}
	return known.Inside
}

// Resistivities returns the laws of a resistivity or time constant against humidity,
// tried from 1 to 99 %RH at 1 atm.
func Resistivities[Q humidity.Value]() lawtest.Kit[humidity.Law[Q], Ambient] {
	type law = lawtest.Law[humidity.Law[Q], Ambient]
	airs := func(in Ambient, visit func(a humidity.Air) error) error {
		for i := 1; i < 100; i++ {
			a, err := humidity.NewAir(in.T, units.RelativeHumidity(float64(i)/100), units.Atmosphere)
			if err == nil {
				err = visit(a)
			}
			if err != nil {
				return err
			}
		}
		return nil
	}
	return lawtest.Kit[humidity.Law[Q], Ambient]{Input: ambient[humidity.Law[Q]], Laws: []law{{
		Name: "falls", Says: "above 0 and never rising with humidity", Source: "water in and on a material conducts",
		Broken: leak[Q]{func(rh float64) float64 { return 1 + rh }, 0.3, 0.3},
		Check: func(m humidity.Law[Q], in Ambient) error {
			last := Q(math.Inf(1))
			return airs(in, func(a humidity.Air) error {
				v, dry := m.Value(a), last
				last = v
				ok := v > 0 && float64(v) <= float64(dry)*(1+1e-12)
				return lawtest.That(ok, fmt.Sprintf("above 0 and at most %v, its value in drier air", dry), v, a.RelativeHumidity())
			})
		},
	}, {
		Name: "spread", Says: "0 or more decades, outside the range of the law no fewer than inside",
		Source: "nobody knows more where nobody measured",
		Broken: leak[Q]{func(float64) float64 { return 5 }, 0.3, 0.1},
		Check: func(m humidity.Law[Q], in Ambient) error {
			least, inside, outside := math.Inf(1), 0.0, math.Inf(1)
			err := airs(in, func(a humidity.Air) error {
				s := m.Decades(a)
				least = math.Min(least, s)
				if m.Validity(a)&(known.BelowRange|known.AboveRange) == 0 {
					inside = math.Max(inside, s)
				} else {
					outside = math.Min(outside, s)
				}
				return nil
			})
			if err != nil {
				return err
			}
			ok := least >= 0 && outside >= inside*(1-1e-12)
			return lawtest.That(ok, "0 or more, and outside the range at least the most inside", least, outside, inside)
		},
	}}}
}

// regain is a wrong isotherm.
type regain func(rh float64) float64

func (r regain) Regain(rh units.RelativeHumidity, _ units.Temperature) humidity.Regain {
	return humidity.Regain(r(float64(rh)))
}

func (regain) Validity(units.RelativeHumidity, units.Temperature) known.Validity { return known.Inside }

// Isotherms returns the laws of a sorption isotherm, tried up to 95 %RH.
func Isotherms() lawtest.Kit[humidity.Isotherm, Ambient] {
	type law = lawtest.Law[humidity.Isotherm, Ambient]
	return lawtest.Kit[humidity.Isotherm, Ambient]{Input: ambient[humidity.Isotherm], Laws: []law{{
		Name: "dry", Says: "no regain at 0 %RH", Source: "definition of dry",
		Broken: regain(func(rh float64) float64 { return 0.01 + 0.1*rh }),
		Check: func(m humidity.Isotherm, in Ambient) error {
			r := m.Regain(0, in.T)
			return lawtest.That(math.Abs(float64(r)) < 1e-12, "0", r)
		},
	}, {
		Name: "rises", Says: "regain never falls with humidity and stays below 100 % dry basis",
		Source: "sorption is ordered by activity",
		Broken: regain(func(rh float64) float64 { return rh * (1 - rh) }),
		Check: func(m humidity.Isotherm, in Ambient) error {
			last := m.Regain(0, in.T)
			for k := 1; k <= 95; k++ {
				r := m.Regain(units.RelativeHumidity(float64(k)/100), in.T)
				if !(r >= last && r <= 1) {
					return lawtest.That(false, fmt.Sprintf("at least %v, at most 100 %%", last), r, fmt.Sprint(k, " %RH"))
				}
				last = r
			}
			return nil
		},
	}, {
		Name: "warm", Says: "no more regain at the same humidity when it is 10 K warmer",
		Source: "sorption sets heat free: Clausius and Clapeyron at constant regain",
		Broken: hotter{},
		Check: func(m humidity.Isotherm, in Ambient) error {
			for k := 10; k <= 90; k += 10 {
				rh := units.RelativeHumidity(float64(k) / 100)
				cold, warm := m.Regain(rh, in.T), m.Regain(rh, in.T.Add(10))
				if !(float64(warm) <= float64(cold)*(1+1e-12)) {
					return lawtest.That(false, "at most the regain of the colder material", cold, warm, rh)
				}
			}
			return nil
		},
	}}}
}

// hotter takes up more when it is warm.
type hotter struct{}

func (hotter) Regain(rh units.RelativeHumidity, t units.Temperature) humidity.Regain {
	return humidity.Regain(0.1 * float64(rh) * float64(t) / 300)
}

func (hotter) Validity(units.RelativeHumidity, units.Temperature) known.Validity { return known.Inside }
