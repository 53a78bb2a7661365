package charge

import (
	"embed"
	"strings"

	"example.org/pithball/internal/table"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The tables that the package ships. Each row has its source, its provenance,
// the condition it was measured under and a note on the licence of the work.
//
//go:embed data/*.json
var dataFiles embed.FS

// SeriesEntry is one row of the triboelectric series: the charge density that a
// film takes against a common partner. It serves order, sign and relative
// strength; it is no charge on a web.
type SeriesEntry struct {
	Name    string                     `json:"name"`    // material
	Density units.SurfaceChargeDensity `json:"density"` // against mercury, negative: the film gains electrons
	Spread  units.SurfaceChargeDensity `json:"spread"`  // standard deviation within the laboratory
	known.Origin
}

// WorkFunction is one row of one author's set of work functions.
type WorkFunction struct {
	Set  string     `json:"set"`  // author; entries of different sets are never combined
	Name string     `json:"name"` // element symbol or polymer
	Phi  known.Band `json:"phi"`  // [eV] energy to remove an electron
	known.Origin
}

// PowderOperation is the range of the charge per mass that an operation gives a
// powder of medium resistivity. One that insulates can carry more: polypropylene
// pellets that fell into a silo had 0.7 µC/kg, seven times the high end of pouring
// (K. Choi et al. 2018, quoted from an abstract).
type PowderOperation struct {
	Name string              `json:"name"` // operation
	Low  units.ChargePerMass `json:"low"`  // magnitude
	High units.ChargePerMass `json:"high"` // magnitude
	known.Origin
}

// LiquidData is one row of the table of liquids.
type LiquidData struct {
	Name         string             `json:"name"`         // of the liquid
	Conductivity units.Conductivity `json:"conductivity"` // as in Condition, 0 where none is held
	AtMost       bool               `json:"at_most"`      // Conductivity is an upper bound: charge may stay far longer
	Permittivity float64            `json:"permittivity"` // [1] relative, 0 where none is held
	// PermittivitySource is where the permittivity was found; Source is that of the
	// conductivity, or of the permittivity where only that is held.
	PermittivitySource known.Source `json:"permittivity_source"`
	known.Origin
}

var (
	seriesTable = table.File[SeriesEntry]{Files: &dataFiles, Name: "series.json"}
	phiTable    = table.File[WorkFunction]{Files: &dataFiles, Name: "workfunction.json"}
	powderTable = table.File[PowderOperation]{Files: &dataFiles, Name: "powder.json"}
	liquidTable = table.File[LiquidData]{Files: &dataFiles, Name: "liquid.json"}
)

// Series returns the entries of the triboelectric series whose provenance is
// weight or better: [known.Quoted] gives the seven that were seen quoted,
// none was read in the paper itself. Source: H. Zou et al., Quantifying the
// triboelectric series, Nat. Commun. 10 (2019) 1427.
func Series(weight known.Provenance) []SeriesEntry {
	return table.Heavy(seriesTable.Rows(), func(e *SeriesEntry) *known.Origin { return &e.Origin }, weight)
}

// FindSeries returns one entry of the series by name, letter case aside. An
// entry that rests on less than weight is refused.
func FindSeries(name string, weight known.Provenance) (SeriesEntry, error) {
	return table.Find("series_entry", seriesTable.Rows(), func(e *SeriesEntry) (string, *known.Origin) {
		return e.Name, &e.Origin
	}, name, weight)
}

// WorkFunctions returns the work functions whose provenance is weight or better.
// Sets: "Rivière" (metals, published), "CRC 2008" (metals, quoted) and "Davies
// 1969" (polymers, memory).
func WorkFunctions(weight known.Provenance) []WorkFunction {
	return table.Heavy(phiTable.Rows(), func(e *WorkFunction) *known.Origin { return &e.Origin }, weight)
}

// FindWorkFunction returns one entry of one author's set; see [FindSeries] for
// weight.
func FindWorkFunction(set, name string, weight known.Provenance) (WorkFunction, error) {
	var of []WorkFunction
	var sets []string
	for _, e := range phiTable.Rows() {
		if strings.EqualFold(e.Set, set) {
			of = append(of, e)
		}
		if len(sets) == 0 || sets[len(sets)-1] != e.Set {
			sets = append(sets, e.Set)
		}
	}
	if len(of) == 0 {
		return WorkFunction{}, known.Wrong("work_function_set", set, "one of "+strings.Join(sets, ", "))
	}
	return table.Find("work_function", of, func(e *WorkFunction) (string, *known.Origin) {
		return e.Name, &e.Origin
	}, name, weight)
}

// PowderOperations returns the ranges of charge per mass by operation.
func PowderOperations() []PowderOperation {
	return append([]PowderOperation(nil), powderTable.Rows()...)
}

// FindPowderOperation returns the range of one operation.
func FindPowderOperation(name string) (PowderOperation, error) {
	return table.Find("powder_operation", powderTable.Rows(), func(e *PowderOperation) (string, *known.Origin) {
		return e.Name, &e.Origin
	}, name, known.Quoted)
}

// Liquids returns the table of liquids. Conductivities are of one sample each, the
// hydrocarbons' and halogenated ones upper bounds; those found of benzene, pentane,
// nonane and kerosene (1e-8 to 1e-5 S/m) contradict the kind of liquid by decades,
// on the side that lets charge vanish, and are left out.
func Liquids() []LiquidData { return append([]LiquidData(nil), liquidTable.Rows()...) }

// FindLiquid returns one liquid.
func FindLiquid(name string) (LiquidData, error) {
	return table.Find("liquid", liquidTable.Rows(), func(e *LiquidData) (string, *known.Origin) {
		return e.Name, &e.Origin
	}, name, known.Memory)
}
