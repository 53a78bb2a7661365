// Package humiditytest checks that a model of moist air obeys the laws that hold
// for every such model: saturation rises with temperature, dew point, wet bulb
// and dry bulb stand in order, heating conserves the vapour, and what leads to a
// measure leads back. Another project runs the checks on its own model:
//
//	func TestMyAir(t *testing.T) {
//		humiditytest.Run(t, myAir{}, humiditytest.Domain{})
//	}
//
// Each law is a plain function that returns an error and knows no test engine;
// [States] draws states with rapid; [Broken] has for every law a model that breaks
// it. [CheckResistivity] and [CheckIsotherm] do the same for a material.
package humiditytest

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// State is a state of air as a model tells it. Relative humidity is over water,
// RHIce over ice.
type State struct {
	T              units.Temperature         // dry bulb
	DewPoint       units.Temperature         // over water, also below 0 °C
	FrostPoint     units.Temperature         // over ice
	WetBulb        units.Temperature         // ice bulb below 0 °C
	P              units.Pressure            // total
	VapourPressure units.Pressure            // partial pressure of the vapour
	RH             units.RelativeHumidity    // over water
	RHIce          units.RelativeHumidityIce // over ice
	HumidityRatio  units.HumidityRatio       // per dry air
}

// Model is what a model of moist air must do to be checked.
type Model interface {
	// FromRH returns the state of air from dry bulb, relative humidity over water
	// and pressure.
	FromRH(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (State, error)
	// FromDewPoint does so from dry bulb and dew point over water.
	FromDewPoint(t, dew units.Temperature, p units.Pressure) (State, error)
	// FromWetBulb does so from dry bulb and wet bulb (ice bulb below 0 °C).
	FromWetBulb(t, wet units.Temperature, p units.Pressure) (State, error)
	// Heated returns the same air at another temperature and the same pressure.
	Heated(s State, t units.Temperature) (State, error)
}

// Input is a state at which a law is tried.
type Input struct {
	T  units.Temperature           // dry bulb
	RH units.RelativeHumidity      // over water
	P  units.Pressure              // total
	DT units.TemperatureDifference // > 0, to another temperature
}

// Domain bounds the inputs. The zero value is −40 … 60 °C, 1 … 100 %RH and 70 … 110 kPa.
type Domain struct {
	MinT, MaxT units.Temperature      // default −40 … 60 °C
	MinRH      units.RelativeHumidity // default 1 %RH
	MinP, MaxP units.Pressure         // default 70 … 110 kPa
	// RelTol is the slack for rounding and iteration, not for physics. Default
	// 1e-9; of temperatures it is taken times 1000 K. [1]
	RelTol float64
}

func (d Domain) filled() Domain {
	set := func(x *float64, v float64) {
		if *x == 0 {
			*x = v
		}
	}
	set((*float64)(&d.MinT), 233.15)
	set((*float64)(&d.MaxT), 333.15)
	set((*float64)(&d.MinRH), 0.01)
	set((*float64)(&d.MinP), 70e3)
	set((*float64)(&d.MaxP), 110e3)
	set(&d.RelTol, 1e-9)
	return d
}

// Law is one statement that holds for every model of moist air.
type Law struct {
	Name   string // stable name of the subtest
	Says   string // the relation
	Source string // why it holds
	// Check returns a [*Violation] if the model breaks the law at the input.
	Check func(m Model, in Input, d Domain) error
}

// Violation is a broken law.
type Violation struct {
	Law  string  // name of the law
	In   Input   // at which state
	Got  float64 // [SI] what was found
	Want string  // what the law asks
}

// Error returns law, state and what is wrong.
func (v *Violation) Error() string {
	return fmt.Sprintf("%s at %.4g °C, %.4g %%RH, %.6g Pa: got %.12g, want %s", v.Law, v.In.T.Celsius(), 100*float64(v.In.RH), float64(v.In.P), v.Got, v.Want)
}

// Laws lists every law, the cheapest first.
func Laws() []Law {
	return []Law{Ratio(), Saturation(), Order(), IceAboveWater(), Saturated(), HeatingConserves(), RoundTripDew(), RoundTripWet(), RefusesNaN()}
}

const equilibrium = "definition; ASHRAE Handbook Fundamentals 2017, ch. 1"

func law(name, says, source string, f func(m Model, in Input, d Domain, broken func(got float64, want string) error) error) Law {
	return Law{name, says, source, func(m Model, in Input, d Domain) error {
		return f(m, in, d.filled(), func(got float64, want string) error { return &Violation{name, in, got, want} })
	}}
}

func equal(got, want, tol float64) bool { return math.Abs(got-want) <= tol*math.Max(1, math.Abs(want)) }

// Ratio is W = 0.622 e/(p − e), with 0.6219 … 0.6221 for the ratio of molar masses.
func Ratio() Law {
	return law("Ratio", "W = 0.622 e/(p − e)", equilibrium, func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		s, err := m.FromRH(in.T, in.RH, in.P)
		if err != nil {
			return err
		}
		k := float64(s.HumidityRatio) * float64(s.P-s.VapourPressure) / float64(s.VapourPressure)
		if !(k >= 0.6219 && k <= 0.6221) {
			return broken(k, "W(p − e)/e of 0.6219 … 0.6221")
		}
		return nil
	})
}

// Saturation is that e at a fixed relative humidity rises with temperature, by
// 3 to 16 % a kelvin.
func Saturation() Law {
	return law("Saturation", "e(T + ΔT) > e(T) at constant RH", "Clausius and Clapeyron: dln e/dT = L/(R_v T²)", func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		a, err := m.FromRH(in.T, in.RH, in.P)
		if err != nil {
			return err
		}
		b, err := m.FromRH(in.T.Add(in.DT), in.RH, in.P)
		if err != nil {
			// The warmer air can ask for more vapour than the total pressure holds, which
			// a model refuses.
			var f *known.FieldError
			if errors.As(err, &f) && in.RH > 0.5 {
				return nil
			}
			return err
		}
		per := math.Log(float64(b.VapourPressure)/float64(a.VapourPressure)) / float64(in.DT)
		if !(per > 0.03 && per < 0.16) {
			return broken(per, "dln e/dT of 0.03 … 0.16 per kelvin")
		}
		return nil
	})
}

// Order is dew point <= wet bulb <= dry bulb where the air is not supersaturated
// over ice. Ordinary winter air can be, and its ice bulb is warmer than itself.
func Order() Law {
	return law("Order", "dew <= wet <= dry unless e > e_ice", equilibrium, func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		s, err := m.FromRH(in.T, in.RH, in.P)
		if err != nil {
			return err
		}
		slack := units.TemperatureDifference(1000 * d.RelTol)
		if s.DewPoint > s.T.Add(slack) {
			return broken(float64(s.DewPoint), "a dew point of at most the dry bulb")
		}
		if s.T < humidity.TriplePoint && s.RHIce > 100*units.PercentRHIce {
			if s.WetBulb < s.T.Add(-slack) {
				return broken(float64(s.WetBulb), "an ice bulb of at least the dry bulb, for the air is supersaturated over ice")
			}
			return nil
		}
		if s.WetBulb > s.T.Add(slack) || s.WetBulb < s.DewPoint.Add(-slack) {
			return broken(float64(s.WetBulb), fmt.Sprintf("a wet bulb from %.9g to %.9g K", float64(s.DewPoint), float64(s.T)))
		}
		return nil
	})
}

// IceAboveWater is that below the triple point ice has the lower vapour
// pressure: RHIce > RH and frost point > dew point.
func IceAboveWater() Law {
	return law("IceAboveWater", "RH_ice > RH and frost point > dew point below 0 °C", "supercooled water is metastable", func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		in.T = min(in.T, 272.65*units.Kelvin)
		s, err := m.FromRH(in.T, in.RH, in.P)
		if err != nil {
			return err
		}
		if !(float64(s.RHIce) > float64(s.RH)) {
			return broken(float64(s.RHIce), "more over ice than over water")
		}
		if s.FrostPoint <= s.DewPoint {
			return broken(float64(s.FrostPoint), "a frost point above the dew point")
		}
		return nil
	})
}

// Saturated is that saturated air has dew point and, from 0.01 °C, wet bulb at
// its dry bulb.
func Saturated() Law {
	return law("Saturated", "RH = 1: dew = T, and wet = T above 0.01 °C", equilibrium, func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		s, err := m.FromRH(in.T, 100*units.PercentRH, in.P)
		if err != nil {
			return err
		}
		if !equal(float64(s.DewPoint), float64(in.T), 10*d.RelTol) {
			return broken(float64(s.DewPoint), "a dew point equal to the dry bulb")
		}
		if in.T > humidity.TriplePoint && !equal(float64(s.WetBulb), float64(in.T), 10*d.RelTol) {
			return broken(float64(s.WetBulb), "a wet bulb equal to the dry bulb")
		}
		return nil
	})
}

// HeatingConserves is that heating at constant pressure leaves vapour pressure,
// humidity ratio and dew point as they are and lowers the relative humidity.
// Reckoning with g/m³ at constant volume breaks it.
func HeatingConserves() Law {
	return law("HeatingConserves", "e, W and dew point stay, RH falls", "Dalton: mole fractions stay when nothing condenses", func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		a, err := m.FromRH(in.T, in.RH, in.P)
		if err != nil {
			return err
		}
		b, err := m.Heated(a, in.T.Add(in.DT))
		if err != nil {
			return err
		}
		switch {
		case !(math.Abs(float64(b.VapourPressure)/float64(a.VapourPressure)-1) <= d.RelTol):
			return broken(float64(b.VapourPressure), fmt.Sprintf("the vapour pressure %.12g Pa as before", float64(a.VapourPressure)))
		case !(math.Abs(float64(b.HumidityRatio)/float64(a.HumidityRatio)-1) <= d.RelTol):
			return broken(float64(b.HumidityRatio), fmt.Sprintf("the humidity ratio %.12g as before", float64(a.HumidityRatio)))
		case !equal(float64(b.DewPoint), float64(a.DewPoint), 10*d.RelTol):
			return broken(float64(b.DewPoint), "the dew point as before")
		case !(b.RH < a.RH):
			return broken(float64(b.RH), "a relative humidity that falls")
		}
		return nil
	})
}

// RoundTripDew is RH → dew point → RH.
func RoundTripDew() Law {
	return law("RoundTripDew", "FromDewPoint(FromRH) has the RH", "an inverse is one", func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		a, err := m.FromRH(in.T, in.RH, in.P)
		if err != nil {
			return err
		}
		b, err := m.FromDewPoint(in.T, min(a.DewPoint, in.T), in.P)
		if err != nil {
			return err
		}
		// A dew point off by RelTol·1000 K is 0.16 of that in e.
		if !(math.Abs(float64(b.RH)/float64(a.RH)-1) <= 160*d.RelTol) {
			return broken(float64(b.RH), fmt.Sprintf("the relative humidity %.12g", float64(a.RH)))
		}
		return nil
	})
}

// RoundTripWet is RH → wet bulb → RH.
func RoundTripWet() Law {
	return law("RoundTripWet", "FromWetBulb(FromRH) has the RH", "an inverse is one", func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		a, err := m.FromRH(in.T, in.RH, in.P)
		if err != nil {
			return err
		}
		if a.WetBulb > in.T { // supersaturated over ice, or rounding
			return nil
		}
		b, err := m.FromWetBulb(in.T, a.WetBulb, in.P)
		if err != nil {
			return err
		}
		// A wet bulb off by 1e3·RelTol K changes e by up to 0.0007 p/K and more.
		tol := 1e3 * d.RelTol * 0.01 * float64(in.P)
		if !(math.Abs(float64(b.VapourPressure)-float64(a.VapourPressure)) <= tol) {
			return broken(float64(b.VapourPressure), fmt.Sprintf("the vapour pressure %.12g Pa", float64(a.VapourPressure)))
		}
		return nil
	})
}

// RefusesNaN is that a model does not turn NaN into a number: an error, or NaN.
func RefusesNaN() Law {
	return law("RefusesNaN", "NaN in: an error or NaN", "a dead sensor is no plausible air", func(m Model, in Input, d Domain, broken func(float64, string) error) error {
		nan := math.NaN()
		for i := range 3 {
			t, rh, p := in.T, in.RH, in.P
			switch i {
			case 0:
				t = units.Temperature(nan)
			case 1:
				rh = units.RelativeHumidity(nan)
			case 2:
				p = units.Pressure(nan)
			}
			if s, err := m.FromRH(t, rh, p); err == nil && !math.IsNaN(float64(s.HumidityRatio)) {
				return broken(float64(s.HumidityRatio), "an error or NaN")
			}
		}
		return nil
	})
}

// States draws inputs from the domain.
func States(d Domain) *rapid.Generator[Input] {
	d = d.filled()
	return rapid.Custom(func(t *rapid.T) Input {
		return Input{
			T:  units.Temperature(rapid.Float64Range(float64(d.MinT), float64(d.MaxT)).Draw(t, "T/K")),
			RH: units.RelativeHumidity(rapid.Float64Range(float64(d.MinRH), 1).Draw(t, "RH")),
			P:  units.Pressure(rapid.Float64Range(float64(d.MinP), float64(d.MaxP)).Draw(t, "p/Pa")),
			DT: units.TemperatureDifference(rapid.Float64Range(0.5, 30).Draw(t, "dT/K")),
		}
	})
}

// Run checks every law as a subtest on drawn states.
func Run(t *testing.T, m Model, d Domain) {
	for _, l := range Laws() {
		t.Run(l.Name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				if err := l.Check(m, States(d).Draw(t, "state"), d); err != nil {
					t.Fatal(err)
				}
			})
		})
	}
}

// Check tries every law at the inputs without a test engine and joins what is
// broken.
func Check(m Model, d Domain, in ...Input) error {
	var err error
	for _, l := range Laws() {
		for _, x := range in {
			err = errors.Join(err, l.Check(m, x, d))
		}
	}
	return err
}

// Fuzz checks every law under native fuzzing.
func Fuzz(f *testing.F, m Model, d Domain) {
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		in := States(d).Draw(t, "state")
		if err := Check(m, d, in); err != nil {
			t.Fatal(err)
		}
	}))
}

// CheckResistivity reports where a law of resistivity against humidity rises with
// humidity, is not above zero, or has a negative or smaller spread outside its
// own range than inside; 1 to 99 %RH in steps of 1 % at t and 1 atm.
func CheckResistivity[Q humidity.Value](l humidity.Law[Q], t units.Temperature) error {
	last := math.Inf(1)
	inside, outside := 0.0, math.Inf(1)
	for i := 1; i < 100; i++ {
		a, err := humidity.NewAir(t, units.RelativeHumidity(float64(i)/100), units.Atmosphere)
		if err != nil {
			return err
		}
		v, s := float64(l.Value(a)), l.Decades(a)
		if !(v > 0) || v > last*(1+1e-12) {
			return known.Wrong(fmt.Sprintf("value at %d %%RH", i), v, fmt.Sprintf("above 0 and at most %g, its value in drier air", last))
		}
		if !(s >= 0) {
			return known.Wrong(fmt.Sprintf("decades at %d %%RH", i), s, "0 or more")
		}
		if l.Validity(a)&(known.BelowRange|known.AboveRange) == 0 {
			inside = math.Max(inside, s)
		} else {
			outside = math.Min(outside, s)
		}
		last = v
	}
	if outside < inside*(1-1e-12) {
		return known.Wrong("decades outside the range", outside, fmt.Sprintf("at least the %g inside", inside))
	}
	return nil
}

// CheckIsotherm reports where an isotherm has no regain of 0 at 0 %RH, falls with
// humidity, or leaves 0 … 100 % dry basis up to 95 %RH.
func CheckIsotherm(i humidity.Isotherm, t units.Temperature) error {
	if r := i.Regain(0, t); !(math.Abs(float64(r)) < 1e-12) {
		return known.Wrong("regain at 0 %RH", r, "0")
	}
	last := humidity.Regain(0)
	for k := 1; k <= 95; k++ {
		r := i.Regain(units.RelativeHumidity(float64(k)/100), t)
		if !(r >= last && r <= 1) {
			return known.Wrong(fmt.Sprintf("regain at %d %%RH", k), r, "at least "+last.String()+", at most 100 % dry basis")
		}
		last = r
	}
	return nil
}
