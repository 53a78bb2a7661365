package humiditytest

import (
	"fmt"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

type law = lawtest.Law[Model, Input]

const equilibrium = "definition; ASHRAE Handbook Fundamentals 2017, ch. 1"

// at checks the state of the input.
func at(check func(s State) error) func(m Model, in Input) error {
	return func(m Model, in Input) error {
		s, err := m.FromRH(in.T, in.RH, in.P)
		if err != nil {
			return lawtest.Refused(err)
		}
		return check(s)
	}
}

func equal(got, want units.Temperature, tol float64) bool {
	return math.Abs(float64(got-want)) <= tol*math.Max(1, math.Abs(float64(want)))
}

func ratio[T ~float64](a, b T) float64 { return float64(a) / float64(b) }

// stateLaws are about one state.
func stateLaws(tol float64) []law {
	good := Of(humidity.IAPWS)
	slack := units.TemperatureDifference(1000 * tol)
	return []law{{
		Name: "ratio", Says: "W = 0.622 e/(p − e)", Source: equilibrium,
		// Vapour per moist air taken for vapour per dry air.
		Broken: wrong{Model: good, rh: func(s *State, _ units.RelativeHumidity) {
			w := float64(s.HumidityRatio)
			s.HumidityRatio = units.HumidityRatio(w / (1 + w) * 0.999)
		}},
		Check: at(func(s State) error {
			k := float64(s.HumidityRatio) * ratio(s.P-s.VapourPressure, s.VapourPressure)
			return lawtest.That(k >= 0.6219 && k <= 0.6221, "W(p − e)/e of 0.6219 … 0.6221, the ratio of molar masses", k)
		}),
	}, {
		// Ordinary winter air can be supersaturated over ice, and its ice bulb is warmer
		// than itself.
		Name: "order", Says: "dew <= wet <= dry unless e > e_ice", Source: equilibrium,
		// Wet-bulb depression with the wrong sign.
		Broken: wrong{Model: good, rh: func(s *State, _ units.RelativeHumidity) {
			s.WetBulb = units.Temperature(2*float64(s.T) - float64(s.WetBulb))
		}},
		Check: at(func(s State) error {
			if s.T < humidity.TriplePoint && s.RHIce > 100*units.PercentRHIce {
				ok := s.DewPoint <= s.T.Add(slack) && s.WetBulb >= s.T.Add(-slack)
				return lawtest.That(ok, "dew point <= dry bulb <= ice bulb, for e > e_ice", s.DewPoint, s.T, s.WetBulb)
			}
			ok := s.DewPoint <= s.WetBulb.Add(slack) && s.WetBulb <= s.T.Add(slack)
			return lawtest.That(ok, "dew point <= wet bulb <= dry bulb", s.DewPoint, s.WetBulb, s.T)
		}),
	}, {
		Name: "ice above water", Says: "RH_ice > RH and frost point > dew point below 0 °C",
		Source: "supercooled water is metastable",
		// Ice and water confused.
		Broken: wrong{Model: good, rh: func(s *State, _ units.RelativeHumidity) {
			s.RHIce, s.FrostPoint = units.RelativeHumidityIce(s.RH), s.DewPoint
		}},
		Check: func(m Model, in Input) error {
			in.T = min(in.T, 272.65*units.Kelvin)
			return at(func(s State) error {
				ok := float64(s.RHIce) > float64(s.RH) && s.FrostPoint > s.DewPoint
				return lawtest.That(ok, "more over ice than over water", s.RHIce, s.RH, s.FrostPoint, s.DewPoint)
			})(m, in)
		},
	}, {
		Name: "saturated", Says: "RH = 1: dew = T, and wet = T above 0.01 °C", Source: equilibrium,
		// The rule of thumb of 1 K for every 5 %RH.
		Broken: wrong{Model: good, rh: func(s *State, rh units.RelativeHumidity) {
			s.DewPoint = units.Temperature(float64(s.T) - (100-100*float64(rh))/5 - 0.1)
		}},
		Check: func(m Model, in Input) error {
			in.RH = 100 * units.PercentRH
			return at(func(s State) error {
				ok := equal(s.DewPoint, in.T, 10*tol) && (in.T <= humidity.TriplePoint || equal(s.WetBulb, in.T, 10*tol))
				return lawtest.That(ok, "dew point and wet bulb equal to the dry bulb", s.DewPoint, s.WetBulb)
			})(m, in)
		},
	}, {
		Name: "refuses NaN", Says: "NaN in: an error or NaN", Source: "a dead sensor is no plausible air",
		Broken: wrong{Model: good, nan: true},
		Check: func(m Model, in Input) error {
			nan := math.NaN()
			for _, x := range []Input{{units.Temperature(nan), in.RH, in.P, 0}, {in.T, units.RelativeHumidity(nan), in.P, 0},
				{in.T, in.RH, units.Pressure(nan), 0}} {
				if s, err := m.FromRH(x.T, x.RH, x.P); err == nil && !math.IsNaN(float64(s.HumidityRatio)) {
					return lawtest.That(false, fmt.Sprintf("an error or NaN from %v, %v, %v", x.T, x.RH, x.P), s.HumidityRatio)
				}
			}
			return nil
		},
	}}
}

// wayLaws are about the way from one state to another.
func wayLaws(tol float64) []law {
	good := Of(humidity.IAPWS)
	return []law{{
		Name: "saturation", Says: "e(T + ΔT) > e(T) at constant RH, by 3 to 16 % a kelvin",
		Source: "Clausius and Clapeyron: dln e/dT = L/(R_v T²)",
		// A saturation pressure that does not know the temperature.
		Broken: wrong{Model: good, rh: func(s *State, rh units.RelativeHumidity) {
			s.VapourPressure = units.Pressure(2339 * float64(rh))
		}},
		Check: func(m Model, in Input) error {
			return at(func(a State) error {
				b, err := m.FromRH(in.T.Add(in.DT), in.RH, in.P)
				if err != nil { // the warmer air can ask for more vapour than the total pressure holds
					return lawtest.Refused(err)
				}
				per := math.Log(ratio(b.VapourPressure, a.VapourPressure)) / float64(in.DT)
				return lawtest.That(per > 0.03 && per < 0.16, "dln e/dT of 0.03 … 0.16 per kelvin", per)
			})(m, in)
		},
	}, {
		Name: "heating conserves", Says: "e, W and dew point stay, RH falls",
		Source: "Dalton: mole fractions stay when nothing condenses",
		// g/m³ at constant volume: the popular wrong examples of the winter chain.
		Broken: wrong{Model: good, heat: func(b State, s *State) {
			k := ratio(s.T, b.T)
			s.VapourPressure = units.Pressure(float64(s.VapourPressure) * k)
			s.RH = units.RelativeHumidity(float64(s.RH) * k)
		}},
		Check: func(m Model, in Input) error {
			return at(func(a State) error {
				b, err := m.Heated(a, in.T.Add(in.DT))
				if err != nil {
					return lawtest.Refused(err)
				}
				same := func(x float64) bool { return math.Abs(x-1) <= tol }
				ok := same(ratio(b.VapourPressure, a.VapourPressure)) && same(ratio(b.HumidityRatio, a.HumidityRatio)) &&
					equal(b.DewPoint, a.DewPoint, 10*tol) && b.RH < a.RH
				want := fmt.Sprintf("%v, %v, %v, less than %v", a.VapourPressure, a.HumidityRatio, a.DewPoint, a.RH)
				return lawtest.That(ok, want, b.VapourPressure, b.HumidityRatio, b.DewPoint, b.RH)
			})(m, in)
		},
	}, {
		Name: "round trip dew", Says: "FromDewPoint(FromRH) has the RH", Source: "an inverse is one",
		// A bisection that stops too early.
		Broken: wrong{Model: good, dew: func(s *State) { s.RH = units.RelativeHumidity(float64(s.RH) * 1.001) }},
		Check: func(m Model, in Input) error {
			return at(func(a State) error {
				b, err := m.FromDewPoint(in.T, min(a.DewPoint, in.T), in.P)
				if err != nil {
					return lawtest.Refused(err)
				}
				// A dew point off by tol·1000 K is 0.16 of that in e.
				return lawtest.That(math.Abs(ratio(b.RH, a.RH)-1) <= 160*tol, fmt.Sprint(a.RH), b.RH)
			})(m, in)
		},
	}, {
		Name: "round trip wet", Says: "FromWetBulb(FromRH) has the vapour pressure", Source: "an inverse is one",
		// Wet bulb below 0 °C with the constants of water, here everywhere 1 % off.
		Broken: wrong{Model: good, wet: func(s *State) {
			s.VapourPressure = units.Pressure(float64(s.VapourPressure) * 1.01)
		}},
		Check: func(m Model, in Input) error {
			return at(func(a State) error {
				if a.WetBulb > in.T {
					return lawtest.Skip("supersaturated over ice, or rounding")
				}
				b, err := m.FromWetBulb(in.T, a.WetBulb, in.P)
				if err != nil {
					return lawtest.Refused(err)
				}
				// A wet bulb off by 1e3·tol K changes e by up to 0.0007 p/K and more.
				off := math.Abs(float64(b.VapourPressure) - float64(a.VapourPressure))
				return lawtest.That(off <= 10*tol*float64(in.P), fmt.Sprint(a.VapourPressure), b.VapourPressure)
			})(m, in)
		},
	}}
}
