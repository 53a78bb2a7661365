package ioniser

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// curveNodes is the number of currents of a blown curve: four fifths logarithmic from a thousand-millionth to
// nine tenths of the emission, the rest approaching it. Against 360 the residual of a pass is within 3 % in nine of ten
// draws and within −20 … +10 % in all (TestFiguresOfNodes).
const curveNodes, curveLow = 48, 38

// shareAt returns the share of the emission that the node k of a curve delivers, and what is missing to 1.
func shareAt(k int) (r, less float64) { // [1]
	if k < curveLow {
		r = 1e-9 * numeric.Pow(0.9e9, float64(k)/(curveLow-1))
		return r, 1 - r
	}
	less = 0.1 * numeric.Pow(1e-7, float64(k-curveLow)/(curveNodes-1-curveLow))
	return 1 - less, less
}

// blow appends the curve of a blown stream: what it delivers to a web before which it turns, or through which
// it passes, from the march at each current of the column. sign is 1 for a web that calls the counter-ions as a
// positive one, −1 for a negative one. estimated says that the contact length is this package's own estimate.
func (c *column) blow(dst []point, m *mouth, q *carriers, sign float64, through, estimated bool) []point {
	if m.counter == 0 {
		return dst
	}
	for _, r := range shares {
		i := r * m.counter
		a := c.march(m, q, i)
		p := point{field: sign * a.field, voltage: sign * a.voltage, peak: max(math.Abs(a.field), math.Abs(a.first))}
		carried, got := a.like, 1.0
		if through {
			p.current = units.ElementaryCharge * i
			if c.ud > 0 {
				got = min(q.counter*a.field/c.ud, 1)
			}
		} else {
			p.current, carried, got = c.turned(q, i, &a)
		}
		switch {
		case got < 0.5 && carried > 1e-3*i:
			p.regime, p.soft = ionflow.ConductivityLimited, estimated && !through
		case carried > i || r > 0.5:
			p.regime = ionflow.SupplyLimited
		case got < 0.5:
			p.regime, p.soft = ionflow.ConductivityLimited, estimated && !through
		default:
			p.regime, p.soft = ionflow.DriftLimited, !through // by the breadth over which the field spreads
		}
		dst = append(dst, p)
	}
	return dst
}

// draw appends the curve of the same mouth without air: counter-ions alone, drawn against their own space
// charge across the distance, and against the return to the bar at the mouth. With ions in abundance it is
//
//	I = B·ε0·μ·F²/(2d),  V = ⅔·F·d
//
// the space-charge limit with the field F at the web.
func draw(dst []point, m *mouth, mu, d, wide, sign float64) []point {
	if m.counter == 0 {
		return dst
	}
	for k := range curveNodes {
		r, less := shareAt(k)
		i := units.ElementaryCharge * r * m.counter
		w := m.back * r / less / mu
		w2 := math.Sqrt(w*w + 2*i*d/(units.Epsilon0*wide*mu))
		p := point{current: i, field: sign * w2, voltage: sign * 2. / 3 * d * (w2*w2 + w2*w + w*w) / (w2 + w),
			peak: w2, regime: ionflow.DriftLimited, soft: true}
		if r > 0.5 {
			p.regime = ionflow.SupplyLimited
		}
		dst = append(dst, p)
	}
	return dst
}

// pull appends the curve of a row of points from its potential of rest on, to either side.
func (r *row) pull(dst []point, from, sign float64, soft bool) []point {
	for k := range curvePoints {
		phi := from + sign*numeric.Pow(3e6, float64(k)/(curvePoints-1))
		p := point{current: sign * r.current(phi), field: r.field(phi), voltage: phi,
			regime: ionflow.PointField, soft: soft || r.calm(phi) < 0.8}
		p.peak = math.Abs(p.field)
		top := r.least
		if sign < 0 {
			top = r.most
		}
		if p.current > top/2 {
			p.regime = ionflow.SupplyLimited
		}
		dst = append(dst, p)
	}
	return dst
}
