package decay

import (
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// The ranges below are those of the registry: wide enough for any material, so
// that every number inside is a finite result.
func argTime(name, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: "s", Doc: doc, Low: 1e-15, High: 1e15}
}

func argAge(name, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: "s", Doc: doc, Low: 0, High: 1e15}
}

func argFraction() compute.Arg {
	return compute.Arg{Name: "fraction", Unit: "1", Doc: "of the start value", Low: 1e-300, High: 1}
}

func argRho(name string) compute.Arg {
	return compute.Arg{Name: name, Unit: "Ω·m", Doc: "volume resistivity", Low: 1e-9, High: 1e24}
}

func argEps(name string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", Doc: "relative permittivity", Low: 1, High: 1e4}
}

func argLength(name, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: "m", Doc: doc, Low: 1e-9, High: 1e4}
}

func argVolts(name, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: "V", Doc: doc, Low: 1e-9, High: 1e9}
}

func resTime(name, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: "s", Doc: doc, Low: 0, High: 1e308}
}

func resRatio(name, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", Doc: doc, Low: -1e308, High: 1e308}
}

// derived is the source of a law that follows from Maxwell's equations alone.
func derived(how string) known.Source {
	return known.Source{Provenance: known.Computed, Cite: how}
}

// one is 1 for true.
func one(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func lawsComputations() []compute.Entry {
	return slices.Concat(bulkEntries(), lawEntries(), layerEntries(), liquidEntries(), methodEntries(), fitEntries())
}

func bulkEntries() []compute.Entry {
	return []compute.Entry{
		{
			Name: "decay.RelaxationTime", Doc: "Bulk relaxation time τ = ε0·εr·ρ.",
			Args:    []compute.Arg{argRho("rho"), argEps("epsr")},
			Results: []compute.Arg{resTime("tau", "relaxation time")},
			Covers:  []string{"RelaxationTime", "Layer.Tau"},
			Source:  derived("charge conservation with J = E/ρ and div D = q"),
			Eval: func(dst, a []float64) error {
				dst[0] = float64(RelaxationTime(units.VolumeResistivity(a[0]), a[1]))
				return nil
			},
		},
		{
			Name: "decay.LossAlong", Doc: "Charge left after a dwell along a named path, σ·e^(−t/τ); unchanged without a path.",
			Args: []compute.Arg{{Name: "sigma", Unit: "C/m²", Doc: "charge density before", Low: -1, High: 1},
				argAge("dwell", "time on the path"), argAge("tau", "relaxation time of the arrangement"),
				{Name: "path", Unit: "1", Doc: "how charge reaches earth", Low: 0, High: float64(len(pathNames) - 1), Choices: pathNames[:]}},
			Results: []compute.Arg{{Name: "sigma", Unit: "C/m²", Doc: "charge density after", Low: -1, High: 1}, {Name: "leads", Unit: "1", Doc: "1 if the path leads to earth", Low: 0, High: 1}},
			Covers:  []string{"LossAlong", "Path.Leads"},
			Source:  derived("solution of dσ/dt = −σ/τ"),
			Eval: func(dst, a []float64) error {
				dst[0] = float64(LossAlong(units.SurfaceChargeDensity(a[0]), units.Time(a[1]), units.Time(a[2]), Path(a[3])))
				dst[1] = one(Path(a[3]).Leads())
				return nil
			},
		},
		{
			Name: "decay.AirRelaxationTime", Doc: "Discharge of an isolated body by air ions of one sign, τ = ε0/(n·µ·e).",
			Args: []compute.Arg{{Name: "n", Unit: "1/m³", Doc: "ions of the other sign", Low: 1, High: 1e20},
				{Name: "mobility", Unit: "m²/(V·s)", Doc: "ion mobility", Low: 1e-10, High: 1}},
			Results: []compute.Arg{resTime("tau", "relaxation time")},
			Covers:  []string{"AirRelaxationTime"},
			Source:  derived("charge conservation over the body with J = n·µ·e·E"),
			Eval: func(dst, a []float64) error {
				dst[0] = float64(AirRelaxationTime(units.NumberDensity(a[0]), units.Mobility(a[1])))
				return nil
			},
		},
		{
			Name: "decay.GroundResistance", Doc: "Greatest resistance to earth for a voltage limit, R = V/I.",
			Args:    []compute.Arg{argVolts("limit", "voltage limit"), {Name: "current", Unit: "A", Doc: "charging current", Low: 1e-15, High: 1}},
			Results: []compute.Arg{{Name: "resistance", Unit: "Ω", Doc: "greatest resistance", Low: 0, High: 1e308}},
			Covers:  []string{"GroundResistance"},
			Source:  derived("Ohm's law"),
			Eval: func(dst, a []float64) error {
				dst[0] = float64(GroundResistance(units.Voltage(a[0]), units.Current(a[1])))
				return nil
			},
		},
	}
}
