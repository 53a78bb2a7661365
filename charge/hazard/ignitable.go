package hazard

import (
	"embed"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/internal/table"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The tables of what ignites. Each row has its source, its provenance, the
// mixture or fineness it belongs to and a note on the licence of the work.
//
//go:embed data/vapour.json data/dust.json data/floor.json
var dataFiles embed.FS

// Ignitable is a gas, vapour or dust with the range of its least ignition energy.
// Everything is judged by the low end ([Ignitable.LowEnd]): tables differ, and a
// mixture or a fineness that ignites more easily than the one in hand is rarely
// excluded.
type Ignitable struct {
	Name    string       `json:"name"`    // lower case
	Group   GasGroup     `json:"group"`   // gas group, [NoGroup] for a dust and where it is not held
	MIE     units.Energy `json:"mie"`     // least of the least ignition energies held
	High    units.Energy `json:"high"`    // the greatest one held, MIE where there is one only
	Below   bool         `json:"below"`   // the source says "below MIE": no low end is known
	Mixture float64      `json:"mixture"` // [1] share by volume of the fuel that MIE belongs to, 0 where it is not stated
	Charge  units.Charge `json:"charge"`  // minimum igniting charge of the same mixture, 0 where none is held
	Dust    bool         `json:"dust"`    // a dust cloud; the value depends strongly on the fineness
	known.Origin
}

var (
	vapours = table.File[Ignitable]{Files: &dataFiles, Name: "vapour.json"}
	dusts   = table.File[Ignitable]{Files: &dataFiles, Name: "dust.json"}
	burning = lazy.Value[[]Ignitable]{Make: func() []Ignitable { return slices.Concat(vapours.Rows(), dusts.Rows()) }}
)

// Ignitables returns the table of least ignition energies, gases and vapours
// first, then dusts; the rows are a copy. Toluene, xylene, isopropanol, vinyl
// acetate and many others are not in it, because no value of theirs was found in
// a text that could be read.
func Ignitables() []Ignitable { return append([]Ignitable(nil), burning.Get()...) }

// FindIgnitable returns the row of that name, letter case aside, or a
// [*known.FieldError] that lists the names. A substance that is not held clears
// nothing: its value has to be looked up or measured.
func FindIgnitable(name string) (Ignitable, error) {
	all := burning.Get()
	names := make([]string, len(all))
	for i := range all {
		if strings.EqualFold(all[i].Name, name) {
			return all[i], nil
		}
		names[i] = all[i].Name
	}
	return Ignitable{}, known.Wrong("ignitable", name,
		"a substance that is held (for any other look its value up or have it measured): one of "+strings.Join(names, ", "))
}

// dustDivisor is the margin for a dust whose fineness the source does not state.
// Of the dusts that are held from more than one source the values differ by 1.7
// (coal, wheat flour up to 2.5), 2 (magnesium), 10 (sugar) and more than 15
// (aluminium); fine fractions lie at the low end. Ten is a judgement.
const dustDivisor = 10

// LowEnd returns the energy to judge by, and whether the substance is known to
// need as much: the least value held for a gas or vapour, a tenth of it for a
// dust, whose fineness no source here states. Where the source says "below" only
// it returns that bound and false.
func (in Ignitable) LowEnd() (w units.Energy, floor bool) {
	switch {
	case in.Below:
		return in.MIE, false
	case in.Dust:
		return in.MIE / dustDivisor, true
	}
	return in.MIE, true
}

// SparkFinding compares the energy of a conductor with a least ignition energy.
type SparkFinding struct {
	Energy  units.Energy // ½·C·V²
	Ratio   float64      // [1] energy over the low end ([Ignitable.LowEnd])
	AtLeast bool         // Ratio is a lower bound: the source says "below" only
	Reaches bool         // Ratio is 1 or more, or not known, or AtLeast and there is energy: nothing excludes it
}

// Spark compares the energy of the conductor at the voltage v with the low end of
// the least ignition energies of a substance. Whatever the ratio, an isolated
// conductor is a finding ([NoticeIsolatedConductor]): a least ignition energy is
// the mean of a test with one mixture or one fineness, and voltage and
// capacitance can be higher than they were found. A voltage that nobody measured, NaN,
// gives NaN and reaches: not measured is not below. The zero Ignitable is reached by
// everything.
func (c Conductor) Spark(v units.Voltage, in Ignitable) SparkFinding {
	w := c.Energy(v)
	low, floor := in.LowEnd()
	r := float64(w) / float64(low)
	return SparkFinding{Energy: w, Ratio: r, AtLeast: !floor, Reaches: !(r < 1) || !floor && r > 0}
}

// Notice returns the notice for a spark, with energy and ratio as its figure.
func (f SparkFinding) Notice() known.Notice {
	if math.IsNaN(f.Ratio) {
		return NoticeIsolatedConductor.Notice("energy not known")
	}
	more := ""
	if f.AtLeast {
		more = "more than "
	}
	return NoticeIsolatedConductor.Notice(fmt.Sprintf("%s mJ, %s%s times the least ignition energy (low end)",
		short(1e3*float64(f.Energy)), more, short(f.Ratio)))
}
