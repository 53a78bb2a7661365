package survey

import (
	"cmp"
	"math"
	"slices"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// group is the readings of one thing: with one meter, at one place and distance,
// in one condition.
type group struct {
	line.View
	cond     int
	over     float64   // 0; the sign if most ran out of the range: the mean is at least that
	readings []int     // in the survey, by falling content, never by order of the rows
	values   []float64 // [V] zero-corrected
	cross    []float64 // different positions over the width of the web, as far as recorded
	dropped  []int     // readings that lie far outside the rest of their own group
	n        float64   // readings left
	spots    float64   // different positions among them
	mean     float64   // [V]
	ss       float64   // [V²] sum of squares about the mean
	middle   *float64  // [V] median, where it stands for a mean that the range hides
	beyond   []int     // readings out of the range that the median passes over
	apart    float64   // share of its positions that other places were not read at
	lost     bool      // as many ran out of the range on one side as on the other
}

// key is what the readings of a group have in common.
type key struct {
	station, meter int
	quantity       line.Quantity
	face           line.Face
	distance, gap  units.Length
	roll           units.Length
	cond           int
}

// Distances within 5 % of each other count as one: the placing of a hand-held
// meter is no better.
const sameDistance = 0.05

// shown is a reading in volts of mid-web, its zero taken off.
type shown struct {
	volts float64
	over  bool // it ran out of its range
}

// samePosition is the share of the width below which two positions are one spot.
const samePosition = 0.04

// patience is how many readings of one thing make its scatter speak for itself:
// their robust mean is one row, and what lies far outside is dropped.
const patience = 4

// grouped collects the readings into groups, sorted by content.
func grouped(s *Survey, views map[int]line.View, of map[int]int, width units.Length, shown []shown) []*group {
	byKey := map[key]*group{}
	var keys []key
	for i, w := range views {
		r := &s.Readings[i]
		k := key{station: w.Station, meter: w.Meter, quantity: r.Quantity, gap: r.Gap, cond: of[i]}
		if r.Quantity == line.OverRoller {
			k.face = r.Face
		} else {
			k.roll = r.Roll
			k.distance = units.Length(math.Round(math.Log(float64(r.Distance)) / sameDistance))
		}
		g := byKey[k]
		if g == nil {
			g = &group{cond: k.cond}
			byKey[k] = g
			keys = append(keys, k)
		}
		g.readings = append(g.readings, i)
	}
	slices.SortFunc(keys, func(a, b key) int {
		return cmp.Or(
			cmp.Compare(a.station, b.station),
			cmp.Compare(a.quantity, b.quantity),
			cmp.Compare(a.face, b.face),
			cmp.Compare(a.meter, b.meter),
			cmp.Compare(a.cond, b.cond),
			cmp.Compare(a.distance, b.distance),
			cmp.Compare(a.gap, b.gap),
			cmp.Compare(a.roll, b.roll),
		)
	})
	out := make([]*group, len(keys))
	for i, k := range keys {
		g := byKey[k]
		out[i] = g
		// The nearest distance and the lowest display speak for all. Near an edge the
		// display is less; the group counts in displays of mid-web.
		w := views[slices.MinFunc(g.readings, func(a, b int) int {
			x, y := &s.Readings[a], &s.Readings[b]
			return cmp.Or(cmp.Compare(x.Distance, y.Distance), cmp.Compare(x.Cross, y.Cross), cmp.Compare(a, b))
		})]
		w.OnA, w.OnB, w.Edge = w.OnA/w.Edge, w.OnB/w.Edge, 1
		g.View = w
		g.settle(s, width, shown)
	}
	lanes(out)
	return out
}

// settle sorts the readings of a group and works out its mean and scatter.
func (g *group) settle(s *Survey, width units.Length, shown []shown) {
	value := func(i int) float64 { return shown[i].volts }
	out := func(i int) bool { return shown[i].over }
	slices.SortFunc(g.readings, func(a, b int) int {
		return cmp.Or(
			cmp.Compare(value(a), value(b)),
			cmp.Compare(s.Readings[a].Cross, s.Readings[b].Cross),
			cmp.Compare(a, b),
		)
	})
	if g.exceeded(s, width, value, out) {
		return
	}
	kept := g.readings
	if len(kept) >= patience {
		median := value(kept[len(kept)/2])
		if len(kept)%2 == 0 {
			median = (median + value(kept[len(kept)/2-1])) / 2
		}
		away := make([]float64, len(kept))
		for i, k := range kept {
			away[i] = math.Abs(value(k) - median)
		}
		slices.Sort(away)
		// 1.4826·MAD is the standard deviation of normal values. Of few readings it says
		// little: a patch of 30 % and ten display steps count as six readings more.
		scale := robustScale(
			1.4826*away[len(away)/2],
			float64(len(away)),
			0.3*math.Abs(median)+0.4*g.perDensity()+10*g.step(),
		)
		kept = nil
		for _, k := range g.readings {
			if math.Abs(value(k)-median) > outside*scale {
				g.dropped = append(g.dropped, k)
			} else {
				kept = append(kept, k)
			}
		}
	}
	for _, k := range kept {
		g.values = append(g.values, value(k))
		g.mean += value(k)
	}
	g.spots = g.positions(kept, s, width)
	g.readings, g.n = kept, float64(len(kept))
	g.mean /= g.n
	if g.middle != nil {
		g.mean, g.n = *g.middle, medianWorth*(g.n+float64(len(g.beyond)))
	}
	for _, v := range g.values {
		g.ss += sq(v - g.mean)
	}
}

// positions notes where across the web the readings were taken and counts the
// different spots; where nobody wrote that down it is taken as one.
func (g *group) positions(readings []int, s *Survey, width units.Length) float64 {
	for _, k := range readings {
		c := s.Readings[k].Cross
		if c <= 0 {
			continue
		}
		at := float64(c) / float64(width)
		if !slices.ContainsFunc(g.cross, func(o float64) bool { return math.Abs(o-at) < samePosition }) {
			g.cross = append(g.cross, at)
		}
	}
	return max(1, float64(len(g.cross)))
}

// outside is how many of its scales a reading lies off the median of its group to be
// dropped.
const outside = 3.3

func robustScale(found, n, expected float64) float64 {
	return math.Sqrt((6*expected*expected + n*found*found) / (6 + n))
}

// medianWorth is the efficiency of a median against a mean, 2/π.
const medianWorth = 0.64

// exceeded settles a group in which readings ran out of the range. They count as
// beyond all others: the median of the group says what the range hides, if it lies
// in the range itself; if not, the mean is at least as much as the middle says.
func (g *group) exceeded(s *Survey, width units.Length, value func(int) float64, out func(int) bool) bool {
	n := len(g.readings)
	low, high := 0, 0 // beyond the range on either side
	for _, i := range g.readings {
		if out(i) && value(i) < 0 {
			low++
		} else if out(i) {
			high++
		}
	}
	if low+high == 0 {
		return false
	}
	at := func(k int) (v float64, beyond float64) {
		i := g.readings[k]
		if out(i) {
			return value(i), math.Copysign(1, value(i))
		}
		return value(i), 0
	}
	a, overA := at((n - 1) / 2)
	b, overB := at(n / 2)
	if overA == 0 && overB == 0 {
		// What ran out of the range keeps its place in the order and nothing else.
		m := (a + b) / 2
		g.middle = &m
		g.readings = slices.DeleteFunc(g.readings, func(i int) bool {
			if out(i) {
				g.beyond = append(g.beyond, i)
				return true
			}
			return false
		})
		return false
	}
	g.over = overA
	if g.over == 0 {
		g.over = overB
	}
	if overA*overB < 0 {
		g.over = 0
		g.middle, g.lost = new(float64), true
	}
	// Of an even number the inner one of the two in the middle may be in range.
	bound := a
	if overA == 0 || overB == 0 {
		if n == 2 {
			bound = (a + b) / 2
		} else if overA != 0 {
			bound = b
		}
	}
	if bound*g.over < 0 {
		bound = 0
	}
	g.values = []float64{bound}
	g.n, g.mean = float64(n), bound
	g.spots = g.positions(g.readings, s, width)
	return true
}

// perDensity is the display per charge density that the group sees [V/(µC/m²)].
func (g *group) perDensity() float64 { return max(math.Abs(g.OnA), math.Abs(g.OnB)) * 1e-6 }

// step is the last digit of the display [V].
func (g *group) step() float64 {
	if g.OverFilm {
		return 0.1
	}
	return 1
}

// lanes says of each group which share of its positions the other places were not
// read at: stripes that stay with the web are the same at positions that are.
func lanes(groups []*group) {
	for _, g := range groups {
		g.apart = 1
		if len(g.cross) == 0 {
			continue
		}
		var common float64
		for _, x := range g.cross {
			same, others := 0, 0
			for _, o := range groups {
				if o == g || len(o.cross) == 0 {
					continue
				}
				others++
				if slices.ContainsFunc(o.cross, func(y float64) bool { return math.Abs(x-y) < samePosition }) {
					same++
				}
			}
			if 3*same >= others && others > 0 {
				common++
			}
		}
		g.apart = 1 - common/float64(len(g.cross))
	}
}
