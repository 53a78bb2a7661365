package charge

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"strings"
	"sync"

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

// SparkingMinimum is the least breakdown voltage of a gas.
type SparkingMinimum struct {
	Name    string        `json:"name"`    // "air" or the formula of the gas
	Voltage units.Voltage `json:"voltage"` // least breakdown voltage
	PD      float64       `json:"pd"`      // [Pa·m] pressure times gap at which it is met
	known.Origin
}

// PowderOperation is the range of the charge per mass that an operation gives a
// powder.
type PowderOperation struct {
	Name string              `json:"name"` // operation
	Low  units.ChargePerMass `json:"low"`  // magnitude
	High units.ChargePerMass `json:"high"` // magnitude
	known.Origin
}

// Liquid is one row of the table of liquids.
type Liquid struct {
	Name         string             `json:"name"`         // of the liquid
	Conductivity units.Conductivity `json:"conductivity"` // at room temperature
	Permittivity float64            `json:"permittivity"` // [1] relative
	known.Origin
}

func table[T any](name string) func() []T {
	return sync.OnceValue(func() []T {
		rows, err := decode[T](name)
		if err != nil { // a file of the package itself; its test reads every one
			panic("charge: " + err.Error())
		}
		return rows
	})
}

func decode[T any](name string) ([]T, error) {
	b, err := dataFiles.ReadFile("data/" + name)
	if err != nil {
		return nil, err
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	var rows []T
	if err := d.Decode(&rows); err != nil {
		return nil, fmt.Errorf("data/%s: %w", name, err)
	}
	return rows, nil
}

var (
	seriesTable   = table[SeriesEntry]("series.json")
	phiTable      = table[WorkFunction]("workfunction.json")
	sparkingTable = table[SparkingMinimum]("sparking.json")
	powderTable   = table[PowderOperation]("powder.json")
	liquidTable   = table[Liquid]("liquid.json")
)

// rows returns a copy of the rows of a table that weigh at least as much as
// weight.
func heavy[T any](all []T, origin func(*T) *known.Origin, weight known.Provenance) []T {
	var out []T
	for i := range all {
		if origin(&all[i]).Source.Provenance <= weight {
			out = append(out, all[i])
		}
	}
	return out
}

// find returns the row with that name, letter case aside. A row that weighs
// less than weight is refused with an error that says so.
func find[T any](what string, all []T, key func(*T) (name string, o *known.Origin), name string, weight known.Provenance) (T, error) {
	var zero T
	var names []string
	for i := range all {
		n, o := key(&all[i])
		if strings.EqualFold(n, name) {
			if p := o.Source.Provenance; p > weight {
				return zero, known.Wrong(what, name, fmt.Sprintf("an entry of provenance %v or better; this one is %v and must be asked for as such", weight, p))
			}
			return all[i], nil
		}
		if o.Source.Provenance <= weight {
			names = append(names, n)
		}
	}
	return zero, known.Wrong(what, name, "one of "+strings.Join(names, ", "))
}

// Series returns the entries of the triboelectric series whose provenance is
// weight or better: [known.Published] leaves the seven that were read,
// [known.Memory] gives all. Source: H. Zou et al., Nat. Commun. 10 (2019) 1427.
func Series(weight known.Provenance) []SeriesEntry {
	return heavy(seriesTable(), func(e *SeriesEntry) *known.Origin { return &e.Origin }, weight)
}

// FindSeries returns one entry of the series by name, letter case aside. An
// entry that rests on less than weight is refused: with [known.Memory] the caller
// asks for recalled values by name.
func FindSeries(name string, weight known.Provenance) (SeriesEntry, error) {
	return find("series entry", seriesTable(), func(e *SeriesEntry) (string, *known.Origin) { return e.Name, &e.Origin }, name, weight)
}

// WorkFunctions returns the work functions whose provenance is weight or better.
// Sets: "CRC 2008" and "Rivière" (metals, read), "Michaelson 1977" (metals),
// "Davies 1969" and "Strella" (polymers), all three from memory.
func WorkFunctions(weight known.Provenance) []WorkFunction {
	return heavy(phiTable(), func(e *WorkFunction) *known.Origin { return &e.Origin }, weight)
}

// FindWorkFunction returns one entry of one author's set; see [FindSeries] for
// weight.
func FindWorkFunction(set, name string, weight known.Provenance) (WorkFunction, error) {
	var of []WorkFunction
	var sets []string
	for _, e := range phiTable() {
		if strings.EqualFold(e.Set, set) {
			of = append(of, e)
		}
		if len(sets) == 0 || sets[len(sets)-1] != e.Set {
			sets = append(sets, e.Set)
		}
	}
	if len(of) == 0 {
		return WorkFunction{}, known.Wrong("work function set", set, "one of "+strings.Join(sets, ", "))
	}
	return find("work function", of, func(e *WorkFunction) (string, *known.Origin) { return e.Name, &e.Origin }, name, weight)
}

// FindSparkingMinimum returns the least breakdown voltage of a gas; see
// [FindSeries] for weight.
func FindSparkingMinimum(gas string, weight known.Provenance) (SparkingMinimum, error) {
	return find("gas", sparkingTable(), func(e *SparkingMinimum) (string, *known.Origin) { return e.Name, &e.Origin }, gas, weight)
}

// PowderOperations returns the ranges of charge per mass by operation.
func PowderOperations() []PowderOperation { return append([]PowderOperation(nil), powderTable()...) }

// FindPowderOperation returns the range of one operation.
func FindPowderOperation(name string) (PowderOperation, error) {
	return find("powder operation", powderTable(), func(e *PowderOperation) (string, *known.Origin) { return e.Name, &e.Origin }, name, known.Published)
}

// Liquids returns the table of liquids.
func Liquids() []Liquid { return append([]Liquid(nil), liquidTable()...) }

// FindLiquid returns one liquid.
func FindLiquid(name string) (Liquid, error) {
	return find("liquid", liquidTable(), func(e *Liquid) (string, *known.Origin) { return e.Name, &e.Origin }, name, known.Published)
}
