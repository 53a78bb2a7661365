package hazard

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// tableComputations are those of the tables and of what is no conductor.
func tableComputations() []compute.Entry {
	ignitables := burning()
	names := make([]string, len(ignitables))
	for i := range ignitables {
		names[i] = ignitables[i].Name
	}
	flag := func(b bool) float64 {
		if b {
			return 1
		}
		return 0
	}
	substance := compute.Arg{Name: "substance", Unit: "1", Low: 0, High: float64(len(names) - 1), Choices: names}
	floorNames := make([]string, len(floors()))
	for i, f := range floors() {
		floorNames[i] = f.Name
	}
	thresholds := []struct {
		name string
		t    ShockThreshold
	}{{"felt", FeltThreshold()}, {"pain, women", PainThreshold(Women)}, {"pain, men", PainThreshold(Men)},
		{"fright, women", FrightThreshold(Women)}, {"fright, men", FrightThreshold(Men)}}
	kinds := make([]string, len(thresholds))
	for i := range thresholds {
		kinds[i] = thresholds[i].name
	}
	return []compute.Entry{
		{Name: "charge.Ignitable", Doc: "least ignition energies and minimum igniting charge held of a substance, from a table; mixture 0: not stated",
			Args: []compute.Arg{substance},
			Results: []compute.Arg{result("mie", "J"), result("mie_high", "J"), result("mie_judged", "J"), result("mixture", "1"),
				result("charge", "C"), result("held", "1")},
			Covers: []string{"FindIgnitable", "Ignitables", "Ignitable.LowEnd", "Ignitable.LeastCharge"}, Source: bgrCharge,
			Eval: func(r, a []float64) error {
				g := &ignitables[int(a[0])]
				low, _ := g.LowEnd()
				q, held := g.LeastCharge()
				r[0], r[1], r[2], r[3], r[4], r[5] = float64(g.MIE), float64(g.High), float64(low), g.Mixture, float64(q), flag(held)
				return nil
			}},
		{Name: "charge.ShockThreshold", Doc: "share of people that a spark from a body makes feel it, hurt or start",
			Args: []compute.Arg{{Name: "kind", Unit: "1", Low: 0, High: float64(len(kinds) - 1), Choices: kinds},
				fieldArg("capacitance", "F", "of the body", 1e-15, 1e-6), fieldArg("voltage", "V", "of the body", -1e6, 1e6)},
			Results: []compute.Arg{result("share", "1")},
			Covers:  []string{"FeltThreshold", "PainThreshold", "FrightThreshold", "ShockThreshold.Share"}, Source: PainThreshold(Women).Source,
			Eval: func(r, a []float64) error {
				r[0] = thresholds[int(a[0])].t.Share(units.Energy(0.5 * a[1] * a[2] * a[2]))
				return nil
			}},
		{Name: "charge.Floor", Doc: "range of the leakage resistance of a floor, from a table; low 0: printed as far below high",
			Args:    []compute.Arg{{Name: "floor", Unit: "1", Low: 0, High: float64(len(floorNames) - 1), Choices: floorNames}},
			Results: []compute.Arg{result("low", "Ω"), result("high", "Ω")}, Covers: []string{"FindFloor", "Floors"}, Source: floors()[0].Source,
			Eval: func(r, a []float64) error {
				f := &floors()[int(a[0])]
				r[0], r[1] = float64(f.Low), float64(f.High)
				return nil
			}},
		{Name: "charge.Transfer", Doc: "charge moved by one discharge from an insulating surface against the minimum igniting charge of a substance",
			Args:    []compute.Arg{fieldArg("charge", "C", "moved by one discharge", -1, 1), substance},
			Results: []compute.Arg{result("least", "C"), result("held", "1"), result("ratio", "1"), result("reaches", "1")},
			Covers:  []string{"Transfer", "Ignitable.LeastCharge"}, Source: bgrCharge,
			Eval: func(r, a []float64) error {
				f := Transfer(units.Charge(a[0]), ignitables[int(a[1])])
				r[0], r[1], r[2], r[3] = float64(f.Least), flag(!f.StandIn), f.Ratio, flag(f.Reaches)
				return nil
			}},
		{Name: "charge.AreaHolding", Doc: "area of an insulating surface whose whole charge is the given one, q/|σ|",
			Args:    []compute.Arg{fieldArg("charge", "C", "", 0, 1), fieldArg("density", "C/m²", "net", -1, 1)},
			Results: []compute.Arg{result("area", "m²")}, Covers: []string{"AreaHolding"}, Source: definition,
			Eval: func(r, a []float64) error {
				r[0] = float64(AreaHolding(units.Charge(a[0]), units.SurfaceChargeDensity(a[1])))
				return nil
			}},
		{Name: "charge.VoltageOf", Doc: "voltage of a charge on a capacitance, Q/C",
			Args:    []compute.Arg{fieldArg("charge", "C", "", -1, 1), fieldArg("capacitance", "F", "", 1e-21, 1)},
			Results: []compute.Arg{result("voltage", "V")}, Covers: []string{"VoltageOf"}, Source: definition,
			Eval: func(r, a []float64) error {
				r[0] = float64(VoltageOf(units.Charge(a[0]), units.Capacitance(a[1])))
				return nil
			}},
	}
}

var bgrCharge = known.Source{Provenance: known.Published,
	Cite: "BGR 132:2003, Vermeidung von Zündgefahren infolge elektrostatischer Aufladungen, section G, Table 14", Note: "minimum igniting charges"}
