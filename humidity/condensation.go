package humidity

import (
	"context"
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Condenses reports whether a surface colder than the air's condensation point
// gets wet (or white with frost). It carries a film of water then, whatever its
// material: over a film surface resistivity, no law of this package holds.
func Condenses(a Air, surface units.Temperature) bool {
	return surface < a.CondensationPoint()
}

// ColdBodySpec describe something cold brought into a warm room.
type ColdBodySpec struct {
	// HeatPerArea is heat capacity per exposed area: density × specific heat ×
	// volume/area. A solid steel cylinder has about 3.8e6·d/4 J/(m²·K), d in m
	// (7850 kg/m³ × 490 J/(kg·K), common practice). 100 … 1e8
	HeatPerArea float64 // [J/(m²·K)]
	// Convection is the film coefficient of convection, 2 … 5 in still air,
	// 10 … 50 in a draught or on a turning roll (common practice). 0.5 … 500
	Convection float64 // [W/(m²·K)]
	// Radiation is the linearised coefficient of radiation: 5 to 6 for painted or
	// paper surfaces, 0.3 … 1 for bright metal (common practice). 0 … 10
	Radiation float64 // [W/(m²·K)]
}

// ColdBody is a body of uniform temperature (a metal roll: Biot number far below
// 0.1) warming up in room air. Paper and film rolls are not of that kind: their
// inside lags; use [Body]. It is immutable.
type ColdBody struct{ s ColdBodySpec }

// NewColdBody checks the settings. Errors are [*known.FieldError]s.
func NewColdBody(s ColdBodySpec) (ColdBody, error) {
	err := errors.Join(known.InRange("heat_per_area", s.HeatPerArea, 100, 1e8),
		known.InRange("convection", s.Convection, 0.5, 500),
		known.InRange("radiation", s.Radiation, 0, 10))
	if err != nil {
		return ColdBody{}, err
	}
	return ColdBody{s}, nil
}

// SteelRoll returns the settings of a solid steel cylinder, 7850 kg/m³ and
// 490 J/(kg·K) (common practice, no source), in nearly still air, bright.
func SteelRoll(diameter units.Length) ColdBodySpec {
	return ColdBodySpec{HeatPerArea: 7850 * 490 * float64(diameter) / 4, Convection: 5, Radiation: 0.5}
}

// Wetting is the history of condensation on a cold body.
type Wetting struct {
	Condenses bool              // whether the body was colder than the condensation point
	Peak      units.BasisWeight // greatest mass of water per area
	WetUntil  units.Time        // when the surface passes the condensation point and water stops gathering
	DryAt     units.Time        // when the last water has evaporated; 0 if none condensed
}

// lewis is Le = thermal diffusivity over vapour diffusivity in air at 20 °C,
// 21.5/24.9. [1] F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass
// Transfer, tables A.4, A.8 (not compared with the book).
const lewis = 0.865

// Wet follows the body, at start temperature when it comes in, in constant air
// until it is dry:
//
//	C dT/dt = (h_c + h_r)(T_a − T) + L ṁ,   dm/dt = ṁ = β (e − e_sat(T))/(R_v T_m)
//
// where β = h_c/(ρ c_p Le^⅔) follows from h_c by the analogy of heat and mass
// transfer, T_m is the mean of air and surface temperature, L the latent heat (of ice below 0.01 °C) and ṁ < 0
// only while there is water. The water stays where it condenses: what drips
// off dries sooner. Film coefficients are known to ±30 %, and the times with
// them. Errors are [*known.FieldError]s: start −60 °C … air temperature, and air
// that is saturated (never dry).
//
// It takes up to a few tenths of a second, for film that dries very slowly: see [ColdBody.WetContext].
func (c ColdBody) Wet(a Air, start units.Temperature) (Wetting, error) {
	return c.WetContext(context.Background(), a, start)
}

// WetContext is [ColdBody.Wet] that ends soon after ctx does, within 1000 steps; its error is then that of ctx.
func (c ColdBody) WetContext(ctx context.Context, a Air, start units.Temperature) (Wetting, error) {
	if !a.valid() {
		return Wetting{}, known.Wrong("a", "the zero Air", "air made by NewAir or AirFrom")
	}
	if c.s.HeatPerArea == 0 {
		return Wetting{}, known.Wrong("body", "the zero ColdBody", "a body made by NewColdBody")
	}
	if !(float64(start) >= 213.15 && start <= a.t) {
		return Wetting{}, known.Wrong("start", start, "−60 °C … the air's "+a.t.String())
	}
	cp := a.CondensationPoint()
	if start >= cp {
		return Wetting{}, nil
	}
	if a.RelativeHumidity() > units.RelativeHumidity(0.999) {
		return Wetting{}, known.Wrong("a", a.RelativeHumidity(), "air below 99.9 %RH, else the body never dries")
	}
	h := c.s.Convection + c.s.Radiation
	cpMoist := float64(a.DryAirDensity()) * (cpDryAir + float64(a.HumidityRatio())*cpVapour) // [J/(m³·K)]
	beta := c.s.Convection / (cpMoist * numeric.Pow(lewis, 2./3))
	flux := func(T float64) (m, l float64) { // [kg/(m²·s)], [J/kg]
		es, _ := a.m.water(T, float64(a.p))
		l = latentZero - 2360*(T-273.15)
		if T < float64(TriplePoint) {
			es, _ = a.m.ice(T, float64(a.p))
			l = 2834e3
		}
		return beta * (float64(a.e) - es) / (gasVapour * (T + float64(a.t)) / 2), l
	}
	slope := func(T float64) (dT, dm float64) {
		dm, l := flux(T)
		return (h*(float64(a.t)-T) + l*dm) / c.s.HeatPerArea, dm
	}
	var w Wetting
	w.Condenses = true
	T, m, t := float64(start), 0.0, 0.0
	dt := c.s.HeatPerArea / h / 2000
	for n := range 2000000 {
		if n%1000 == 0 && ctx.Err() != nil {
			return Wetting{}, ctx.Err()
		}
		a1, b1 := slope(T)
		a2, b2 := slope(T + dt/2*a1)
		a3, b3 := slope(T + dt/2*a2)
		a4, b4 := slope(T + dt*a3)
		dT, dm := (a1+2*a2+2*a3+a4)/6, (b1+2*b2+2*b3+b4)/6
		if T < float64(cp) && T+dt*dT >= float64(cp) {
			w.WetUntil = units.Time(t + (float64(cp)-T)/dT)
		}
		if dm < 0 && m+dt*dm <= 0 {
			w.DryAt = units.Time(t - m/dm)
			return w, nil
		}
		T, m, t = T+dt*dT, m+dt*dm, t+dt
		w.Peak = units.BasisWeight(math.Max(float64(w.Peak), m))
		// Once the body has warmed up, long steps: only the film still changes.
		if T > float64(cp) && m > 0 {
			if r, _ := flux(T); r < 0 {
				dt = math.Min(c.s.HeatPerArea/h/200, math.Max(dt, -m/r/200))
			}
		}
	}
	w.DryAt = units.Time(math.Inf(1))
	return w, known.Wrong("a", a.RelativeHumidity(), "air dry enough that the film evaporates "+
		"within 10 000 time constants")
}
