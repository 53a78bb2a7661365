package decaytest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Reading is what a fit says of a record: the time to a half with its 95 % interval,
// and its findings.
type Reading struct {
	Half, Low, High units.Time      // time to a half and its interval
	Findings        []decay.Finding // of the comparison and its best fit
}

// Fitter reads a record of a decay whose readings have errors of the given share of
// the voltage.
type Fitter func(t []units.Time, v []units.Voltage, noise float64) (Reading, error)

// Exponentials is the fitter of package decay with one law, the exponential.
func Exponentials(t []units.Time, v []units.Voltage, noise float64) (Reading, error) { // noise [1]
	c, err := decay.FitDecay(t, v, decay.FitSettings{Models: []decay.Model{decay.ModelExponential}, Rel: noise,
		Independent: true})
	if err != nil {
		return Reading{}, err
	}
	s, err := c.TimeToFraction(0.5)
	return Reading{s.Best, s.Low, s.High, append(c.Findings(), c.Best().Findings()...)}, err
}

// Record is how records of a known exponential are invented.
type Record struct {
	N     int        // readings, 12 … 60
	Tau   units.Time // relaxation time, 10 ms … 1000 s
	Spans float64    // [1] length in relaxation times, 1.5 … 4
	Noise float64    // [1] standard deviation of a reading as a share of it, 0.5 … 10 %
	Seed  int        // of the noise
}

// draw returns a record that begins after late relaxation times and lasts spans.
func (in Record) draw(r *rand.Rand, late, spans float64) ([]units.Time, []units.Voltage) {
	t, v := make([]units.Time, in.N), make([]units.Voltage, in.N)
	for i := range t {
		x := late + spans*float64(i)/float64(in.N-1)
		t[i] = units.Time(x * float64(in.Tau))
		v[i] = units.Voltage(1000 * math.Exp(-x) * (1 + in.Noise*r.NormFloat64()))
	}
	return t, v
}

// Fitters returns the laws of a fit to records of an exponential with seeded noise.
func Fitters() lawtest.Kit[Fitter, Record] {
	changed := func(change func(r *Reading)) Fitter {
		return func(t []units.Time, v []units.Voltage, noise float64) (Reading, error) {
			r, err := Exponentials(t, v, noise)
			change(&r)
			return r, err
		}
	}
	const records = 60
	// share counts the records of which hold is true.
	share := func(m Fitter, in Record, late, spans float64, hold func(r Reading) bool) (float64, error) {
		g := rand.New(rand.NewPCG(uint64(in.Seed), 17))
		n := 0
		for range records {
			t, v := in.draw(g, late, spans)
			r, err := m(t, v, in.Noise)
			if err != nil {
				return 0, err
			}
			if hold(r) {
				n++
			}
		}
		return float64(n) / records, nil
	}
	return lawtest.Kit[Fitter, Record]{Input: func(d *lawtest.Draw, _ Fitter) Record {
		return Record{N: d.Int("n", 12, 60), Tau: lawtest.Decades(d, "tau", units.Time(0.01), units.Time(1000)),
			Spans: lawtest.Between(d, "spans", 1.5, 4.0), Noise: lawtest.Decades(d, "noise", 0.005, 0.1),
			Seed: d.Int("seed", 0, 1000)}
	}, Laws: []lawtest.Law[Fitter, Record]{{
		Name: "interval", Says: "low <= time to a half <= high, apart where there is noise", Source: "noise is an error",
		Broken: changed(func(r *Reading) { r.Low, r.High = r.Half, r.Half }), // the error is forgotten
		Check: func(m Fitter, in Record) error {
			t, v := in.draw(rand.New(rand.NewPCG(uint64(in.Seed), 5)), 0, in.Spans)
			r, err := m(t, v, in.Noise)
			if err != nil {
				return err
			}
			return lawtest.That(r.Low < r.Half && r.Half < r.High, "low < half < high", r.Low, r.Half, r.High)
		},
	}, {
		Name: "interval coverage", Says: fmt.Sprintf("the 95 %% interval holds the true time in 80 … 100 %% of %d records",
			records), Source: "definition of a confidence interval; 80 % are five standard deviations of the count below 95 %",
		// The standard error taken for the 95 % end: holds 67 %.
		Broken: changed(func(r *Reading) {
			r.Low, r.High = r.Half-(r.Half-r.Low)/1.96, r.Half+(r.High-r.Half)/1.96
		}),
		Check: func(m Fitter, in Record) error {
			half := units.Time(math.Ln2 * float64(in.Tau))
			held, err := share(m, in, 0, in.Spans, func(r Reading) bool { return r.Low <= half && half <= r.High })
			if err != nil {
				return err
			}
			return lawtest.That(held >= 0.80, "0.80 … 1", held)
		},
	}, {
		Name: "unit of time", Says: "a record in other units of time has its times in them", Source: "no clock is special",
		Broken: func(t []units.Time, v []units.Voltage, noise float64) (Reading, error) {
			r, err := Exponentials(t, v, noise)
			r.Half += 1e-3 // a meter's dead time added to whatever was measured
			return r, err
		},
		Check: func(m Fitter, in Record) error {
			t, v := in.draw(rand.New(rand.NewPCG(uint64(in.Seed), 6)), 0, in.Spans)
			a, err := m(t, v, in.Noise)
			if err != nil {
				return err
			}
			for i := range t {
				t[i] *= 1024 // exact
			}
			b, err := m(t, v, in.Noise)
			if err != nil {
				return err
			}
			ok := math.Abs(float64(b.Half/a.Half)/1024-1) < 1e-5
			return lawtest.That(ok, fmt.Sprint(a.Half*1024), b.Half)
		},
	}, {
		Name: "short record", Says: "a record that ends above 1/e is called short, one that ends below 0.2 is not",
		Source: "a time constant that nobody waited for is extrapolated",
		Broken: changed(func(r *Reading) { r.Findings = nil }), // says nothing ever
		Check: func(m Fitter, in Record) error {
			short := func(r Reading) bool { return slices.Contains(r.Findings, decay.RecordShort) }
			a, err := share(m, in, 0, 0.6, short)
			if err != nil {
				return err
			}
			b, err := share(m, in, 0, 2.5, short)
			if err != nil {
				return err
			}
			return lawtest.That(a >= 0.9 && b <= 0.1, "at least 0.9 of the short ones, at most 0.1 of the others", a, b)
		},
	}, {
		Name: "late start", Says: "a record that begins after 0.5 τ is called late in most cases, one from the start " +
			"in few", Source: "what was over at the first reading is not seen",
		Broken: changed(func(r *Reading) { r.Findings = append(r.Findings, decay.LateStart) }), // cries always
		Check: func(m Fitter, in Record) error {
			late := func(r Reading) bool { return slices.Contains(r.Findings, decay.LateStart) }
			a, err := share(m, in, 0.5, in.Spans, late)
			if err != nil {
				return err
			}
			b, err := share(m, in, 0, in.Spans, late)
			if err != nil {
				return err
			}
			return lawtest.That(a >= 0.8 && b <= 0.2, "at least 0.8 of the late ones, at most 0.2 of the others", a, b)
		},
	}}}
}
