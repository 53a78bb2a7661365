package jet

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Dry air as a perfect gas.
const (
	HeatCapacityRatio = 1.4     // [1] γ = cp/cv
	GasConstantAir    = 287.055 // [J/(kg·K)] R of dry air, 8.31446/0.0289647
)

// AirDensity returns p/(R·T) of dry air.
func AirDensity(t units.Temperature, p units.Pressure) units.Density {
	return units.Density(float64(p) / (GasConstantAir * float64(t)))
}

// CriticalPressureRatio returns the ratio of throat to stagnation pressure at
// which air chokes, (2/(γ+1))^(γ/(γ−1)) = 0.52828.
func CriticalPressureRatio() units.Ratio { return units.Ratio(criticalRatio) }

var criticalRatio = 0.5282817877171743 // (2/(γ+1))^(γ/(γ−1))

// ChokingGauge returns the gauge pressure above which a nozzle that blows into
// the given ambient is choked: 0.905 bar at one atmosphere, less at altitude.
func ChokingGauge(ambient units.Pressure) units.GaugePressure {
	return units.GaugePressure(float64(ambient) * (1/criticalRatio - 1))
}

// Isentropic holds the ratios of a perfect gas with γ = 1.4 at one Mach number.
type Isentropic struct {
	Pressure    units.Ratio // p/p0
	Density     units.Ratio // ρ/ρ0
	Temperature units.Ratio // T/T0
	Area        units.Ratio // A/A*, of the stream tube over that at Mach 1
}

// IsentropicAt returns the ratios at a Mach number, with f = 1 + (γ−1)M²/2:
// T/T0 = 1/f, ρ/ρ0 = f^(−1/(γ−1)), p/p0 = f^(−γ/(γ−1)),
// A/A* = (1/M)·(2f/(γ+1))^((γ+1)/(2(γ−1))). A/A* is +Inf at M = 0; a negative
// Mach number gives NaN.
//
// Source: Ames Research Staff, NACA Report 1135 (1953).
func IsentropicAt(mach float64) Isentropic { // mach [1]
	if !(mach >= 0) {
		nan := units.Ratio(math.NaN())
		return Isentropic{nan, nan, nan, nan}
	}
	const g = HeatCapacityRatio
	f := 1 + (g-1)/2*mach*mach
	return Isentropic{
		Pressure:    units.Ratio(numeric.Pow(f, -g/(g-1))),
		Density:     units.Ratio(numeric.Pow(f, -1/(g-1))),
		Temperature: units.Ratio(1 / f),
		Area:        units.Ratio(numeric.Pow(2*f/(g+1), (g+1)/(2*(g-1))) / mach),
	}
}

// MachAt returns the Mach number at which p/p0 has the given value, 0 … 1; NaN
// outside.
func MachAt(ratio units.Ratio) float64 { // [1]
	const g = HeatCapacityRatio
	return math.Sqrt(2 / (g - 1) * math.Expm1(-(g-1)/g*math.Log(float64(ratio))))
}

// IdealExitSpeed returns the speed of air that expands without loss from the
// gauge pressure to ambient: √(2cp·T0(1 − (pa/p0)^((γ−1)/γ))). Above the choking
// pressure only a nozzle that widens again reaches it: see [Nozzle.Flow]. A
// negative gauge pressure gives NaN.
func IdealExitSpeed(gauge units.GaugePressure, ambient units.Pressure, t0 units.Temperature) units.Speed {
	const g = HeatCapacityRatio
	l := math.Log1p(float64(gauge) / float64(ambient)) // ln p0/pa, with all digits at small gauge
	cp := GasConstantAir * g / (g - 1)
	return units.Speed(math.Sqrt(-2 * cp * float64(t0) * math.Expm1(-(g-1)/g*l)))
}

// NozzleSpec describes a hole or slot that blows into the room.
type NozzleSpec struct {
	Area units.Area // geometric area of the throat
	// Discharge is the real over the ideal mass flow: 0.6 for a sharp-edged hole,
	// 0.97 for a rounded one (common practice, no source). [1]
	Discharge float64 // [1]
	// Thrust is the real over the ideal momentum per mass; 0 means 1. A sharp hole
	// contracts the stream but hardly slows it. [1]
	Thrust float64 // [1]
}

// Nozzle is a checked [NozzleSpec].
type Nozzle struct{ spec NozzleSpec }

// NewNozzle checks the specification: Area above 0 and at most 1 m², Discharge
// within 0.3 … 1, Thrust within 0.3 … 1 (0 means 1).
func NewNozzle(spec NozzleSpec) (Nozzle, error) {
	if spec.Thrust == 0 {
		spec.Thrust = 1
	}
	err := errors.Join(
		known.Positive("area", spec.Area),
		known.InRange("area", spec.Area, 0, 1),
		known.InRange("discharge", spec.Discharge, 0.3, 1),
		known.InRange("thrust", spec.Thrust, 0.3, 1),
	)
	if err != nil {
		return Nozzle{}, err
	}
	return Nozzle{spec}, nil
}

// Hole returns the area of a round hole.
func Hole(diameter units.Length) units.Area {
	return units.Area(math.Pi / 4 * float64(diameter) * float64(diameter))
}

// NozzleFlow is what leaves a nozzle.
type NozzleFlow struct {
	Mass     units.MassFlow // mass flow
	Momentum units.Force    // momentum flux and pressure thrust: what drives the jet
	Throat   units.Speed    // speed in the throat
	Choked   bool           // sonic throat: an under-expanded jet above it
	// Jet is the speed of the equivalent source, momentum over mass flow, and
	// Diameter the width of a round source that carries the same mass and momentum
	// at the density of the room. Beyond the first diameters the jet knows no more.
	Jet      units.Speed
	Diameter units.Length // see Jet
}

// Flow returns the flow from a supply of stagnation temperature t0 at the gauge
// pressure into the ambient. Subsonic:
//
//	ṁ = Cd·A·p0/√(R·T0)·√(2γ/(γ−1)·(r^(2/γ) − r^((γ+1)/γ))),  r = pa/p0
//
// choked: r is replaced by the critical ratio, so ṁ = 0.6847·Cd·A·p0/√(R·T0), and
// the momentum is ṁu* + Cd·A(p* − pa). The equivalent source has that momentum, mass
// and the room's density (J. M. Thring and M. P. Newby, 4th Symp. on Combustion (1953)
// 789, the equivalent diameter). The gauge pressure must be 0 … 20 bar, ambient
// 20 … 110 kPa and t0 200 … 400 K; else the error names it.
//
// Caution: compressed air injures. Dead-ended pressure limits, guards and noise
// limits of the local code apply and are for a competent person to judge.
func (n Nozzle) Flow(gauge units.GaugePressure, ambient units.Pressure, t0 units.Temperature) (NozzleFlow, error) {
	if err := errors.Join(
		known.InRange("gauge", gauge, 0, 20e5),
		known.InRange("ambient", ambient, 2e4, 1.1e5),
		known.InRange("temperature", t0, 200, 400),
	); err != nil {
		return NozzleFlow{}, err
	}
	if gauge == 0 {
		return NozzleFlow{}, nil
	}
	const g = HeatCapacityRatio
	p0, pa, rt := float64(gauge.Absolute(ambient)), float64(ambient), GasConstantAir*float64(t0)
	area := n.spec.Discharge * float64(n.spec.Area)
	f := NozzleFlow{Choked: pa/p0 <= criticalRatio}
	r := max(pa/p0, criticalRatio)
	l := min(math.Log1p(float64(gauge)/pa), -math.Log(criticalRatio)) // −ln r, with all digits at small gauge
	u := math.Sqrt(-2 * g / (g - 1) * rt * math.Expm1(-(g-1)/g*l))
	m := area * p0 / rt * numeric.Pow(r, 1/g) * u // throat density times throat speed
	mom := n.spec.Thrust*m*u + area*(p0*r-pa)
	if !(m > 0 && mom > 0) { // a pressure difference below the rounding of the pressures
		return NozzleFlow{}, nil
	}
	rho := float64(AirDensity(t0, ambient))
	f.Mass, f.Momentum, f.Throat, f.Jet = units.MassFlow(m), units.Force(mom), units.Speed(u), units.Speed(mom/m)
	f.Diameter = units.Length(2 * m / math.Sqrt(math.Pi*rho*mom))
	return f, nil
}

// SonicConductance returns the conductance of the choked nozzle in the sense of
// ISO 6358, C = ṁ/(ρ_ANR·p1) at T_ANR = 0.6847·Cd·A/(ρ_ANR·√(R·T_ANR)), in m³/(s·Pa);
// 0.199 dm³/(s·bar) for 1 mm² and Cd = 1.
func (n Nozzle) SonicConductance() float64 { // [m³/(s·Pa)]
	if n.spec.Area == 0 { // no nozzle
		return math.NaN()
	}
	const g = HeatCapacityRatio
	psi := math.Sqrt(g) * numeric.Pow(2/(g+1), (g+1)/(2*(g-1)))
	return n.spec.Discharge * float64(n.spec.Area) * psi / math.Sqrt(GasConstantAir*float64(anrTemperature)) /
		float64(anrDensity)
}

// The state ANR of pneumatics.
const (
	anrTemperature = 293.15 * units.Kelvin
	anrDensity     = units.Density(1.185) // 100 kPa, 65 %RH
)

// ISO6358Flow returns the mass flow through a pneumatic component of sonic
// conductance c (in m³/(s·Pa)) and critical ratio b:
//
//	ṁ = c·p1·ρ_ANR·√(T_ANR/T1)·{1 if p2/p1 <= b, else √(1 − ((p2/p1 − b)/(1 − b))²)}
//
// with a linear branch above p2/p1 = 0.999, where the ellipse has infinite slope
// and a real component is laminar. p1 and p2 are absolute; p2 above p1 is no
// flow forward and an error, as are c [m³/(s·Pa)] not positive and b [1] outside 0 … 0.999.
//
// Source: ISO 6358-1:2013.
func ISO6358Flow(c, b float64,
	p1, p2 units.Pressure, t1 units.Temperature) (units.MassFlow, error) { // c [m³/(s·Pa)], b [1]
	if err := errors.Join(
		known.Positive("conductance", c), known.InRange("critical_ratio", b, 0, 0.999),
		known.Positive("inlet_pressure", p1), known.InRange("outlet_pressure", p2, 0, p1),
		known.Positive("inlet_temperature", t1),
	); err != nil {
		return 0, err
	}
	r := float64(p2) / float64(p1)
	const laminar = 0.999
	ellipse := func(r float64) float64 { x := (r - b) / (1 - b); return math.Sqrt(1 - x*x) }
	k := 1.0
	switch {
	case r > laminar:
		k = ellipse(laminar) * (1 - r) / (1 - laminar)
	case r > b:
		k = ellipse(r)
	}
	return units.MassFlow(c * float64(p1) * float64(anrDensity) * math.Sqrt(float64(anrTemperature)/float64(t1)) * k), nil
}

// Standard returns a mass flow of air as the volume flow that it has at a reference
// state, by [ReferenceDensity]. Volumes of the same air at units.ReferenceISO8778 (ANR)
// and units.ReferenceDIN1343 (Nm³) differ by 9 %: always name the state. Without a
// reference the flow is the zero one, which computes NaN; so is that of a mass flow that
// is not finite.
func Standard(m units.MassFlow, r units.GasReference) units.StandardFlow {
	f, _ := units.NewStandardFlow(units.VolumeFlow(float64(m)/float64(ReferenceDensity(r))), r)
	return f
}

// saturated is the saturation pressure of water at 20 °C, the temperature of both moist
// reference states, in handbooks. [Pa]
const saturated = 2339

// ReferenceDensity returns the density of air at a reference state: at ISO 8778 (ANR) the
// 1.185 kg/m³ by which components are rated, although the gas law gives 0.3 % less for
// its state; at every other one that of an ideal mixture of air and vapour,
// (p − 0.378·φ·p_sat)/(R·T). NaN without a reference.
func ReferenceDensity(r units.GasReference) units.Density {
	if r == units.ReferenceISO8778 {
		return anrDensity
	}
	vapour := float64(r.RelativeHumidity()) * saturated
	return AirDensity(r.Temperature(), r.Pressure()-units.Pressure(0.378*vapour))
}

// CompressionWork returns the work per mass to compress air from ambient at the
// intake temperature to the gauge pressure. stages 0 is isothermal, R·T·ln r; with
// stages ≥ 1, cooled back between them,
//
//	w = s·γ/(γ−1)·R·T·(r^((γ−1)/(γ·s)) − 1)
//
// It is the ideal work: divide by the efficiency of the machine. Real compressors
// need 85–130 Wh per normal m³ at 7 bar (common practice, no source). gauge below 0,
// ambient or intake not above 0 and a negative number of stages give NaN.
func CompressionWork(gauge units.GaugePressure, ambient units.Pressure, intake units.Temperature,
	stages int) units.EnergyPerMass {
	if !(gauge >= 0) || !(ambient > 0) || !(intake > 0) || stages < 0 {
		return units.EnergyPerMass(math.NaN())
	}
	l := math.Log1p(float64(gauge) / float64(ambient))
	rt := GasConstantAir * float64(intake)
	if stages == 0 {
		return units.EnergyPerMass(rt * l)
	}
	const g = HeatCapacityRatio
	s := float64(stages)
	return units.EnergyPerMass(s * g / (g - 1) * rt * math.Expm1((g-1)/(g*s)*l))
}

// SupplyPower returns the shaft power for a mass flow at the gauge pressure, single-stage
// work over the efficiency [1] (0 … 1, else NaN). At the pressure of a blower (some
// ten kPa) and that of a plant network it compares the two supplies of one nozzle.
func SupplyPower(m units.MassFlow, gauge units.GaugePressure, ambient units.Pressure, intake units.Temperature,
	efficiency float64) units.Power { // efficiency [1]
	if !(efficiency > 0 && efficiency <= 1) {
		return units.Power(math.NaN())
	}
	return units.Power(float64(m) * float64(CompressionWork(gauge, ambient, intake, 1)) / efficiency) // kg/s · J/kg
}
