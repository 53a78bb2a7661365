package field

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// badRows collects the rows of a column that are NaN in the result.
type badRows struct {
	n     int
	first [8]int
}

func (b *badRows) add(i int) {
	if b.n < len(b.first) {
		b.first[b.n] = i
	}
	b.n++
}

func (b *badRows) err(field, want string) error {
	if b.n == 0 {
		return nil
	}
	first := b.first // a copy, so that b stays on the stack
	rows := strings.Trim(fmt.Sprint(first[:min(b.n, len(first))]), "[]")
	if b.n > len(b.first) {
		rows += fmt.Sprintf(" … (%d in all)", b.n)
	}
	return known.Wrong(field, "rows "+rows, want)
}

var errColumns = errors.New("charge: columns of different length")

// DisplayTo writes the display for each row into dst: [FieldMeter.Display] of
// net, distance and gap. Rows that have no display (NaN, a negative distance or
// gap) become NaN and are listed in the one [*known.FieldError] that is
// returned; the other rows are good. Columns of different length are an error and
// dst stays as it was. It allocates nothing unless a row is bad.
func (m FieldMeter) DisplayTo(dst []units.DisplayVoltage, net []units.SurfaceChargeDensity,
	distance, gap []units.Length) error {
	if len(net) != len(dst) || len(distance) != len(dst) || len(gap) != len(dst) {
		return errColumns
	}
	var bad badRows
	for i := range dst {
		v := m.Display(net[i], distance[i], gap[i])
		if math.IsNaN(float64(v)) {
			bad.add(i)
		}
		dst[i] = v
	}
	return bad.err("net, distance, gap", "finite charge densities; distances and gaps of 0 or more, not both 0")
}

// NetTo writes the net charge density that each display stands for into dst:
// [FieldMeter.Net] of shown, distance and gap, with bad rows (also a web that
// touches metal, gap 0) as NaN and listed as by DisplayTo.
func (m FieldMeter) NetTo(dst []units.SurfaceChargeDensity, shown []units.DisplayVoltage,
	distance, gap []units.Length) error {
	if len(shown) != len(dst) || len(distance) != len(dst) || len(gap) != len(dst) {
		return errColumns
	}
	var bad badRows
	for i := range dst {
		s := m.Net(shown[i], distance[i], gap[i])
		if math.IsNaN(float64(s)) || math.IsInf(float64(s), 0) {
			s = units.SurfaceChargeDensity(math.NaN())
			bad.add(i)
		}
		dst[i] = s
	}
	return bad.err("shown, distance, gap", "finite displays; distances of 0 or more, gaps above 0")
}
