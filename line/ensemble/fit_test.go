package ensemble

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"example.org/pithball/internal/counter"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// six is an invented line of six contacts on either face in turn, 0.4 s apart, with an
// ioniser that takes half of the net onto face A behind the third; the net is read behind
// each contact and after each way.
func six(t testing.TB) *Fit {
	t.Helper()
	s := Spec{Leak: &Leak{Time: 2 * units.Second}}
	for c, n := range []float64{0.8, 1.2, 0.5, 1, 0.7, 1.5} {
		s.Steps = append(s.Steps, Step{Read: true, Contact: &Contact{Face: line.FaceA + line.Face(c%2),
			Exposure: known.Band{Value: n}}}, Step{Read: true, Way: 0.4 * units.Second})
		if c == 2 {
			s.Steps = append(s.Steps, Step{Ioniser: &Ioniser{Face: line.FaceA, Share: 0.5}})
		}
	}
	l, err := New(&s)
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Fit()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// fitCheck is what a program of array expressions made of it: the matrix of the readings at 2 s, and two
// surveys with other leak times by normal equations.
type fitCheck struct {
	Matrix   [][]float64 `json:"A_tau2"`
	Tau      []float64   `json:"tau_first2"`
	Readings [][]float64 `json:"y_first2"`
	Truth    [][]float64 `json:"theta_first2"`
	Estimate [][]float64 `json:"theta_hat_first2"`
}

func readFitCheck(t *testing.T) (c fitCheck) {
	t.Helper()
	b, err := os.ReadFile("testdata/numpy_fit.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestFitIsThatOfNumpy compares two surveys, and recovers each saturation from its column
// of its matrix: readings without noise give it back.
func TestFitIsThatOfNumpy(t *testing.T) {
	c := readFitCheck(t)
	f := six(t)
	if f.Unknowns() != 6 || f.Readings() != 12 {
		t.Fatalf("%d unknowns of %d readings, want 6 of 12", f.Unknowns(), f.Readings())
	}
	const noise = 0.5 * units.MicrocoulombPerSquareMetre
	var y []float64
	for _, r := range c.Readings {
		y = append(y, r...)
	}
	mean, sd := make([]float64, 12), make([]float64, 12)
	if err := f.All(mean, sd, y, noise, []units.Time{units.Time(c.Tau[0]), units.Time(c.Tau[1])}); err != nil {
		t.Fatal(err)
	}
	for i, x := range mean {
		if want := c.Estimate[i/6][i%6]; !(math.Abs(x-want) <= 1e-12*20e-6) {
			t.Errorf("survey %d, saturation %d: %v, by arrays %v", i/6, i%6, x, want)
		}
		if z := (x - c.Truth[i/6][i%6]) / sd[i]; !(math.Abs(z) <= 4) {
			t.Errorf("survey %d, saturation %d is %v standard deviations off the truth", i/6, i%6, z)
		}
	}
	for k := range 6 {
		y := make([]float64, 12)
		for i := range y {
			y[i] = 1e-6 * c.Matrix[i][k]
		}
		if err := f.All(mean[:6], sd[:6], y, noise, nil); err != nil {
			t.Fatal(err)
		}
		for j, x := range mean[:6] {
			want := 0.0
			if j == k {
				want = 1e-6
			}
			if !(math.Abs(x-want) <= 1e-18) {
				t.Errorf("readings of saturation %d alone: %v at %d", k, x, j)
			}
		}
	}
}

// surveys makes n of them with the noise drawn anew.
func surveys(n int) (y []float64, truth []float64, leak []units.Time) {
	c := [6]float64{}
	for d := range n {
		tau := 2 * (0.5 + counter.Uniform(503, uint64(d)))
		leak = append(leak, units.Time(tau))
		for k := range c {
			c[k] = 1e-6 * (-20 + 40*counter.Uniform(501, uint64(6*d+k)))
			truth = append(truth, c[k])
		}
		keep := math.Exp(-0.4 / tau)
		var a, b float64
		for k, n := range []float64{0.8, 1.2, 0.5, 1, 0.7, 1.5} {
			if k%2 == 0 {
				a = c[k] + (a-c[k])*math.Exp(-n)
			} else {
				b = c[k] + (b-c[k])*math.Exp(-n)
			}
			y = append(y, a+b)
			a, b = a*keep, b*keep
			y = append(y, a+b)
			if k == 2 {
				a -= 0.5 * (a + b)
			}
		}
		for i := range 12 {
			y[12*d+i] += 0.5e-6 * counter.Normal(502, uint64(12*d+i))
		}
	}
	return y, truth, leak
}

// TestFitCovers: over a thousand surveys the squares of error over standard deviation have
// the mean 1 to four standard errors, √(2/6000) each.
func TestFitCovers(t *testing.T) {
	y, truth, leak := surveys(1000)
	mean, sd := make([]float64, len(truth)), make([]float64, len(truth))
	if err := six(t).All(mean, sd, y, 0.5*units.MicrocoulombPerSquareMetre, leak); err != nil {
		t.Fatal(err)
	}
	chi := 0.0
	for i, x := range mean {
		chi += (x - truth[i]) * (x - truth[i]) / (sd[i] * sd[i]) / float64(len(mean))
	}
	if !(math.Abs(chi-1) <= 4*math.Sqrt(2.0/6000)) {
		t.Errorf("mean square of error over standard deviation is %v, want 1", chi)
	}
}

// TestPriorByHand: one contact that goes all the way, read twice with 1 µC/m² of noise at 3 and
// 5, and known before as 1 ± 0.5: weights 1, 1 and 4 give (3 + 5 + 4)/6 = 2, 1/√6.
func TestPriorByHand(t *testing.T) {
	const uC = 1e-6
	l, err := New(&Spec{Steps: []Step{
		{Read: true, Contact: &Contact{Face: line.FaceB, Exposure: known.Band{Value: 50},
			Saturation: known.Band{Value: 1 * uC, Spread: 0.5 * uC, Kind: known.Normal}}},
		{Read: true, Way: units.Second}}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Fit()
	if err != nil {
		t.Fatal(err)
	}
	var mean, sd [1]float64
	if err := f.All(mean[:], sd[:], []float64{3 * uC, 5 * uC}, uC, nil); err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(mean[0]-2*uC) <= 1e-14*uC) || !(math.Abs(sd[0]-uC/math.Sqrt(6)) <= 1e-14*uC) {
		t.Errorf("%v ± %v, by hand 2e-06 ± 4.08e-07", mean[0], sd[0])
	}
}

// TestNotDetermined: an ioniser that takes all leaves nothing to read of the contact
// before it; the survey gets NaN, the one beside it its numbers.
func TestNotDetermined(t *testing.T) {
	touch := &Contact{Face: line.FaceA, Exposure: known.Band{Value: 1}}
	l, err := New(&Spec{Steps: []Step{{Contact: touch}, {Read: true, Ioniser: &Ioniser{Face: line.FaceA, Share: 1}}}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Fit()
	if err != nil {
		t.Fatal(err)
	}
	var mean, sd [1]float64
	if err := f.All(mean[:], sd[:], []float64{1e-6}, 1e-6, nil); err != nil || !math.IsNaN(mean[0]) || !math.IsNaN(sd[0]) {
		t.Errorf("%v ± %v, %v: nothing was read of it", mean[0], sd[0], err)
	}
}

func BenchmarkFit(b *testing.B) {
	const n = 1000
	y, truth, leak := surveys(n)
	f := six(b)
	mean, sd := make([]float64, len(truth)), make([]float64, len(truth))
	for b.Loop() {
		if err := f.All(mean, sd, y, 0.5e-6, leak); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/survey")
}
