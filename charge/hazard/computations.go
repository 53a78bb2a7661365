package hazard

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// Sources of the laws.
var (
	electrostatics = known.Source{Provenance: known.Published, Cite: "textbook electrostatics (Gauss's law, images), for example W. R. Smythe, Static and Dynamic Electricity, 3rd ed., 1968", Note: "derived in the doc comment"}
	definition     = known.Source{Provenance: known.Published, Cite: "definition or exact relation of the SI", Note: "exact"}
)

var argEpsR = compute.Arg{Name: "relative_permittivity", Unit: "1", Low: 1, High: 1e4}

func fieldArg(name, unit, doc string, low, high float64) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: low, High: high}
}

func result(name, unit string) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Low: -math.MaxFloat64, High: math.MaxFloat64}
}

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	flag := func(b bool) float64 {
		if b {
			return 1
		}
		return 0
	}
	ignitables := burning()
	names := make([]string, len(ignitables))
	for i := range ignitables {
		names[i] = ignitables[i].Name
	}
	bodies := make([]string, len(bodyCapacitances))
	for i := range bodyCapacitances {
		bodies[i] = bodyCapacitances[i].Name
	}
	body := compute.Arg{Name: "body", Unit: "1", Low: 0, High: 4, Choices: bodyNames[:]}
	conductor := []compute.Arg{body, fieldArg("capacitance", "F", "to earth", 1e-21, 1), fieldArg("resistance", "Ω", "to earth", 1e-6, 1e18), fieldArg("sparkover", "V", "0: no gap known", 0, 1e7)}
	with := func(more ...compute.Arg) []compute.Arg {
		return append(append([]compute.Arg(nil), conductor...), more...)
	}
	build := func(a []float64) (Conductor, error) {
		return NewConductor(ConductorSpec{Body: Body(a[0]), Capacitance: units.Capacitance(a[1]), Resistance: units.Resistance(a[2]), Sparkover: units.Voltage(a[3])})
	}
	return append(tableComputations(), []compute.Entry{
		{Name: "charge.Conductor.Charged", Doc: "isolated conductor under a steady current: V = I·R cut at sparkover, ½CV², RC, time between sparks; voltage after a time",
			Args:    with(fieldArg("current", "A", "", -1, 1), fieldArg("time", "s", "since the current started", 0, 1e9)),
			Results: []compute.Arg{result("voltage", "V"), result("energy", "J"), result("time_constant", "s"), result("sparks", "1"), result("spark_every", "s"), result("voltage_after", "V")},
			Covers:  []string{"NewConductor", "Conductor.Charged", "Conductor.After", "Conductor.Spec"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				c, err := build(a)
				if err != nil {
					return err
				}
				s := c.Charged(units.Current(a[4]))
				r[0], r[1], r[2], r[3], r[4] = float64(s.Voltage), float64(s.Energy), float64(s.TimeConstant), flag(s.Sparks), float64(s.SparkEvery)
				r[5] = float64(c.After(units.Time(a[5]), units.Current(a[4])))
				return nil
			}},
		{Name: "charge.Conductor.Energy", Doc: "½CV² of a conductor, the voltage for an energy, and its ratio to a least ignition energy; an insulator is an error",
			Args:    with(fieldArg("voltage", "V", "", -1e7, 1e7), fieldArg("energy_wanted", "J", "", 0, 1e6), compute.Arg{Name: "substance", Unit: "1", Low: 0, High: float64(len(names) - 1), Choices: names}),
			Results: []compute.Arg{result("energy", "J"), result("voltage_for_energy", "V"), result("mie", "J"), result("ratio", "1"), result("reaches", "1")},
			Covers:  []string{"Conductor.Energy", "Conductor.VoltageForEnergy", "Conductor.Spark", "FindIgnitable", "Ignitables", "Ignitable.LowEnd"}, Source: definition,
			Eval: func(r, a []float64) error {
				c, err := build(a)
				if err != nil {
					return err
				}
				g, err := FindIgnitable(names[int(a[6])])
				if err != nil {
					return err
				}
				f := c.Spark(units.Voltage(a[4]), g)
				low, _ := g.LowEnd()
				r[0], r[1], r[2] = float64(f.Energy), float64(c.VoltageForEnergy(units.Energy(a[5]))), float64(low)
				r[3], r[4] = f.Ratio, flag(f.Reaches)
				return nil
			}},
		{Name: "charge.Conductor.Induced", Doc: "voltage of an isolated person or conductor when a field grows at it, (ε0EA/C)(1−e^(−x))/x, x = T/RC, and the share of people that feel the spark",
			Args:    with(fieldArg("field", "V/m", "", -1e8, 1e8), fieldArg("area", "m²", "effective", 0, 100), fieldArg("within", "s", "time of growth", 0, 1e6)),
			Results: []compute.Arg{result("voltage", "V"), result("energy", "J"), result("felt", "1")},
			Covers:  []string{"Conductor.Induced", "FeltThreshold", "ShockThreshold.Share", "ShockThreshold.Check"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				c, err := build(a)
				if err != nil {
					return err
				}
				s := c.Induced(units.ElectricField(a[4]), units.Area(a[5]), units.Time(a[6]))
				r[0], r[1], r[2] = float64(s.Voltage), float64(s.Energy), FeltThreshold().Share(s.Energy)
				return nil
			}},
		{Name: "charge.PropagatingBrush", Doc: "the two separate conditions of the propagating brush: charge density and breakdown voltage of the layer; energy per area ½σ²t/(ε0εr)",
			Args:    []compute.Arg{fieldArg("density", "C/m²", "on one side", -1, 1), fieldArg("breakdown", "V", "of the layer by test; 0: not known", 0, 1e9), fieldArg("thickness", "m", "of the layer", 1e-9, 10), argEpsR},
			Results: []compute.Arg{result("density_share", "1"), result("breakdown_reached", "1"), result("raised", "1"), result("charge_voltage", "V"), result("energy", "J/m²")},
			Covers:  []string{"PropagatingBrush"}, Source: known.Source{Provenance: known.Published, Cite: "BG RCI, statutory accident insurance of the raw materials and chemical industry, question 2.16"},
			Eval: func(r, a []float64) error {
				f, err := PropagatingBrush(Layer{Density: units.SurfaceChargeDensity(a[0]), Breakdown: units.Voltage(a[1]), Thickness: units.Length(a[2]), RelativePermittivity: a[3]})
				if err != nil {
					return err
				}
				r[0], r[1], r[2], r[3], r[4] = f.DensityShare, flag(f.BreakdownReached), flag(f.Raised), float64(f.ChargeVoltage), float64(f.Energy)
				return nil
			}},
		{Name: "charge.BodyCapacitance", Doc: "range of the capacitance to earth of a kind of body, from a table",
			Args:    []compute.Arg{{Name: "body", Unit: "1", Low: 0, High: float64(len(bodies) - 1), Choices: bodies}},
			Results: []compute.Arg{result("low", "F"), result("high", "F")}, Covers: []string{"FindBodyCapacitance", "BodyCapacitances"}, Source: nfpaCapacitance.Source,
			Eval: func(r, a []float64) error {
				b, err := FindBodyCapacitance(bodies[int(a[0])])
				r[0], r[1] = float64(b.Low), float64(b.High)
				return err
			}},
		{Name: "charge.BrushLimitsFromMemory", Doc: "limits of the standard for an insulating surface against brush ignition as remembered; an example only",
			Args:    []compute.Arg{{Name: "zone", Unit: "1", Low: 0, High: 1, Choices: []string{"zone 0", "zone 1"}}, {Name: "group", Unit: "1", Low: 0, High: 2, Choices: []string{"IIA", "IIB", "IIC"}}},
			Results: []compute.Arg{result("area", "m²"), result("layer", "m"), result("transferred", "C")}, Covers: []string{"BrushLimitsFromMemory"},
			Source: known.Source{Provenance: known.Memory, Cite: "IEC TS 60079-32-1", Note: "from memory 75 to 88 %"},
			Eval: func(r, a []float64) error {
				l, err := BrushLimitsFromMemory(int(a[0]), GasGroup(a[1])+IIA)
				r[0], r[1], r[2] = float64(l.Area), float64(l.Layer), float64(l.Transferred)
				return err
			}},
		{Name: "charge.Brush", Doc: "potential of an insulating surface against the guide value for brush ignition",
			Args:    []compute.Arg{fieldArg("potential", "V", "of the surface", -1e7, 1e7), {Name: "substance", Unit: "1", Low: 0, High: float64(len(names) - 1), Choices: names}},
			Results: []compute.Arg{result("guide", "V"), result("ratio", "1"), result("raised", "1")},
			Covers:  []string{"Brush", "BrushPotential"}, Source: known.Source{Provenance: known.Quoted, Cite: "guideline of the Japanese national institute of occupational safety on static electricity", Via: "Japanese text on risk assessment of static electricity (2022)"},
			Eval: func(r, a []float64) error {
				g := ignitables[int(a[1])]
				f := Brush(units.Voltage(a[0]), g)
				r[0], r[1], r[2] = float64(g.guide()), f.Ratio, flag(f.Raised)
				return nil
			}},
	}...)
}
