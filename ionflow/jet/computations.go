package jet

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func arg(name, unit string, low, high float64, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Low: low, High: high, Doc: doc}
}

// out is a result, which has no range of its own.
func out(name, unit, doc string) compute.Arg { return arg(name, unit, -1e308, 1e308, doc) }

// choice is an argument that selects.
func choice(name, doc string, choices ...string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", High: float64(len(choices) - 1), Doc: doc, Choices: choices}
}

func args(a ...compute.Arg) []compute.Arg { return a }

func names(s ...string) []string { return s }

func derived(how string) known.Source {
	return known.Source{Provenance: known.Computed, Cite: how}
}

func published(cite string) known.Source {
	return known.Source{Provenance: known.Published, Cite: cite}
}

func fromMemory(cite string) known.Source {
	return known.Source{Provenance: known.Memory, Cite: cite}
}

// Arguments that many entries share.
var (
	aT     = arg("temperature", "K", 100, 500, "temperature of the air")
	aX     = arg("distance", "m", 0, 100, "distance from the source")
	aU     = arg("speed", "m/s", 0, 1e3, "speed of the air")
	aAmb   = arg("ambient", "Pa", 2e4, 1.1e5, "ambient pressure")
	aGauge = arg("gauge", "Pa", 0, 20e5, "gauge pressure")
)

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return []compute.Entry{
		{Name: "ionflow.ChokingGauge", Doc: "Critical pressure ratio and the gauge pressure above which a nozzle chokes.", Args: args(aAmb),
			Results: args(out("ratio", "1", ""), out("gauge", "Pa", "")), Covers: names("CriticalPressureRatio", "ChokingGauge"), Source: published("Ames Research Staff, NACA Report 1135 (1953)"),
			Eval: func(r, a []float64) error {
				r[0], r[1] = float64(CriticalPressureRatio()), float64(ChokingGauge(units.Pressure(a[0])))
				return nil
			}},
		{Name: "ionflow.IsentropicAt", Doc: "Ratios of isentropic flow at a Mach number and the Mach number of the pressure ratio.", Args: args(arg("mach", "1", 1e-6, 20, "")),
			Results: args(out("pressure", "1", "p/p0"), out("density", "1", "ρ/ρ0"), out("temperature", "1", "T/T0"), out("area", "1", "A/A*"), out("mach", "1", "back from p/p0")),
			Covers:  names("IsentropicAt", "MachAt"), Source: published("Ames Research Staff, NACA Report 1135 (1953)"),
			Eval: func(r, a []float64) error {
				s := IsentropicAt(a[0])
				r[0], r[1], r[2], r[3], r[4] = float64(s.Pressure), float64(s.Density), float64(s.Temperature), float64(s.Area), MachAt(s.Pressure)
				return nil
			}},
		{Name: "ionflow.IdealExitSpeed", Doc: "Speed of air expanded without loss from a gauge pressure to ambient.", Args: args(aGauge, aAmb, aT),
			Results: args(out("speed", "m/s", "")), Covers: names("IdealExitSpeed"), Source: published("Ames Research Staff, NACA Report 1135 (1953)"),
			Eval: func(r, a []float64) error {
				r[0] = float64(IdealExitSpeed(units.GaugePressure(a[0]), units.Pressure(a[1]), units.Temperature(a[2])))
				return nil
			}},
		{Name: "ionflow.Nozzle.Flow", Doc: "Flow, momentum and equivalent jet of a hole, with its consumption at ANR and normal state.",
			Args:    args(arg("diameter", "m", 1e-5, 0.5, "of the hole"), arg("discharge", "1", 0.3, 1, "coefficient"), aGauge, aAmb, arg("temperature", "K", 200, 400, "of the supply")),
			Results: args(out("mass", "kg/s", ""), out("anr", "m³/s", ""), out("normal", "m³/s", ""), out("throat_speed", "m/s", ""), out("jet_speed", "m/s", ""), out("jet_diameter", "m", ""), out("momentum", "N", ""), out("conductance", "m³/(s·Pa)", "sonic conductance")),
			Covers:  names("NewNozzle", "Nozzle.Flow", "Nozzle.SonicConductance", "Hole", "Reference.Volume", "Reference.Density", "AirDensity"), Source: published("Ames Research Staff, NACA Report 1135 (1953); ISO 6358-1:2013; ISO 8778; DIN 1343"),
			Eval: func(r, a []float64) error {
				n, err := NewNozzle(NozzleSpec{Area: Hole(units.Length(a[0])), Discharge: a[1]})
				if err != nil {
					return err
				}
				f, err := n.Flow(units.GaugePressure(a[2]), units.Pressure(a[3]), units.Temperature(a[4]))
				r[0], r[1], r[2] = float64(f.Mass), float64(ANR.Volume(f.Mass)), float64(Normal.Volume(f.Mass))
				r[3], r[4], r[5], r[6], r[7] = float64(f.Throat), float64(f.Jet), float64(f.Diameter), float64(f.Momentum), n.SonicConductance()
				return err
			}},
		{Name: "ionflow.ISO6358Flow", Doc: "Mass flow of a pneumatic component of given sonic conductance and critical ratio.",
			Args:    args(arg("conductance", "m³/(s·Pa)", 1e-14, 1, ""), arg("critical_ratio", "1", 0, 0.999, ""), arg("inlet", "Pa", 1, 1e8, "absolute"), arg("outlet", "Pa", 0, 1e8, "absolute"), aT),
			Results: args(out("mass", "kg/s", "")), Covers: names("ISO6358Flow"), Source: published("ISO 6358-1:2013"),
			Eval: func(r, a []float64) error {
				m, err := ISO6358Flow(a[0], a[1], units.Pressure(a[2]), units.Pressure(a[3]), units.Temperature(a[4]))
				r[0] = float64(m)
				return err
			}},
		{Name: "ionflow.CompressionWork", Doc: "Ideal work to compress air, per mass and per normal m³, and the power for 1 g/s in one stage at an efficiency of 0.7.",
			Args:    args(aGauge, aAmb, arg("intake", "K", 200, 400, "temperature at the intake"), arg("stages", "1", 0, 6, "0 for isothermal")),
			Results: args(out("work", "J/kg", ""), out("work_per_normal", "J/m³", "per m³ at 0 °C and 101.325 kPa"), out("power", "W", "for 1 g/s")),
			Covers:  names("CompressionWork", "SupplyPower"), Source: derived("closed form of the reversible work"),
			Eval: func(r, a []float64) error {
				w := CompressionWork(units.GaugePressure(a[0]), units.Pressure(a[1]), units.Temperature(a[2]), int(a[3]))
				r[0], r[1] = float64(w), float64(w)*float64(Normal.Density())
				r[2] = float64(SupplyPower(units.MassFlow(1e-3), units.GaugePressure(a[0]), units.Pressure(a[1]), units.Temperature(a[2]), 0.7))
				return nil
			}},
		{Name: "ionflow.JetConstants", Doc: "Constants of Gaussian jets from one spreading rate and the momentum: round B and entrainment per x/d, plane K and entrainment per √(x/h).",
			Args: args(arg("spread", "1", 0.01, 0.5, "half-width over distance")),
			Results: args(out("round", "1", "B"), out("round_entrainment", "1", "of Q/Q0 per x/d"), out("top_hat", "1", "entrainment coefficient of the top-hat jet, a quarter of it"),
				out("plane", "1", "K"), out("plane_entrainment", "1", "of Q/Q0 per √(x/h)"), out("round_default", "1", "spread used for round jets")),
			Covers: names("RoundDecay", "PlaneDecay"), Source: derived("closed form: all momentum in a Gaussian profile"),
			Eval: func(r, a []float64) error {
				r[0], r[3] = RoundDecay(a[0]), PlaneDecay(a[0])
				r[1], r[4] = 2/r[0], math.Sqrt2/r[3]
				r[2], r[5] = r[1]/4, RoundSpread
				return nil
			}},
		{Name: "ionflow.Jet", Doc: "A free jet at a distance.",
			Args: args(choice("kind", "shape", jetKinds[:]...), arg("width", "m", 1e-5, 1, "diameter or slot height"), arg("pitch", "m", 0, 10, "of a row"), arg("speed", "m/s", 0.01, 700, "at the source"), aX),
			Results: args(out("centre_speed", "m/s", ""), out("mean_speed", "m/s", ""), out("half_width", "m", ""), out("entrainment", "1", "Q/Q0"), out("age", "s", ""), out("breadth", "m", ""),
				out("reynolds", "1", ""), out("core", "m", ""), out("impinging_speed", "m/s", "with a wall at 1.1 times the distance"), out("merge", "m", "where a row becomes plane; 1e308 for the other shapes"), out("dilution", "1/m", "d ln Q/dx")),
			Covers: names("NewJet", "Jet.CentreSpeed", "Jet.MeanSpeed", "Jet.HalfWidth", "Jet.Entrainment", "Jet.Age", "Jet.Breadth", "Jet.Dilution", "Jet.ImpingingSpeed", "Jet.Reynolds", "Jet.Core", "Jet.Merge"),
			Source: published("F. P. Ricou and D. B. Spalding, J. Fluid Mech. 11 (1961) 21; E. Gutmark and I. Wygnanski, J. Fluid Mech. 73 (1976) 465"),
			Eval: func(r, a []float64) error {
				j, err := NewJet(JetSpec{Kind: JetKind(a[0]), Width: units.Length(a[1]), Pitch: units.Length(a[2]), Speed: units.Speed(a[3])})
				if err != nil {
					return err
				}
				x := units.Length(a[4])
				r[0], r[1], r[2], r[3] = float64(j.CentreSpeed(x)), float64(j.MeanSpeed(x)), float64(j.HalfWidth(x)), float64(j.Entrainment(x))
				r[4], r[5], r[6], r[7] = float64(j.Age(x)), float64(j.Breadth(x)), j.Reynolds(), float64(j.Core())
				s, _ := j.ImpingingSpeed(x, 1.1*x)
				r[8], r[9], r[10] = float64(s), min(float64(j.Merge()), 1e308), j.Dilution(x)
				return nil
			}},
		{Name: "ionflow.WallJetAt", Doc: "Plane wall jet: greatest speed and half-width.", Args: args(aU, arg("slot", "m", 1e-5, 1, "height"), aX),
			Results: args(out("peak", "m/s", ""), out("half_width", "m", "")), Covers: names("WallJetAt"), Source: fromMemory("B. E. Launder and W. Rodi, Prog. Aerosp. Sci. 19 (1981) 81; N. Rajaratnam, Turbulent Jets (1976)"),
			Eval: func(r, a []float64) error {
				w := WallJetAt(units.Speed(a[0]), units.Length(a[1]), units.Length(a[2]))
				r[0], r[1] = float64(w.Peak), float64(w.HalfWidth)
				return nil
			}},
		{Name: "ionflow.Coanda", Doc: "Pressure ρU²b/R that bends a sheet of air round a lip, and the angle at which it leaves.",
			Args:    args(arg("density", "kg/m³", 0.1, 10, ""), aU, arg("thickness", "m", 1e-5, 0.1, ""), arg("radius", "m", 1e-4, 1, "")),
			Results: args(out("pressure", "Pa", ""), out("angle", "rad", "")), Covers: names("CoandaPressure", "CoandaSeparation"), Source: fromMemory("B. G. Newman, in Boundary Layer and Flow Control (1961) 232, for the angle; the pressure is derived"),
			Eval: func(r, a []float64) error {
				b, rr := units.Length(a[2]), units.Length(a[3])
				ang, _ := CoandaSeparation(b, rr)
				r[0], r[1] = float64(CoandaPressure(units.Density(a[0]), units.Speed(a[1]), b, rr)), float64(ang)
				return nil
			}},
	}
}
