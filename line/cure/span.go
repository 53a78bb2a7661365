package cure

import (
	"context"
	"math"

	"example.org/pithball/charge/field"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// SpanFactor returns the share of the far-away field that a wide earthed face at the
// given distance sees of a web between two metal rollers behind it, at x past the
// first: the product of the two single-roller factors, within 2.5 % of a
// two-dimensional boundary-element solution. A radius of 0 is no roller. NaN for x
// outside 0 … span. [1]
func SpanFactor(first, second units.Length, span, x, distance units.Length) float64 {
	if !(x >= 0 && x <= span) {
		return math.NaN()
	}
	f := 1.0
	if first > 0 {
		f *= field.RollerFieldFactor(first, x, distance)
	}
	if second > 0 {
		f *= field.RollerFieldFactor(second, span-x, distance)
	}
	return f
}

// flat is the share of the best factor down to which a place is as good as the best.
const flat = 0.95

// BarSpot is the best place in a span.
type BarSpot struct {
	At       units.Length // of the greatest factor, along the web path or past the first roller
	From, To units.Length // between which the factor is 95 % of the greatest or more
	Factor   float64      // [1] greatest factor
}

// BestSpot returns the best place for a bar at the distance from a web between two
// rollers behind it, to a two-thousandth of the span: radii as in [SpanFactor],
// lengths past the first roller.
func BestSpot(first, second units.Length, span, distance units.Length) (BarSpot, error) {
	return BestSpotContext(context.Background(), first, second, span, distance)
}

// BestSpotContext is [BestSpot] that ends with ctx; its error is then that of ctx. Thin rollers in a long span take up
// to 0.4 s of a processor.
func BestSpotContext(ctx context.Context, first, second units.Length, span, distance units.Length) (BarSpot, error) {
	if err := known.InRange("span", span, units.Millimetre, 100*units.Metre); err != nil {
		return BarSpot{}, err
	}
	if err := known.InRange("distance", distance, units.Millimetre, 5*units.Metre); err != nil {
		return BarSpot{}, err
	}
	const parts = 2000
	f := make([]float64, parts+1)
	var s BarSpot
	for i := range f {
		if err := ctx.Err(); err != nil {
			return BarSpot{}, err
		}
		x := units.Length(float64(span) * float64(i) / parts)
		f[i] = SpanFactor(first, second, span, x, distance)
		if f[i] > s.Factor {
			s.At, s.Factor = x, f[i]
		}
	}
	lo, hi := -1, -1
	for i := range f {
		if f[i] >= flat*s.Factor {
			if lo < 0 {
				lo = i
			}
			hi = i
		}
	}
	s.From, s.To = units.Length(float64(span)*float64(lo)/parts), units.Length(float64(span)*float64(hi)/parts)
	return s, nil
}

// BestPlace returns the best place for a bar at the distance, in the span behind a
// station: positions along the web path.
func (m *Calibrated) BestPlace(after string, distance units.Length) (BarSpot, error) {
	s, err := m.atStation(after)
	if err != nil {
		return BarSpot{}, err
	}
	first, second, from, to := m.span(m.desc.Stations[s].At, true)
	spot, err := BestSpot(first, second, to-from, distance)
	spot.At, spot.From, spot.To = spot.At+from, spot.From+from, spot.To+from
	return spot, err
}

// span is the span that holds a position: the radii of the rollers at its ends, 0
// without one, and where they stand. A position on a roller is in the span behind
// it if behind is set, else before it.
func (m *Calibrated) span(at units.Length, behind bool) (first, second, from, to units.Length) {
	to = m.desc.Stations[len(m.desc.Stations)-1].At
	for i := range m.desc.Stations {
		s := &m.desc.Stations[i]
		if s.Roller == nil && s.Kind != line.Unwind && s.Kind != line.Winder {
			continue
		}
		var r units.Length
		if s.Roller != nil {
			r = s.Roller.Radius
		}
		if s.At < at || behind && s.At == at {
			first, from = r, s.At
		} else {
			second, to = r, s.At
			break
		}
	}
	return first, second, from, to
}

// factorAt is the field factor of a bar at a position: the two rollers of its span
// and the metal behind the web at a gap, if there is any.
func (m *Calibrated) factorAt(at, distance, gap units.Length) float64 { // [1]
	first, second, from, to := m.span(at, true)
	f := SpanFactor(first, second, to-from, at-from, distance)
	if gap > 0 {
		f *= field.FieldFactor(distance, gap)
	}
	return f
}
