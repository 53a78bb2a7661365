package hazard

import (
	_ "embed" // for the sentences
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return compute.List("hazard", sentences, append(conductorComputations(), surfaceComputations()...))
}

var (
	electrostatics = known.Source{Provenance: known.Computed, Cite: "Gauss's and Ohm's law",
		Note: "derived in the doc comment"}
	definition = known.Source{Provenance: known.Definition, Cite: "V = Q/C, W = ½CV², A = q/σ"}
	// the text has no author that could be recorded
	guidePotential = known.Source{Provenance: known.Quoted,
		Cite: "guideline of the Japanese national institute of occupational safety on static electricity",
		Via:  "Japanese text on risk assessment of static electricity (2022)"}
	bgrCharge = known.Source{Provenance: known.Published,
		Cite: "BGR 132:2003, Vermeidung von Zündgefahren infolge elektrostatischer Aufladungen, section G, Table 14",
		Note: "minimum igniting charges"}
)

// listed is an item whose choices are names.
func listed[T any](item string, list []T, name func(*T) string, doc string) string {
	names := make([]string, len(list))
	for i := range list {
		names[i] = name(&list[i])
	}
	return item + " {" + strings.Join(names, "|") + "}: " + doc
}

func substance() string {
	return listed("substance", burning.Get(), func(g *Ignitable) string { return g.Name }, "what may burn")
}

func conductorComputations() []compute.Entry {
	const conductor = "body: what it is; capacitance 1e-21…1: to earth; " +
		"resistance 1e-6…1e18: to earth; sparkover 0…1e7: 0, no gap known"
	thresholds := []ShockThreshold{FeltThreshold(), PainThreshold(Women), PainThreshold(Men), FrightThreshold(Women),
		FrightThreshold(Men)}
	return []compute.Entry{
		compute.Of("Conductor.Charged", func(s ConductorSpec, i units.Current, t units.Time) (v units.Voltage,
			w units.Energy, tau units.Time,
			sparks bool, every units.Time, after units.Voltage, err error) {
			c, err := NewConductor(s)
			if err != nil {
				return
			}
			x := c.Charged(i)
			return x.Voltage, x.Energy, x.TimeConstant, x.Sparks, x.SparkEvery, c.After(t, i), nil
		}, electrostatics, "= Isolated conductor under a steady current: V = I·R cut at sparkover, ½CV², RC, time "+
			"between sparks; voltage after a time.",
			"! isolated-conductor", conductor, "current -1…1: that charges it; time 0…1e9: since the current started",
			"-> voltage: in the end; energy: ½CV²; time_constant: RC; sparks: whether the gap sparks over; "+
				"spark_every: time between sparks",
			"voltage_after: after the time"),
		compute.Of("Conductor.Energy", func(s ConductorSpec, v units.Voltage, want units.Energy, i int) (w units.Energy,
			for_ units.Voltage,
			low units.Energy, ratio float64, reaches bool, err error) {
			c, err := NewConductor(s)
			if err != nil {
				return
			}
			g, err := FindIgnitable(burning.Get()[i].Name)
			if err != nil {
				return
			}
			f := c.Spark(v, g)
			low, _ = g.LowEnd()
			return c.Energy(v), c.VoltageForEnergy(want), low, f.Ratio, f.Reaches, nil
		}, definition, "= ½CV² of a conductor, the voltage for an energy, and its ratio to the low end of a substance's "+
			"least ignition energies; "+
			"an insulator is an error.",
			"! isolated-conductor", conductor, "voltage -1e7…1e7: of the conductor; energy_wanted 0…1e6: for a voltage",
			substance(),
			"-> energy: ½CV²; voltage_for_energy: √(2W/C); mie: low end of the least ignition energies; ratio: energy over it",
			"reaches: whether no low end excludes it"),
		compute.Of44("Conductor.Induced", func(s ConductorSpec, e units.ElectricField, a units.Area,
			t units.Time) (units.Voltage, units.Energy,
			float64, error) {
			c, err := NewConductor(s)
			if err != nil {
				return 0, 0, 0, err
			}
			x := c.Induced(e, a, t)
			return x.Voltage, x.Energy, FeltThreshold().Share(x.Energy), nil
		}, electrostatics, "= Voltage of an isolated person or conductor when a field grows at it, "+
			"(ε0EA/C)(1−e^(−x))/x, x = T/RC, "+
			"and the share of people that feel the spark.",
			"! shock", conductor, "field -1e8…1e8: at the body; area 0…100: effective; within 0…1e6: time of growth",
			"-> voltage: of the body; energy: ½CV²; felt: share of people that feel the spark"),
		compute.Of13("BodyCapacitance", func(i int) (units.Capacitance, units.Capacitance, error) {
			b, err := FindBodyCapacitance(BodyCapacitances()[i].Name)
			return b.Low, b.High, err
		}, nfpaCapacitance.Source, "= Range of the capacitance to earth of a kind of body, from a table.",
			listed("body", BodyCapacitances(), func(b *BodyCapacitance) string { return b.Name }, "kind of body"),
			"! shock", "-> low: of the range; high: of the range"),
		compute.Of21("VoltageOf", VoltageOf, definition, "! shock",
			"charge -1…1: on the body; capacitance 1e-21…1: to earth -> "+
				"voltage: of the body"),
		compute.Of31("ShockThreshold", func(kind int, c units.Capacitance, v units.Voltage) float64 {
			return thresholds[kind].Share(units.Energy(0.5 * float64(c) * float64(v) * float64(v)))
		}, PainThreshold(Women).Source, "= Share of people that a spark from a body makes feel it, hurt or start.", "! shock",
			"kind {felt|pain, women|pain, men|fright, women|fright, men}: what is asked",
			"capacitance 1e-15…1e-6: of the body; voltage -1e6…1e6: of the body -> share: of people"),
		compute.Of13("Floor", func(i int) (units.Resistance, units.Resistance, error) {
			f, err := FindFloor(Floors()[i].Name)
			return f.Low, f.High, err
		}, floors.Rows()[0].Source, "= Range of the leakage resistance of a floor, from a table; "+
			"low 0: printed as far below high.",
			listed("floor", floors.Rows(), func(f *Floor) string { return f.Name }, "kind of floor"),
			"! isolated-conductor", "-> low: of the range; high: of the range"),
	}
}

func surfaceComputations() []compute.Entry {
	return []compute.Entry{
		compute.Of("Ignitable", func(i int) (mie, high, low units.Energy, mixture float64, q units.Charge, held bool) {
			g := Ignitables()[i]
			low, _ = g.LowEnd()
			q, held = g.LeastCharge()
			return g.MIE, g.High, low, g.Mixture, q, held
		}, bgrCharge, "= Least ignition energies and minimum igniting charge held of a substance, from a table.", substance(),
			"-> mie: least ignition energy; mie_high: other end of its range; mie_judged: low end by which it is judged",
			"! not-an-approval", "mixture: share in air, 0 not stated; charge: minimum igniting charge; "+
				"held: whether one is held"),
		compute.Of12("PropagatingBrush", PropagatingBrush, known.Source{Provenance: known.Published,
			Cite: "BG RCI, statutory accident insurance of the raw materials and chemical industry, question 2.16"},
			"! propagating-brush",
			"density -1…1: on one side; breakdown 0…1e9: of the layer by test, 0 not known; thickness 1e-9…10: of the layer",
			"relative_permittivity 1…1e4: of the layer",
			"-> density_share: of 250 µC/m²; density_reached: whether it is reached; "+
				"breakdown_reached: whether the layer holds more than 4 kV",
			"raised: both conditions; charge_voltage: across the layer; energy: stored per area; validity: flags"),
		compute.Of24("BrushLimitsFromMemory", func(zone int, g int) (units.Area, units.Length, units.Charge, error) {
			l, err := BrushLimitsFromMemory(zone, GasGroup(g)+IIA)
			return l.Area, l.Layer, l.Transferred, err
		}, known.Source{Provenance: known.Memory, Cite: "IEC TS 60079-32-1", Note: "not compared with the source"},
			"= Limits of the standard for an insulating surface against brush ignition as remembered; an example only.",
			"zone {zone 0|zone 1}: of explosive atmosphere; group {IIA|IIB|IIC}: of gas",
			"! brush-discharge not-an-approval", "-> area: greatest of the surface; layer: greatest thickness; "+
				"transferred: greatest charge"),
		compute.Of23("Brush", func(v units.Voltage, i int) (units.Voltage, float64, bool) {
			g := burning.Get()[i]
			f := Brush(v, g)
			return g.guide(), f.Ratio, f.Raised
		}, guidePotential,
			"= Potential of an insulating surface against the guide value for brush ignition.", "! brush-discharge",
			"potential -1e7…1e7: of the surface", substance(), "-> guide: value; ratio: potential over it; "+
				"raised: whether it is reached"),
		compute.Of11("BrushPotential", BrushPotential, guidePotential,
			"! brush-discharge", "mie 1e-9…10: least ignition energy -> guide: potential"),
		compute.Of24("Transfer", func(q units.Charge, i int) (units.Charge, bool, float64, bool) {
			f := Transfer(q, burning.Get()[i])
			return f.Least, !f.StandIn, f.Ratio, f.Reaches
		}, bgrCharge, "= Charge moved by one discharge from an insulating surface against the minimum igniting charge "+
			"of a substance.",
			"! brush-discharge", "charge -1…1: moved by one discharge", substance(),
			"-> least: minimum igniting charge; held: whether one is held; ratio: charge over it; "+
				"reaches: whether it is reached"),
		compute.Of21("AreaHolding", AreaHolding, definition, "! brush-discharge",
			"charge 0…1: of the area; density -1…1: net -> area: that "+
				"holds it"),
	}
}
