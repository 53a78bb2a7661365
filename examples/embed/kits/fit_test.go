package kits

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/decay/decaytest"
	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// table is a decay in a table, read with straight lines between its rows.
type table struct {
	every units.Time
	rows  []float64 // [1]
}

// tabulated makes a table of a law.
func tabulated(l decay.Law, every units.Time) table {
	var t table
	for t.every = every; len(t.rows) < 2000; {
		t.rows = append(t.rows, l.Fraction(units.Time(float64(len(t.rows)))*every))
	}
	return t
}

func (t table) Fraction(at units.Time) float64 { // [1]
	x := float64(at / t.every)
	if !(x > 0) || x >= float64(len(t.rows)-1) {
		return 1 + 0*x // also behind the last row: right only for a table that is long enough
	}
	i := int(x)
	return t.rows[i] + (x-float64(i))*(t.rows[i+1]-t.rows[i])
}

// TestFastLaw holds a fast law to a slow one.
func TestFastLaw(t *testing.T) {
	law := slow{tau: 3}
	d := decaytest.Domain{MinTime: units.Millisecond, MaxTime: 9 * units.Second, RelTol: 1e-5}
	right, short := tabulated(law, 5*units.Millisecond), tabulated(law, units.Millisecond)
	hold(t, decaytest.Like(law, d))(right, short, "like")
}

// relax multiplies by the permittivity of the material.
func relax(rho known.Band, epsr float64) (known.Band, error) { // epsr [1]
	if !(rho.Value > 0 && epsr >= 1) {
		return known.Band{}, errors.New("no material")
	}
	k := units.Epsilon0 * epsr
	rho.Value *= k
	if rho.Kind == known.Normal { // the spread of a logarithm stays
		rho.Spread *= k
	}
	return rho, nil
}

// vacuum forgets the permittivity.
func vacuum(rho known.Band, _ float64) (known.Band, error) { return relax(rho, 1) }

func TestRelaxation(t *testing.T) { hold(t, decaytest.Relaxers())(relax, vacuum, "limits") }

// coating says what a finish leaves: the faster charge spreads against the web, the less.
type coating struct{ median bool } // median: decides by it alone

func (c coating) finish(s sheet.AntistatSpec) (sheet.Antistat, error) {
	spreads := func(rho float64) float64 { return 1 / (2 * units.Epsilon0 * rho) / float64(s.Span.Speed) } // [1]
	lo, hi := s.Resistivity.Limits()
	a := sheet.Antistat{Left: 1 / (1 + spreads(s.Resistivity.Value)), Least: 1 / (1 + spreads(lo)),
		Most:    1 / (1 + spreads(hi)),
		Needed:  units.SheetResistance(spreads(1) / (1/s.Enough - 1)),
		Verdict: sheet.Open, Validity: s.Flags | known.Estimate}
	a.SlowTo = units.Speed(float64(s.Span.Speed) * spreads(s.Resistivity.Value) / (1/s.Enough - 1))
	a.Dwell = units.Time(float64(s.Span.Length) / 2 / float64(s.Span.Speed))
	if a.Most <= s.Enough || c.median && a.Left <= s.Enough {
		a.Verdict = sheet.Helps
	} else if a.Least > s.Enough || c.median {
		a.Verdict = sheet.NoHelp
	}
	return a, nil
}

func TestFinish(t *testing.T) {
	hold(t, decaytest.Finishers())(coating{}.finish, coating{median: true}.finish, "verdict")
}

// slope fits a straight line to the logarithm of the readings, each of which has the
// same share of noise; scores is how many standard errors its interval reaches. [1]
type slope struct{ scores float64 }

func (s slope) fit(t []units.Time, v []units.Voltage, noise float64) (decaytest.Reading, error) {
	n, mt, my := float64(len(t)), 0.0, 0.0
	for i := range t {
		if v[i]*v[0] <= 0 {
			return decaytest.Reading{}, errors.New("a reading of the other sign")
		}
		mt, my = mt+float64(t[i])/n, my+math.Log(math.Abs(float64(v[i])))/n
	}
	xx, xy := 0.0, 0.0
	for i := range t {
		d := float64(t[i]) - mt
		xx, xy = xx+d*d, xy+d*(math.Log(math.Abs(float64(v[i])))-my)
	}
	rate, err := -xy/xx, noise/math.Sqrt(xx) // [1/s]
	half := func(r float64) units.Time { return units.Time(math.Ln2 / max(r, 1e-300)) }
	r := decaytest.Reading{Half: half(rate), Low: half(rate + s.scores*err), High: half(rate - s.scores*err)}
	if last := len(t) - 1; rate*float64(t[last]-t[0]) < 1 {
		r.Findings = append(r.Findings, decay.RecordShort)
	}
	if rate*float64(t[0]) > 0.1 {
		r.Findings = append(r.Findings, decay.LateStart)
	}
	return r, nil
}

func TestFit(t *testing.T) {
	hold(t, decaytest.Fitters())(slope{1.96}.fit, slope{1}.fit, "interval coverage")
}
