package survey

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/line/survey/internal/without"
)

// Two charges that cancel leave no field on the average, but patches that lie on each
// face by themselves do not cancel: the spots at one place scatter by what the faces
// hold. Where no voltmeter saw the faces behind a contact of both, their sums of squares
// weigh the samples, and the quiet line against them. What a spot scatters by is that of
// scatter.go times one κ for all places; at each place it is known as by scatterPrior
// degrees of freedom.

// Judgements: the places see the same stripes and the same contacts, so that they count
// for less than each by itself; ln κ has the spread of a variance known as by four
// degrees of freedom.
const (
	spotTrust   = 0.75
	kappaSpread = 0.7
	spotsAsked  = 3 // readings at a place
)

var kappas = [...]float64{0.5, 1, 2, 4}

// patch is a place with field-meter readings of several spots.
type patch struct {
	station int
	off     []string // bars that are off as it is read
	barred  bool     // behind a bar that is on
	n       float64  // readings
	squares float64  // [V²] their sum of squares, less what placing and display add
	per     float64  // [V²/(µC/m²)²] variance of a spot per mean square of its faces
	rest    float64  // [V²] that of the display
	common  float64  // share of the scatter that the faces have in common
}

// patches lists the places whose spots were read in the reference condition.
func (d *Diagnosis) patches() []patch {
	var out []patch
	m := d.model
	for gi, g := range m.groups {
		n := len(g.values) + len(g.beyond)
		if g.OverFilm || g.over != 0 || n < spotsAsked || g.cond != 0 {
			continue
		}
		p := patch{
			station: g.Station,
			off:     d.desc.Stations[g.Station].Off,
			n:       float64(n),
			per:     sq(m.spots * g.perDensity()),
			rest:    sq(g.step()) + sq(drift*float64(d.desc.Meters[g.Meter].Offset)),
			common:  m.common,
		}
		shown := slices.Clone(g.values)
		for _, k := range g.beyond { // they scatter at least so far
			shown = append(shown, d.shown[k].volts)
		}
		p.squares = m.lessDisplay(gi, m.fit(gi), squares(shown))
		for i := range g.Station {
			s := &d.desc.Stations[i]
			p.barred = p.barred || s.Kind == line.Ioniser && !slices.Contains(p.off, s.Name)
		}
		out = append(out, p)
	}
	return out
}

// squares is the sum of squares about the mean.
func squares(x []float64) float64 {
	var sum, ss float64
	for _, v := range x {
		sum += v
	}
	for _, v := range x {
		ss += sq(v - sum/float64(len(x)))
	}
	return ss
}

// log is the logarithm of the density of the squares, where the faces by themselves and
// the net charge have such mean squares [(µC/m²)²]. A bar takes of each spot what that
// spot holds, so that behind it the patches may be those of the net charge.
func (p *patch) log(kappa, faces, net float64) float64 {
	net = min(net, faces)
	x := p.density(kappa * ((1-p.common)*faces + p.common*net))
	if !p.barred {
		return x
	}
	y := p.density(kappa * net)
	return max(x, y) + math.Log(0.5+0.5*numeric.Exp(-math.Abs(x-y)))
}

// density is that of the squares of spots of such a mean square, in logarithms.
func (p *patch) density(faces float64) float64 {
	v := p.per*(faces+sq(0.03)) + p.rest
	return -0.5*(p.n-1)*math.Log(v) - 0.5*(scatterPrior+p.n-1)*math.Log1p(p.squares/(scatterPrior*v))
}

// charges are the mean squares of the faces and of the net charge at each place.
type charges struct{ faces, net []float64 }

// spoken is the logarithm of the likelihood of the squares at all places, with the
// likeliest κ.
func (c *charges) spoken(list []patch) float64 {
	most := math.Inf(-1)
	for _, kappa := range kappas {
		x := -0.5 * sq(math.Log(kappa)/kappaSpread)
		for k := range list {
			x += spotTrust * list[k].log(kappa, c.faces[k], c.net[k])
		}
		most = max(most, x)
	}
	return most
}

// charged walks the samples and returns what they put at the places.
func (d *Diagnosis) charged(list []patch) []charges {
	n := len(list)
	all := d.room.take(2 * n * len(d.samples))
	out := make([]charges, len(d.samples))
	for j := range out {
		out[j] = charges{all[2*j*n : (2*j+1)*n], all[(2*j+1)*n : (2*j+2)*n]}
	}
	at := map[int][]int{} // places of a station
	for k := range list {
		at[list[k].station] = append(at[list[k].station], k)
	}
	f := newForward(d.line, &d.desc, d.model.lay, d.model.walk.at)
	last := 0
	for k := range list {
		last = max(last, list[k].station)
	}
	walk := func(j, to int, off []string, only int) {
		f.runTo(to, d.samples[j], off, func(i int, a, b float64) {
			if only >= 0 && i != only {
				return
			}
			for _, k := range at[i] {
				out[j].faces[k], out[j].net[k] = sq(a)+sq(b), sq(a+b)
			}
		})
	}
	for j := range d.samples {
		walk(j, last, nil, -1)
	}
	for station := range at {
		if off := d.desc.Stations[station].Off; len(off) > 0 {
			d.check()
			for j := range d.samples {
				walk(j, station, off, station)
			}
		}
	}
	return out
}

// hear weighs the samples, and the quiet line, by the scatter of the spots.
func (d *Diagnosis) hear() {
	if ok, _ := d.facesRead(); ok || without.Is(without.Spots) {
		return
	}
	list := d.patches()
	if len(list) == 0 {
		return
	}
	defer d.room.back(d.room.mark())
	samples := d.charged(list)
	// A quiet line has the net charge that is read and little on each face.
	quiet := charges{make([]float64, len(list)), make([]float64, len(list))}
	for k := range list {
		for j := range samples {
			quiet.net[k] += samples[j].net[k] / float64(len(samples))
		}
		quiet.faces[k] = quiet.net[k]
		for c, u := range d.model.lay.changes {
			if u.Station <= list[k].station && !d.model.lay.bar[c] {
				quiet.faces[k] += sq(quietSpread * float64(d.line.Limit()) * 1e6)
			}
		}
	}
	calm := quiet.spoken(list)
	d.spots = d.lasting.take(len(samples))
	for j := range samples {
		d.spots[j] = numeric.Exp(min(samples[j].spoken(list)-calm, 300))
	}
	mean := 0.0
	for _, w := range d.spots {
		mean += w / float64(len(samples))
	}
	if !(mean > 0) {
		d.spots = nil
		return
	}
	for j := range d.spots {
		d.spots[j] /= mean
	}
	if mean > 1 { // spots that scatter little do not make a line quiet
		d.Quiet /= d.Quiet + (1-d.Quiet)*mean
	}
}

// spot is the weight of a sample by the scatter of the spots, on average 1.
func (d *Diagnosis) spot(sample int) float64 {
	if d.spots == nil {
		return 1
	}
	return d.spots[sample]
}

// spotOf is that weight in a contest.
func (c *contest) spotOf(sample int) float64 {
	if c.spot == nil {
		return 1
	}
	return c.spot[sample]
}

// heard is how many nats the scatter of the spots speaks for one of the set being above
// the limit, 0 where nearly all samples agree on that.
func (c *contest) heard(set []int, limit float64) float64 {
	var in, inOf, out, outOf float64
	if c.spot == nil {
		return 0
	}
	for i, b := range c.size {
		if slices.ContainsFunc(set, func(j int) bool { return b[j] > limit }) {
			in, inOf = in+c.spot[i], inOf+1
		} else {
			out, outOf = out+c.spot[i], outOf+1
		}
	}
	if inOf < heardLeast || outOf < heardLeast {
		return 0
	}
	return math.Log(in/inOf) - math.Log(out/outOf)
}

// heardLeast is the number of samples on either side without which scatter says nothing.
const heardLeast = 16

// betweenPlaces is the pair of places around a stretch of the path at which spots were read.
func (d *Diagnosis) betweenPlaces(from, to int) [2]int {
	out := [2]int{-1, -1}
	for _, g := range d.model.groups {
		switch {
		case g.OverFilm:
		case g.Station < from && g.Station > out[0]:
			out[0] = g.Station
		case g.Station >= to && (out[1] < 0 || g.Station < out[1]):
			out[1] = g.Station
		}
	}
	return out
}
