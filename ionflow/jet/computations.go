package jet

import (
	_ "embed" // for the sentences
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

const (
	aT       = "temperature 100…500: temperature of the air"
	aX       = "distance 0…100: distance from the source"
	aU       = "speed 0…1e3: speed of the air"
	aAmbient = "ambient 2e4…1.1e5: ambient pressure"
	aGauge   = "gauge 0…20e5: gauge pressure"
	itemAir  = "! compressed-air"
)

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	source := func(p known.Provenance, cite string) known.Source { return known.Source{Provenance: p, Cite: cite} }
	naca := source(known.Published, "Ames Research Staff, NACA Report 1135 (1953)")
	return compute.List("jet", sentences, []compute.Entry{
		compute.Of12("ChokingGauge", func(p units.Pressure) (units.Ratio, units.GaugePressure) {
			return CriticalPressureRatio(), ChokingGauge(p)
		}, naca,
			"= Critical pressure ratio and the gauge pressure above which a nozzle chokes.", aAmbient,
			itemAir, "-> ratio: outlet over inlet; gauge: of the supply"),
		compute.Of12("IsentropicAt", func(m float64) (Isentropic, float64) {
			s := IsentropicAt(m)
			return s,
				MachAt(s.Pressure)
		}, naca,
			"= Ratios of isentropic flow at a Mach number and the Mach number of the pressure ratio.",
			"mach 1e-6…20: Mach number",
			"-> pressure: p/p0; density: ρ/ρ0; temperature: T/T0; area: A/A*; mach: back from p/p0"),
		compute.Of31("IdealExitSpeed", IdealExitSpeed, naca, aGauge, aAmbient, aT, itemAir, "-> speed: of the expanded air"),
		compute.Of52("Nozzle.Flow", nozzleFlow, source(known.Computed,
			"closed forms of NACA Report 1135 (1953) and ISO 6358-1:2013; states of ISO 8778 and DIN 1343"),
			"= Flow, momentum and equivalent jet of a hole, with its consumption at ANR and normal state.",
			"diameter 1e-5…0.5: of the hole; discharge 0.3…1: coefficient", aGauge, aAmbient,
			"temperature 200…400: of the supply",
			"-> mass: flow; anr: flow at ANR; normal: flow at 0 °C and 101.325 kPa; throat_speed: in the throat; "+
				"jet_speed: of the equivalent source",
			itemAir, "jet_diameter: of the equivalent source; momentum: flux and thrust; "+
				"conductance [m³/(s·Pa)]: sonic conductance"),
		compute.Of44("Supply.Blow", func(k JetKind, w, pitch units.Length, a Supply) (units.Speed, units.Length, float64,
			error) {
			j, m, err := a.Blow(JetSpec{Kind: k, Width: w, Pitch: pitch})
			return j.Spec().Speed, j.Spec().Width, m, err
		}, source(known.Computed, "nozzle flow and equal mass and momentum at the density of the room"),
			"kind: shape; width 1e-5…0.1: hole or slot; pitch 1e-3…1: of a row; gauge 10…20e5: pressure; "+
				"ambient 2e4…1.1e5: ambient pressure; temperature 200…400: of the supply; discharge 0.3…1: coefficient",
			itemAir, "-> speed: of the equivalent jet; equivalent_width: of its source; mass [kg/(s·m)]: air, kg/s of one hole"),
		compute.Of52("ISO6358Flow", ISO6358Flow, known.Source{Provenance: known.Quoted, Cite: "ISO 6358-1:2013",
			Via: "documentation of general simulation libraries"},
			"conductance [m³/(s·Pa)] 1e-14…1: sonic conductance; critical_ratio 0…0.999: of pressures; "+
				"inlet 1…1e8: absolute; outlet 0…1e8: absolute",
			aT, itemAir, "-> mass: flow"),
		compute.Of43("CompressionWork", func(g units.GaugePressure, p units.Pressure, t units.Temperature,
			stages int) (units.EnergyPerMass, float64,
			units.Power) {
			w := CompressionWork(g, p, t, stages)
			return w, float64(w) * float64(ReferenceDensity(units.ReferenceDIN1343)),
				SupplyPower(units.MassFlow(1e-3), g, p, t, 0.7)
		}, source(known.Computed, "closed form of the reversible work"),
			"= Ideal work to compress air, per mass and per normal m³, and the power for 1 g/s in one stage at an "+
				"efficiency of 0.7.",
			aGauge, aAmbient, "intake 200…400: temperature at the intake; stages 0…6: 0 for isothermal",
			itemAir, "-> work: per mass; work_per_normal [J/m³]: per m³ at 0 °C and 101.325 kPa; power: for 1 g/s"),
		compute.Of("JetConstants", func(spread float64) (b, eb, hat, k, ek, round float64) {
			b, k = RoundDecay(spread), PlaneDecay(spread)
			return b, 2 / b, 2 / b / 4, k, math.Sqrt2 / k, RoundSpread
		}, source(known.Computed, "closed form: all momentum in a Gaussian profile"),
			"= Constants of Gaussian jets from one spreading rate and the momentum: round B and entrainment per x/d, plane "+
				"K and entrainment per √(x/h).",
			"spread 0.01…0.5: half-width over distance",
			"-> round: B; round_entrainment: of Q/Q0 per x/d; "+
				"top_hat: entrainment coefficient of the top-hat jet, a quarter of it; plane: K",
			"plane_entrainment: of Q/Q0 per √(x/h); round_default: spread used for round jets"),
		compute.Of22("Jet", at, source(known.Published, "F. P. Ricou and D. B. Spalding, J. Fluid Mech. 11 (1961) 21; "+
			"E. Gutmark and I. Wygnanski, J. Fluid Mech. 73 (1976) 465"), "= A free jet at a distance.",
			"kind: shape; width 1e-5…1: diameter or slot height; pitch 0…10: of a row; _; speed 0.01…700: at the source; "+
				"_; _; _", aX,
			"-> centre_speed: on the axis; mean_speed: of the flow; half_width: at half the centre speed; "+
				"entrainment: Q/Q0; age: of the air",
			"breadth: of the plume; reynolds: at the source; core: length; "+
				"impinging_speed: with a wall at 1.1 times the distance",
			"merge: where a row becomes plane, 1e308 for the other shapes; dilution [1/m]: d ln Q/dx; flow [m²/s]: per width",
			itemAir, "validity: flags of the jet and of the wall"),
		compute.Of31("WallJetAt", WallJetAt, source(known.Memory, "B. E. Launder and W. Rodi, Prog. Aerosp. Sci. 19 "+
			"(1981) 81; "+
			"N. Rajaratnam, Turbulent Jets (1976)"), aU, "slot 1e-5…1: height", aX,
			itemAir, "-> peak: greatest speed; half_width: from the wall; validity: flags"),
		compute.Of43("Coanda", func(rho units.Density, u units.Speed, b, r units.Length) (units.Pressure, units.Angle,
			known.Validity) {
			a, v := CoandaSeparation(b, r)
			return CoandaPressure(rho, u, b, r), a, v
		}, source(known.Memory, "B. G. Newman, in Boundary Layer and Flow Control (1961) 232, for the angle; "+
			"the pressure is derived"),
			"= Pressure ρU²b/R that bends a sheet of air round a lip, and the angle at which it leaves.",
			"density 0.1…10: of the air", aU, "thickness 1e-5…0.1: of the sheet; radius 1e-4…1: of the lip",
			itemAir, "-> pressure: difference across the sheet; angle: at which it leaves; validity: flags"),
	})
}

// used is the consumption of a nozzle and the jet that leaves it.
type used struct {
	mass        units.MassFlow
	anr, normal units.VolumeFlow
	throat, jet units.Speed
	diameter    units.Length
	momentum    units.Force
	conductance float64
}

func nozzleFlow(d units.Length, c float64, g units.GaugePressure, p units.Pressure, t units.Temperature) (used, error) {
	n, err := NewNozzle(NozzleSpec{Area: Hole(d), Discharge: c})
	if err != nil {
		return used{}, err
	}
	f, err := n.Flow(g, p, t)
	return used{f.Mass, Standard(f.Mass, units.ReferenceISO8778).Volume(),
		Standard(f.Mass, units.ReferenceDIN1343).Volume(), f.Throat, f.Jet, f.Diameter, f.Momentum,
		n.SonicConductance()}, err
}

// told is what is told about a jet.
type told struct {
	centre, mean units.Speed
	half         units.Length
	entrainment  units.Ratio
	age          units.Time
	breadth      units.Length
	reynolds     float64
	core         units.Length
	impinging    units.Speed
	merge        units.Length
	dilution     float64
	perWidth     float64
	flags        known.Validity
}

func at(s JetSpec, x units.Length) (told, error) {
	j, err := NewJet(s)
	if err != nil {
		return told{}, err
	}
	wall, flags := j.ImpingingSpeed(x, 1.1*x)
	return told{j.CentreSpeed(x), j.MeanSpeed(x), j.HalfWidth(x), j.Entrainment(x), j.Age(x), j.Breadth(x),
		j.Reynolds(), j.Core(), wall,
		units.Length(min(float64(j.Merge()), 1e308)), j.Dilution(x), j.FlowPerWidth(), j.Validity() | flags}, nil
}
