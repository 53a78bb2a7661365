package ionflow

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

var errColumns = errors.New("ionflow: columns of different length")

// ActTo writes the deposit of [Neutraliser.Act] for each net charge density into dst, for a
// web that is charged unevenly across its width or in time. Rows that are not finite become NaN and
// are listed in the one [*known.FieldError] that is returned; the other rows are good. A
// speed or factor outside its range and columns of different length are errors, and dst stays as it
// was. It allocates nothing unless something is wrong.
func (n Neutraliser) ActTo(dst, net []units.SurfaceChargeDensity, v units.Speed, factor float64) error { // factor [1]
	if len(net) != len(dst) {
		return errColumns
	}
	if !(v >= 0) || !(factor >= 0 && factor <= math.MaxFloat64) {
		return errors.Join(known.InRange("speed", v, 0, math.MaxFloat64), known.NotNegative("factor", factor))
	}
	bad, first := 0, [8]int{}
	for i := range dst {
		d, r := n.Act(net[i], v, factor)
		if r == Undefined {
			if bad < len(first) {
				first[bad] = i
			}
			bad++
		}
		dst[i] = d
	}
	if bad == 0 {
		return nil
	}
	list := first // a copy, so that first stays on the stack
	rows := strings.Trim(fmt.Sprint(list[:min(bad, len(list))]), "[]")
	if bad > len(list) {
		rows += fmt.Sprintf(" … (%d in all)", bad)
	}
	return known.Wrong("net", "rows "+rows, "finite charge densities")
}
