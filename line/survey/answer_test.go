package survey

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/line"
)

// bench is a diagnosis of five stations, of which 1, 2 and 3 are rollers that touch face A,
// read at 0 and 4, with 100 samples. In all of them the three changed the face by so
// much as said; the readings put each at its mean with a variance, where the description
// has 0 with a variance of 100 (µC/m²)².
type bench struct {
	d      *Diagnosis
	sizes  [][3]float64
	counts []int // of each row of sizes its samples; together 100
}

func newBench(mean, variance [3]float64, sizes [][3]float64, counts []int) *bench {
	l := &layout{unlisted: 3, layer: 3, n: 3, stations: []int{1, 2, 3}, mean: make([]float64, 3)}
	mo := mode{mean: mean[:], prior: []float64{100, 100, 100}, weight: 1}
	f := &free{n: 3, mean: mean[:], cov: make([]float64, 9)} // the readings alone tell each
	for k := range 3 {
		l.changes = append(l.changes, line.Unknown{Station: k + 1, Face: line.FaceA})
		l.bar, l.layerOf = append(l.bar, false), append(l.layerOf, -1)
		column := make([]float64, 3-k)
		column[0] = math.Sqrt(variance[k])
		mo.lower = append(mo.lower, column...)
		f.cov[4*k] = 1e-6
	}
	d := &Diagnosis{model: &model{lay: l}, posterior: &Posterior{modes: []mode{mo}}, free: f}
	for _, at := range []int{0, 4} {
		g := &group{}
		g.Station, g.OnA, g.OnB = at, 1, 1
		d.model.groups = append(d.model.groups, g)
	}
	d.desc.Stations = make([]line.StationSpec, 5)
	for i := range d.desc.Stations {
		d.desc.Stations[i].Kind = line.Roller
	}
	return &bench{d, sizes, counts}
}

// contest is that of the samples; shares of winners do not count rarity here.
func (b *bench) contest() (c *contest, wins []float64) {
	c = &contest{stations: []int{1, 2, 3}}
	for i, s := range b.sizes {
		for range b.counts[i] {
			top := 0
			for j := range s {
				if s[j] > s[top] {
					top = j
				}
			}
			c.size, c.top, c.weight = append(c.size, s[:]), append(c.top, top), append(c.weight, 1)
			c.total++
		}
	}
	for j := range 3 {
		wins = append(wins, c.win(j))
	}
	return c, wins
}

// TestEvidence: the density of a normal posterior at nothing against that of the prior,
// by hand: ½·ln(v/100) + m²/(2v) for each station.
func TestEvidence(t *testing.T) {
	for _, c := range []struct {
		mean, variance [3]float64
		stations       []int
		want           float64
	}{
		{[3]float64{10, 0, 0}, [3]float64{1, 100, 100}, []int{1}, -2.302585 + 50},
		{[3]float64{10, 0, 0}, [3]float64{1, 100, 100}, []int{2}, 0},
		{[3]float64{0, -6, 0}, [3]float64{9, 4, 100}, []int{2}, -1.609438 + 4.5},
		{[3]float64{0, -6, 0}, [3]float64{9, 4, 100}, []int{1, 2, 3}, -1.203973 - 1.609438 + 4.5},
		{[3]float64{0, 0, 0}, [3]float64{9, 9, 9}, []int{3}, -1.203973}, // nothing, well measured
	} {
		d := newBench(c.mean, c.variance, nil, nil).d
		if got := d.evidence(c.stations); !(math.Abs(got-c.want) <= 1e-5) {
			t.Errorf("%v ± √%v, %v: %.6f, by hand %.6f", c.mean, c.variance, c.stations, got, c.want)
		}
	}
}

// Posteriors with an evidence on either side of the two nats that are asked, by hand:
// ½·ln(0.16) + 100/32 = 2.21 and ½·ln(0.18) + 100/36 = 1.92.
const enough, tooLittle = 16.0, 18.0

// TestNameAsksEvidence: station 1 makes 10 and the others 1 in all samples, and the
// readings must say so.
func TestNameAsksEvidence(t *testing.T) {
	for variance, want := range map[float64]AnswerKind{enough: OneSource, tooLittle: CannotTell} {
		b := newBench([3]float64{10, 1, 1}, [3]float64{variance, 1, 1}, [][3]float64{{10, 1, 1}}, []int{100})
		c, wins := b.contest()
		a, _ := b.d.oneOf(c, []int{0}, wins, 2)
		if a.Kind != want || want == OneSource && (a.Between != [2]int{0, 4} || a.Chance != 1) {
			t.Errorf("variance %v: %+v, want %v", variance, a, want)
		}
		if got := b.d.stands(c, 2); got != (want == OneSource) {
			t.Errorf("variance %v: a contact above the limit stands %v", variance, got)
		}
		if b.d.stands(c, 11) {
			t.Error("10 stands above 11")
		}
	}
}

// TestRivalAsksEvidence: in 31 of 100 samples station 3 makes half as much as station 1,
// more than 0.4: no single source, if the readings show 3; in 30 it is one.
func TestRivalAsksEvidence(t *testing.T) {
	for _, c := range []struct {
		variance float64 // of station 3, which is at 10 too
		like     int
		want     AnswerKind
	}{{enough, 31, CannotTell}, {tooLittle, 31, OneSource}, {enough, 30, OneSource}, {tooLittle, 51, CannotTell}} {
		b := newBench([3]float64{10, 0, 10}, [3]float64{1, 1, c.variance}, [][3]float64{{10, 0, 5}, {10, 0, 3}},
			[]int{c.like, 100 - c.like})
		con, wins := b.contest()
		if a, _ := b.d.oneOf(con, []int{0}, wins, 2); a.Kind != c.want {
			t.Errorf("variance %v, %d alike: %v, want %v", c.variance, c.like, a.Kind, c.want)
		}
	}
}

// TestTwoAskEvidence: stations 1 and 3 make 10 each, and the readings must show both.
func TestTwoAskEvidence(t *testing.T) {
	for _, c := range []struct {
		variance [3]float64
		want     bool
	}{
		{[3]float64{enough, 1, enough}, true}, {[3]float64{tooLittle, 1, enough}, false},
		{[3]float64{enough, 1, tooLittle}, false},
	} {
		b := newBench([3]float64{10, 0, 10}, c.variance, [][3]float64{{10, 1, 9}, {9, 1, 10}}, []int{50, 50})
		con, _ := b.contest()
		a, ok := b.d.two(con, 2)
		if ok != c.want || ok && !slices.Equal(a.Sets[1], []int{3}) {
			t.Errorf("%v: %+v", c.variance, a)
		}
	}
}

// TestNeighbourBelongs: station 2 stands between the same readings as 1 and is the largest
// in so many of 100 samples. From 1.5 % on it belongs to what is said, so that 1 alone
// cannot be; it is then in a set of both.
func TestNeighbourBelongs(t *testing.T) {
	for of, want := range map[int]AnswerKind{0: OneSource, 1: OneSource, 2: CannotTell, 5: CannotTell} {
		b := newBench([3]float64{10, 0, 0}, [3]float64{1, 1, 1}, [][3]float64{{10, 1, 1}, {1, 10, 1}}, []int{100 - of, of})
		c, wins := b.contest()
		if a, _ := b.d.oneOf(c, []int{0}, wins, 2); a.Kind != want {
			t.Errorf("%d %%: %v, want %v", of, a.Kind, want)
		}
		if a, _ := b.d.oneOf(c, []int{0, 1}, wins, 2); a.Kind != OneOf || !slices.Equal(a.Sets[0], []int{1, 2}) {
			t.Errorf("%d %%: %+v", of, a)
		}
	}
}

// between adds readings right before and right behind station 1.
func (b *bench) between() *bench {
	for at := range 2 {
		g := &group{}
		g.Station, g.OnA, g.OnB = at, 1, 1
		b.d.model.groups = append(b.d.model.groups, g)
	}
	return b
}

// TestNameAsksChance: station 1 is the largest in so many of 100 samples and station 3 in the
// others: more than 90 are asked. Where it leads in all, with 8 to 1 in so many and with 2.5 to 2.1,
// which is not 1.25 times as much, in the others, more than 75 of the former are asked.
func TestNameAsksChance(t *testing.T) {
	for leads, want := range map[int]AnswerKind{100: OneSource, 91: OneSource, 90: CannotTell, 60: CannotTell} {
		b := newBench([3]float64{10, 0, 0}, [3]float64{1, 1, 1}, [][3]float64{{10, 1, 1}, {1, 1, 10}},
			[]int{leads, 100 - leads}).between()
		c, wins := b.contest()
		if a, _ := b.d.oneOf(c, []int{0}, wins, 2); a.Kind != want {
			t.Errorf("first in %d %%: %v, want %v", leads, a.Kind, want)
		}
	}
	for clear, want := range map[int]AnswerKind{76: OneSource, 75: CannotTell} {
		b := newBench([3]float64{2, 0, 0}, [3]float64{0.1, 1, 1}, [][3]float64{{8, 1, 1}, {2.5, 1, 2.1}},
			[]int{clear, 100 - clear}).between()
		c, wins := b.contest()
		if a, _ := b.d.oneOf(c, []int{0}, wins, 2); a.Kind != want {
			t.Errorf("clear in %d %%: %v, want %v", clear, a.Kind, want)
		}
	}
}

// TestFacesMustBeRead: station 1 does all. A roller is named; a nip only where a voltmeter saw a
// face behind it; and neither where the means leave a quiet line likely and spots alone speak.
func TestFacesMustBeRead(t *testing.T) {
	for _, c := range []struct {
		kind  line.StationKind
		volts bool
		still float64
		want  AnswerKind
	}{
		{line.Roller, false, 0, OneSource}, {line.Nip, false, 0, OneOf}, {line.Nip, true, 0, OneSource},
		{line.Roller, false, 0.61, OneOf}, {line.Nip, true, 0.61, OneOf}, {line.Roller, false, 0.6, OneSource},
	} {
		b := newBench([3]float64{10, 1, 1}, [3]float64{1, 1, 1}, [][3]float64{{10, 1, 1}}, []int{100})
		b.d.desc.Stations[1].Kind, b.d.still = c.kind, c.still
		if c.volts {
			g := &group{}
			g.Station, g.OnB, g.OverFilm = 1, 1, true
			b.d.model.groups = append(b.d.model.groups, g)
		}
		con, wins := b.contest()
		a, _ := b.d.oneOf(con, []int{0}, wins, 2)
		if a.Kind != c.want || a.Scatter != (c.still > 0.6) || len(a.Sets) != 1 || !slices.Equal(a.Sets[0], []int{1}) {
			t.Errorf("%v, voltmeter %v, quiet %v: %+v", c.kind, c.volts, c.still, a)
		}
	}
}
