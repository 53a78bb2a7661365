package ensemble

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"testing"

	"example.org/pithball/internal/counter"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// check is what a program of array expressions made of the same line and the same scores: the recurrence
// of the package comment written with arrays, quantiles between order statistics.
type check struct {
	N         int         `json:"n"`
	Seed      uint64      `json:"seed"`
	Quantiles [][]float64 `json:"quantiles_by_station"`
	First3    []float64   `json:"net_after_last_station_first3"`
}

func readCheck(t *testing.T) (c check) {
	t.Helper()
	b, err := os.ReadFile("testdata/numpy_walk.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// twenty is an invented line of twenty steps: contacts on either face in turn, ways and
// ionisers on the other face.
func twenty(t testing.TB) *Lines {
	t.Helper()
	const uC = 1e-6
	s := Spec{Humidity: known.Band{Value: 0.45, Spread: 0.08, Kind: known.Normal}, Driest: 0.05, Dampest: 0.95,
		Leak: &Leak{Time: 2000 * units.Second, Decades: 0.12 / math.Ln10}}
	strength := []float64{20 * uC, -15 * uC, 30 * uC, -10 * uC, 25 * uC, -20 * uC, 15 * uC}
	exposure := []float64{0.8, 1.2, 0.5, 1, 0.7, 1.5, 0.9}
	ways := []units.Time{0.5, 1, 0.2, 2, 0.3, 1, 0.5}
	most := []units.SurfaceChargeDensity{10e-6, 5e-6, 20e-6, 10e-6, 15e-6, 8e-6}
	for j := range 20 {
		m := j / 3
		face := line.FaceA
		if m%2 == 1 {
			face = line.FaceB
		}
		switch j % 3 {
		case 0:
			s.Steps = append(s.Steps, Step{Contact: &Contact{Face: face, Cap: 25e-6,
				Saturation: known.Band{Value: strength[m], Spread: 0.4, Kind: known.LogNormal},
				Exposure:   known.Band{Value: exposure[m], Spread: 0.5, Kind: known.LogNormal}}})
		case 1:
			s.Steps = append(s.Steps, Step{Way: ways[m]})
		default:
			s.Steps = append(s.Steps, Step{Ioniser: &Ioniser{Face: face.Other(), Share: 0.8, Most: most[m]}})
		}
	}
	l, err := New(&s)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

var fiveFifty = []float64{0.05, 0.5, 0.95}

// near compares to 1e-12 of the charges that the numbers are differences of.
func near(got, want float64) bool { return math.Abs(got-want) <= 1e-12*25e-6 }

// TestRunIsThatOfArrays walks a thousand lines with the scores of the program, by
// columns and one by one.
func TestRunIsThatOfArrays(t *testing.T) {
	c := readCheck(t)
	l := twenty(t)
	if l.Draws() != 15 {
		t.Fatalf("%d scores a line, want 15", l.Draws())
	}
	source := func(int) func([]float64) {
		d := 0
		return func(dst []float64) {
			for i := range dst {
				dst[i] = counter.Normal(c.Seed, uint64(15*i+d))
			}
			d++
		}
	}
	s := l.run(c.N, source, 0, fiveFifty)
	for j, q := range s.Quantiles {
		for k := range q {
			if !near(q[k], c.Quantiles[j][k]) {
				t.Errorf("step %d, chance %v: %v, by arrays %v", j, fiveFifty[k], q[k], c.Quantiles[j][k])
			}
		}
	}
	net := make([]units.SurfaceChargeDensity, 20)
	z := make([]float64, 15)
	for i, want := range c.First3 {
		for d := range z {
			z[d] = counter.Normal(c.Seed, uint64(15*i+d))
		}
		if n := l.Walk(net, z); n != 20 || !near(float64(net[19]), want) {
			t.Errorf("line %d: %v, by arrays %v", i, net[19], want)
		}
	}
	if n := testing.AllocsPerRun(10, func() { l.Walk(net, z) }); n != 0 {
		t.Errorf("Walk allocates %v times", n)
	}
	if l.Walk(net, z[:14]) != 0 {
		t.Error("a line was walked with too few scores")
	}
}

// TestQuantilesAreExact compares with sorting all values: what counting by parts gives is
// the same to the last bit, also where many values are equal, where a first part of the
// lines says nothing of the rest, and at the ends.
func TestQuantilesAreExact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for name, value := range map[string]func(i int) float64{
		"normal":      func(int) float64 { return r.NormFloat64() },
		"capped":      func(int) float64 { return min(r.NormFloat64(), 1) },
		"two values":  func(i int) float64 { return float64(i % 2) },
		"constant":    func(int) float64 { return -3 },
		"heavy tails": func(int) float64 { x := r.NormFloat64(); return x * x * x * x * x },
		"late shift":  func(i int) float64 { return r.Float64() + float64(i/20000) },
	} {
		const n = 100003
		all := make([]float64, n)
		for i := range all {
			all[i] = value(i)
		}
		chances := []float64{0, 0.001, 0.05, 0.5, 0.95, 0.999, 1}
		var b bins
		first := slices.Clone(all[:3*block])
		slices.Sort(first)
		b.place(first, chances)
		for tries := 0; ; tries++ {
			b.clear()
			for i := 0; i < n; i += 1000 {
				b.add(all[i:min(i+1000, n)])
			}
			if !b.missed(n, chances) {
				break
			}
			if tries > 1 {
				t.Fatalf("%s: the parts of the quantiles are known after one count", name)
			}
		}
		got := b.quantiles(n, chances)
		slices.Sort(all)
		if want := sorted(all, chances); !slices.Equal(got, want) {
			t.Errorf("%s: %v, sorted %v", name, got, want)
		}
	}
}

// TestMissed: of five values of 0 and five of 0.9 the median lies between the two: both parts are
// needed, and both are kept for the next count.
func TestMissed(t *testing.T) {
	b := bins{scale: parts, keep: make([]bool, parts)}
	b.keep[0] = true
	for range 2 {
		b.clear()
		b.add([]float64{0, 0.9, 0, 0.9, 0, 0.9, 0, 0.9, 0, 0.9})
		if !b.missed(10, []float64{0.5}) {
			break
		}
	}
	if got := b.quantiles(10, []float64{0.5}); !(math.Abs(got[0]-0.45) <= 1e-15) || b.missed(10, []float64{0.5}) {
		t.Errorf("median %v, by hand 0.45", got)
	}
}

// TestSorted is type 7 worked out by hand: of 1 2 4 8 the median is 3, the 5 % quantile at
// place 0.15 is 1.15, the 90 % one at 2.7 is 4 + 0.7·4.
func TestSorted(t *testing.T) {
	got := sorted([]float64{1, 2, 4, 8}, []float64{0.05, 0.5, 0.9, 1})
	for i, want := range []float64{1.15, 3, 6.8, 8} {
		if !(math.Abs(got[i]-want) <= 1e-15*8) {
			t.Errorf("quantile %d: %v, by hand %v", i, got[i], want)
		}
	}
}

// TestRunSamples: at any number of goroutines the bits are the same; the sample has the
// quantiles of the thousand lines of that program to what a thousand lines know.
func TestRunSamples(t *testing.T) {
	l := twenty(t)
	const n = 60000
	limit := units.SurfaceChargeDensity(2e-6)
	one, err := l.Run(n, 7, limit, fiveFifty...)
	if err != nil {
		t.Fatal(err)
	}
	was := runtime.GOMAXPROCS(1)
	two, err := l.Run(n, 7, limit, fiveFifty...)
	runtime.GOMAXPROCS(was)
	if err != nil {
		t.Fatal(err)
	}
	c := readCheck(t)
	for j := range one.Quantiles {
		if !slices.Equal(one.Quantiles[j], two.Quantiles[j]) || one.Over[j] != two.Over[j] {
			t.Errorf("step %d: %v %v on one goroutine, %v %v on more", j, two.Quantiles[j], two.Over[j],
				one.Quantiles[j], one.Over[j])
		}
		spread := c.Quantiles[j][2] - c.Quantiles[j][0]
		for k, q := range one.Quantiles[j] {
			if !(math.Abs(q-c.Quantiles[j][k]) <= 0.08*spread) { // four standard errors of a thousand lines
				t.Errorf("step %d: %v, a thousand lines %v", j, q, c.Quantiles[j][k])
			}
		}
	}
}

// TestOver counts by hand: a line whose charge is a lognormal strength that one pass takes
// over whole is over its median in half of the lines, over median·e^(1.2816·0.4) in a tenth.
func TestOver(t *testing.T) {
	l, err := New(&Spec{Steps: []Step{{Contact: &Contact{Face: line.FaceA, Exposure: known.Band{Value: 50},
		Saturation: known.Band{Value: -1e-6, Spread: 0.4, Kind: known.LogNormal}}}}})
	if err != nil {
		t.Fatal(err)
	}
	for z, want := range map[float64]float64{0: 0.5, 1.2815515655446004: 0.1, 0.6744897501960817: 0.25} {
		n := 100000
		if want == 0.25 {
			n = 10000 // all of them are kept
		}
		s, err := l.Run(n, 3, units.SurfaceChargeDensity(1e-6*math.Exp(0.4*z)))
		if err != nil {
			t.Fatal(err)
		}
		if got, sd := s.Over[0], math.Sqrt(want*(1-want)/float64(n)); !(math.Abs(got-want) <= 4*sd) {
			t.Errorf("over at %v sd: %v, want %v ± %v", z, got, want, sd)
		}
	}
}

func BenchmarkRun(b *testing.B) {
	l := twenty(b)
	for b.Loop() {
		if _, err := l.Run(1e6, 401, 0, fiveFifty...); err != nil {
			b.Fatal(err)
		}
	}
}
