package decay_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

// tables draws the studies below in full (about ten minutes) and
// writes their tables into doc.go: go test ./decay -run TestTables -tables -timeout 1h
var tables = flag.Bool("tables", false, "draw the tables of coverage and warnings in full and write them into doc.go")

// disturbance gives the error of each reading of a record, in standard
// deviations of its noise. None shares the fit's assumptions but the first.
type disturbance func(rng *rand.Rand, t []units.Time, rel float64) []float64

func each(draw func(rng *rand.Rand, rel float64) float64) disturbance {
	return func(rng *rand.Rand, t []units.Time, rel float64) []float64 {
		e := make([]float64, len(t))
		for i := range e {
			e[i] = draw(rng, rel)
		}
		return e
	}
}

var gaussian = each(func(rng *rand.Rand, _ float64) float64 { return rng.NormFloat64() })

// even: a digital meter's last digit, or a bounded error.
var even = each(func(rng *rand.Rand, _ float64) float64 { return math.Sqrt(3) * (2*rng.Float64() - 1) })

// lognormal with mean 0 and standard deviation 1: a gain that wanders.
var lognormal = each(func(rng *rand.Rand, rel float64) float64 {
	s := math.Sqrt(math.Log1p(rel * rel))
	return math.Expm1(s*rng.NormFloat64()-s*s/2) / rel
})

// correlated: each error is rho of the one before, and new.
func correlated(rho float64) disturbance {
	return func(rng *rand.Rand, t []units.Time, _ float64) []float64 {
		e := make([]float64, len(t))
		x := rng.NormFloat64()
		for i := range e {
			e[i] = x
			x = rho*x + math.Sqrt(1-rho*rho)*rng.NormFloat64()
		}
		return e
	}
}

// drift: correlated by the time between two readings, as a meter that drifts.
func drift(tau units.Time) disturbance {
	return func(rng *rand.Rand, t []units.Time, _ float64) []float64 {
		e := make([]float64, len(t))
		x := rng.NormFloat64()
		for i := range e {
			e[i] = x
			if i+1 < len(t) {
				rho := math.Exp(-float64((t[i+1] - t[i]) / tau))
				x = rho*x + math.Sqrt(1-rho*rho)*rng.NormFloat64()
			}
		}
		return e
	}
}

// wild: one reading in twenty is off by ten standard deviations, to both sides or
// always upwards.
func wild(upwards bool) disturbance {
	return each(func(rng *rand.Rand, _ float64) float64 {
		e := rng.NormFloat64()
		if rng.IntN(20) == 0 {
			e += 10
			if !upwards && rng.IntN(2) == 0 {
				e -= 20
			}
		}
		return e
	})
}

// record draws one: 1000 V times the law, noise of abs and rel.
func record(rng *rand.Rand, law decay.Law, t []units.Time, abs units.Voltage, rel float64,
	d disturbance) []units.Voltage {
	v := make([]units.Voltage, len(t))
	e := d(rng, t, rel)
	for i := range v {
		m := 1000 * law.Fraction(t[i])
		v[i] = units.Voltage(m + e[i]*math.Hypot(float64(abs), rel*m))
	}
	return v
}

// cell is one place of a table of coverage.
type cell struct {
	models   []decay.Model
	settings decay.FitSettings // Models are set by the study
	n, sets  int
	draw     disturbance
	profile  bool // else the interval from the covariance
}

// held is how often the interval held the truth, in per cent: over all
// parameters of all laws, and of the worst and best of them.
type held struct{ mean, least, most float64 }

func (h held) String() string { return fmt.Sprintf("%.0f (%.0f–%.0f)", h.mean, h.least, h.most) }

// run draws the records and counts.
func (c cell) run(t *testing.T) held {
	t.Helper()
	h := held{0, 100, 0}
	all := 0.0
	for _, m := range c.models {
		truth := truths()[m]
		rng := rand.New(rand.NewPCG(uint64(c.n), uint64(m)))
		times := logTimes(0.3, 60, c.n)
		s := c.settings
		s.Models = []decay.Model{m}
		want := map[string]float64{"V0": 1000}
		for name, v := range truth.params {
			want[name] = v
		}
		hits, fitted := map[string]int{}, 0
		for range c.sets {
			fits, err := decay.FitDecay(times, record(rng, truth.law, times, s.Abs, s.Rel, c.draw), s)
			if err != nil {
				t.Errorf("%v, %d readings: %v", m, c.n, err)
				continue
			}
			f := fits.Best()
			fitted++
			for name, v := range want {
				p, _ := f.Param(name)
				lo, hi := p.Low, p.High
				if c.profile {
					if lo, hi, err = f.Profile(name); err != nil {
						t.Fatal(err)
					}
				}
				if lo <= v && v <= hi {
					hits[name]++
				}
			}
		}
		for name := range want {
			p := 100 * float64(hits[name]) / float64(fitted)
			h.mean += p
			all++
			h.least, h.most = min(h.least, p), max(h.most, p)
		}
	}
	h.mean /= all
	return h
}

// row is one line of a table: a name, and a cell for each number of readings.
type row struct {
	name string
	cell cell
}

// table draws rows and returns them as text.
func table(t *testing.T, head string, readings []int, rows []row) []string {
	line := fmt.Sprintf("%-36s", head)
	for _, n := range readings {
		line += fmt.Sprintf("  %-11s", fmt.Sprintf("n = %d", n))
	}
	out := []string{strings.TrimRight(line, " ")}
	for _, r := range rows {
		line := fmt.Sprintf("%-36s", r.name)
		for _, n := range readings {
			c := r.cell
			c.n = n
			line += fmt.Sprintf("  %-11s", c.run(t))
		}
		out = append(out, strings.TrimRight(line, " "))
		t.Log(line)
	}
	return out
}

// noiseRows: noise that grows with the voltage, and noise that does not.
func noiseRows(sets int) []row {
	var rows []row
	add := func(name string, abs units.Voltage, rel float64, d disturbance) {
		rows = append(rows, row{name, cell{models: decay.AllModels(), sets: sets, draw: d, profile: true,
			settings: decay.FitSettings{Abs: abs, Rel: rel}}})
	}
	for _, rel := range []float64{0.05, 0.1, 0.2, 0.3} {
		add(fmt.Sprintf("Gaussian, %.0f %% of the voltage", 100*rel), 0, rel, gaussian)
	}
	add("lognormal, 30 % of the voltage", 0, 0.3, lognormal)
	add("even, 30 % of the voltage", 0, 0.3, even)
	add("Gaussian, 10 % of V0", 100, 0, gaussian)
	return rows
}

// correlatedRows: neighbours that go together; unknown to the fit but for the
// last row.
func correlatedRows(sets int) []row {
	var rows []row
	add := func(name string, known float64, d disturbance) {
		rows = append(rows, row{name, cell{models: decay.AllModels(), sets: sets, draw: d, profile: true,
			settings: decay.FitSettings{Rel: 0.1, Correlation: known}}})
	}
	for _, rho := range []float64{0.3, 0.6, 0.8} {
		add(fmt.Sprintf("neighbours correlated by %.1f", rho), 0, correlated(rho))
	}
	add("drift over 5 s", 0, drift(5))
	add("drift over 30 s", 0, drift(30))
	add("correlated by 0.8, and that stated", 0.8, correlated(0.8))
	return rows
}

// wildRows: the robust fit.
func wildRows(sets int) []row {
	var rows []row
	for _, x := range []struct {
		name string
		d    disturbance
	}{{"no wild reading", gaussian}, {"5 % wild, both sides", wild(false)}, {"5 % wild, upwards", wild(true)}} {
		rows = append(rows, row{x.name, cell{models: decay.AllModels(), sets: sets, draw: x.d,
			settings: decay.FitSettings{Rel: 0.1, Robust: true}}})
	}
	return rows
}

// TestCoverage draws some cells of the tables with few records: all in all each
// holds 95 % within what so few draws can say, ±(2 % + 3 standard deviations of
// a share of 0.95 in the records, which count once although they have several
// parameters).
func TestCoverage(t *testing.T) {
	if *tables {
		t.Skip("the tables are drawn in full")
	}
	few := []decay.Model{decay.ModelExponential, decay.ModelOffsetExponential, decay.ModelStretched,
		decay.ModelOhmicMobility}
	sets := 120
	if testing.Short() { // under the race detector
		sets = 20
	}
	noise, wilds, serial := noiseRows(sets), wildRows(sets), correlatedRows(sets)
	for _, c := range []struct {
		row row
		n   int
	}{
		{noise[0], 8}, {noise[2], 8}, {noise[3], 60}, {noise[4], 24}, {noise[5], 60}, {noise[6], 24}, {noise[2], 400},
		{serial[1], 60}, {serial[2], 60}, {serial[3], 60}, {serial[5], 8}, {wilds[0], 24}, {wilds[1], 60}, {wilds[2], 60},
	} {
		cell := c.row.cell
		cell.n, cell.models = c.n, few
		if c.n > 100 {
			cell.models = few[:2]
		}
		h := cell.run(t)
		slack := 2 + 300*math.Sqrt(0.95*0.05/float64(cell.sets*len(cell.models)))
		if !(math.Abs(h.mean-95) <= slack) {
			t.Errorf("%s, %d readings: 95 %% intervals hold the truth in %s %%, want 95 ± %.1f", c.row.name, c.n, h, slack)
		}
	}
}

// TestWeightsByTheLaw: with weights from the readings themselves the start
// voltage came out 8 % low at 20 % noise and its interval held it in 43 of 100
// records. The bias of 400 records is known to a twentieth of one standard error.
func TestWeightsByTheLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 1))
	times := logTimes(0.3, 60, 24)
	law := must(decay.NewExponential(12))
	sum, err := 0.0, 0.0
	const sets = 400
	for range sets {
		f := must(decay.FitDecay(times, record(rng, law, times, 0, 0.2, gaussian),
			decay.FitSettings{Models: []decay.Model{decay.ModelExponential}, Rel: 0.2})).Best()
		p, _ := f.Param("V0")
		sum += p.Value/1000 - 1
		err += p.Err / 1000
	}
	if bias, tenth := sum/sets, 0.2*err/sets; !(math.Abs(bias) <= tenth) {
		t.Errorf("V0 is off by %.2f %%, more than a fifth of its error, %.2f %%", 100*bias, 100*tenth)
	}
}

// TestTables works the tables out and writes them into doc.go, between the
// headings that they stand under.
func TestTables(t *testing.T) {
	if !*tables {
		t.Skip("needs -tables")
	}
	sections := [][2]string{{"# How far an interval holds", "# How far a warning holds"},
		{"# How far a warning holds", "# Conventions"}}
	var coverage []string
	part := func(say string, lines []string) {
		coverage = append(coverage, strings.Split(say, "\n")...)
		coverage = append(coverage, "")
		for _, l := range lines {
			coverage = append(coverage, "\t"+l)
		}
		coverage = append(coverage, "")
	}
	part(`Records of 1000 V times a law, read at n times equal in ln t from 0.3 to 60 s, drawn
from a seed; shares in per cent in which the nominal 95 % interval of a parameter
holds the truth: the mean over all parameters of all eight laws, and the worst and
the best of them (300 records each: chance alone spreads those by ±3). Tables by
TestTables. Profile intervals ([Fit.Profile]):`,
		table(t, "noise", []int{8, 16, 24, 60, 400}, noiseRows(300)))
	part(`The same at 10 % noise whose neighbours go together. Fewer than about 20 readings
cannot show it: state it, if a long record of the same meter has shown it:`,
		table(t, "errors", []int{8, 16, 24, 60, 400}, correlatedRows(300)))
	part(`The robust fit at 10 % noise, wild readings 10 standard deviations off
([Fit.Param]; it needs about 16 readings):`,
		table(t, "readings", []int{8, 16, 24, 60, 400}, wildRows(300)))
	part(`The time to half and to a tenth of 1000 V, 500 records a law of 40 readings from 0.3
to 100 s with noise of 2 % of V0 and 5 % of the voltage, all laws fitted: own is the
interval by the true law ([Fit.TimeToVoltageInterval]), laws the one over all laws
(Low … High of [TimeSpread]), outer the envelope (Least … Most):`,
		timeTable(t, 500))
	write(t, sections[0], coverage)
	write(t, sections[1], warningTable(t, 300))
}

// write puts the lines into doc.go between two headings.
func write(t *testing.T, between [2]string, lines []string) {
	text, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	a, b := strings.Index(s, "// "+between[0]), strings.Index(s, "// "+between[1])
	if a < 0 || b < a {
		t.Fatalf("doc.go: no section %q before %q", between[0], between[1])
	}
	var out strings.Builder
	out.WriteString(s[:a] + "// " + between[0] + "\n//\n")
	for _, l := range lines {
		if !strings.HasPrefix(l, "\t") {
			l = " " + l
		}
		out.WriteString(strings.TrimRight("//"+l, " ") + "\n")
	}
	out.WriteString(s[b:])
	if err := os.WriteFile("doc.go", []byte(out.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}
