package field

import (
	"errors"
	"strconv"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ProfileField returns the field at the place x of an earthed plane before a web
// whose net charge density changes across its width: density[i] between edges[i]
// and edges[i+1], all long strips at the distance d with earthed metal at the gap
// h behind. It is the sum of the strips by [EdgeFactor]. Lanes of opposite sign
// cancel at a distance that is large against their width, so a display of 0 can
// hide them.
//
// Errors are [*known.FieldError]s: edges that are not one more than the
// densities, or do not rise; a value that is not finite; a negative distance or
// gap.
func ProfileField(x units.Length, edges []units.Length, density []units.SurfaceChargeDensity,
	distance, gap units.Length) (units.ElectricField, error) {
	if len(density) == 0 || len(edges) != len(density)+1 {
		return 0, known.Wrong("edges", len(edges), "one more than the "+strconv.Itoa(len(density))+" densities, at least 2")
	}
	if err := errors.Join(known.Finite("x", x), known.NotNegative("distance", distance)); err != nil {
		return 0, err
	}
	if !(gap >= 0) { // +Inf: no metal behind
		return 0, known.Wrong("gap", gap, "0 or more")
	}
	var sum float64 // [C/m²] density that a wide web would need for this field without metal behind
	for i := range edges {
		if err := known.Finite("edges["+strconv.Itoa(i)+"]", edges[i]); err != nil {
			return 0, err
		}
		if i == 0 {
			continue
		}
		if !(edges[i] > edges[i-1]) {
			return 0, known.Wrong("edges["+strconv.Itoa(i)+"]", edges[i], "more than "+edges[i-1].String())
		}
		if err := known.Finite("density["+strconv.Itoa(i-1)+"]", density[i-1]); err != nil {
			return 0, err
		}
		sum += float64(density[i-1]) * (EdgeFactor(x-edges[i-1], distance, gap) - EdgeFactor(x-edges[i], distance, gap))
	}
	return units.ElectricField(sum / units.Epsilon0), nil
}
