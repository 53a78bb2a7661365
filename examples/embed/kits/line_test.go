package kits

import (
	"math"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/linetest"
	"example.org/pithball/units"
)

// short is a line in a few lines: contacts that close a part of the way, gas that caps
// the net charge, leaks, bars with a supply. It does not know rollers that keep charge.
type short struct {
	*line.Description
	leaky bool // does not count what leaks
}

func (l short) Len() int { return len(l.Stations) }

const capped = 2 * units.Epsilon0 * 1e6 // [C/m²]

func (l short) RunTo(dst []line.Result, v units.Speed) int {
	var r line.Result
	for i, s := range l.Stations[:min(len(dst), l.Len())] {
		r.GainA, r.GainB, r.Lost = 0, 0, 0
		if i > 0 {
			if before := l.Stations[i-1]; before.Leak != nil {
				t := float64(s.At-before.At) / float64(v)
				lost := units.SurfaceChargeDensity(-float64(r.Net()) * math.Expm1(-t/float64(before.Leak.Time)))
				r.A, r.B, r.Lost = r.A-lost/2, r.B-lost/2, lost
			}
		}
		gain := func(f line.Face, q units.SurfaceChargeDensity) {
			if f == line.FaceA {
				r.A, r.GainA = r.A+q, r.GainA+q
			} else {
				r.B, r.GainB = r.B+q, r.GainB+q
			}
		}
		for _, c := range s.Change {
			q := r.A
			if c.Face == line.FaceB {
				q = r.B
			}
			gain(c.Face, units.SurfaceChargeDensity(-math.Expm1(-float64(c.Exposure)))*(c.Median-q))
		}
		for _, c := range s.Change { // each face that parts gives its share back
			if over := math.Abs(float64(r.Net())) - capped; over > 0 {
				gain(c.Face, units.SurfaceChargeDensity(-math.Copysign(over, float64(r.Net()))))
			}
		}
		if s.Ioniser != nil {
			x := float64(s.Ioniser.Conductivity) * float64(s.Ioniser.Zone) / units.Epsilon0 / float64(v)
			q := -float64(r.Net()) * -math.Expm1(-x)
			most := float64(s.Ioniser.Supply) / float64(v)
			gain(s.Ioniser.Face, units.SurfaceChargeDensity(math.Copysign(math.Min(math.Abs(q), most), q)))
		}
		if dst[i] = r; l.leaky {
			dst[i].Lost = 0
		}
	}
	return min(len(dst), l.Len())
}

func TestLine(t *testing.T) {
	right := func(d *line.Description) (linetest.Model, error) { return short{Description: d}, nil }
	wrong := func(d *line.Description) (linetest.Model, error) { return short{d, true}, nil }
	hold(t, linetest.Lines())(right, wrong, "balance")
}
