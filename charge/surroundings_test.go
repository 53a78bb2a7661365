package charge

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/testdata"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// leastSquares fits y = c0 + Σ ck·xk by the normal equations and returns the coefficients.
func leastSquares(rows [][]float64, y []float64) []float64 {
	k := len(rows[0])
	a := make([][]float64, k)
	for i := range a {
		a[i] = make([]float64, k+1)
		for n, r := range rows {
			for j := range k {
				a[i][j] += r[i] * r[j]
			}
			a[i][k] += r[i] * y[n]
		}
	}
	for i := range a {
		for j := k; j >= i; j-- {
			a[i][j] /= a[i][i]
		}
		for r := range a {
			if r != i {
				f := a[r][i]
				for j := range a[r] {
					a[r][j] -= f * a[i][j]
				}
			}
		}
	}
	out := make([]float64, k)
	for i := range out {
		out[i] = a[i][k]
	}
	return out
}

// The measured peels fitted here: speed and humidity move what is left as the priors
// allow. 78 of 80 peels (two that left next to nothing are set apart).
func TestPriorsHoldMeasuredPeels(t *testing.T) {
	rows, err := testdata.Rows("charge")
	if err != nil {
		t.Fatal(err)
	}
	var x [][]float64
	var y []float64
	in, all := 0, 0
	for i := range rows {
		if r := &rows[i]; r.Compute == "charge.Mode.Elsewhere" && r.Gate() {
			lo, mid, hi := PeelContact.Elsewhere(units.SurfaceChargeDensity(r.Args["change"]), units.Speed(r.Args["from"]),
				units.Speed(r.Args["speed"]),
				units.RelativeHumidity(r.Args["from_humidity"]), units.RelativeHumidity(r.Args["humidity"]), r.Args["scatter"])
			if q := units.SurfaceChargeDensity(r.Want); q >= lo && q <= hi && lo < mid && mid < hi {
				in++
			}
			all++
		}
		if r := &rows[i]; r.Compute == "charge.Mode.Elsewhere" && r.Measured != nil && r.Want > 3e-6 {
			x = append(x, []float64{1, math.Log(r.Args["speed"] / r.Args["from"]), r.Args["humidity"] - r.Args["from_humidity"]})
			y = append(y, math.Log(r.Want))
		}
	}
	if len(x) < 75 {
		t.Fatalf("%d peels", len(x))
	}
	if share := float64(in) / float64(all); share < 0.85 || share > 0.97 {
		t.Errorf("%.3f of %d peels inside", share, all)
	}
	c := leastSquares(x, y)
	lo, hi := PeelContact.Prior().SpeedExponent.Limits()
	if !(c[1] > lo && c[1] < hi && c[1] < 0) {
		t.Errorf("speed exponent %g, prior %g … %g", c[1], lo, hi)
	}
	s := PriorSurroundings()
	if lo, hi := s.Humidity.Limits(); !(c[2] > lo && c[2] < hi) {
		t.Errorf("humidity %g, prior %g … %g", c[2], lo, hi)
	}
}

func TestSurroundings(t *testing.T) {
	s := PriorSurroundings()
	if err := s.Check(); err != nil {
		t.Error(err)
	}
	// 20 %RH more at the median: exp(−1.5·0.2).
	k, v := s.Factor(0.4, 0.6, 0, 0, 0)
	checkNear(t, "median", k, math.Exp(-0.3), 1e-12)
	if v != known.Unpublished {
		t.Errorf("%v", v)
	}
	// Nothing changed, nothing moves, whatever the score.
	if k, _ := s.Factor(0.4, 0.4, 0, 2, -2); k != 1 {
		t.Errorf("%g", k)
	}
	if _, v := s.Factor(0.1, 0.6, 30, 0, 0); v&known.AboveRange == 0 {
		t.Errorf("%v", v)
	}
	if _, v := s.Factor(0.6, 0.1, -30, 0, 0); v&known.BelowRange == 0 {
		t.Errorf("%v", v)
	}
	for _, h := range []units.RelativeHumidity{-0.1, 1.1, units.RelativeHumidity(math.NaN())} {
		if k, v := s.Factor(h, 0.5, 0, 0, 0); !math.IsNaN(k) || v != known.WrongShape {
			t.Errorf("%v: %g, %v", h, k, v)
		}
	}
	// Two saturations at 30 and 50 %RH, 12 and 9 µC/m² each ± 5 %: ln(0.75)/0.2 ± 0.05·√2/0.2.
	a := known.Band{Value: 12e-6, Spread: 0.05, Kind: known.LogNormal}
	b := known.Band{Value: 9e-6, Spread: 0.05 * 9e-6, Kind: known.Normal}
	f, err := FitHumidity(a, b, 0.3, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "slope", f.Value, math.Log(0.75)/0.2, 1e-12)
	checkNear(t, "its deviation", f.Spread, 0.05*math.Sqrt2/0.2, 1e-12)
	var fe *known.FieldError
	for _, c := range []struct {
		a, b   known.Band
		ha, hb units.RelativeHumidity
	}{{a, known.Band{Value: -9e-6}, 0.3, 0.5}, {a, b, 0.3, 0.31}, {a, b, 0.3, 1.2}, {known.Band{}, b, 0.3, 0.5}} {
		if _, err := FitHumidity(c.a, c.b, c.ha, c.hb); !errors.As(err, &fe) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

// The measured pieces as digitised (Apodaca et al. 2010), fitted: 1.22 on the same
// rubber, 2.6 on steel; the law is their 5 … 95 %.
func TestPieceCharge(t *testing.T) {
	side := []float64{1.85, 2.08, 3.48, 3.65, 4.00, 5.27, 7.21, 7.61, 8.21}
	q := []float64{0.061, 0.071, 0.089, 0.097, 0.135, 0.178, 0.289, 0.329, 0.371}
	var x [][]float64
	var y []float64
	for i := range side {
		x, y = append(x, []float64{1, math.Log(side[i])}), append(y, math.Log(q[i]))
	}
	if e := leastSquares(x, y)[1]; !(math.Abs(e-1.22) <= 0.01) {
		t.Errorf("exponent %g", e)
	}
	lo, mid, hi, v := PieceCharge(1e-10, 4*units.Millimetre, 8*units.Millimetre, true)
	checkNear(t, "like on like", float64(mid)*1e10, math.Pow(2, 1.24), 1e-12)
	if v != known.Inside || !(lo < mid && mid < hi) || !(float64(lo)*1e10 < math.Pow(2, 1.06)) ||
		!(float64(hi)*1e10 > math.Pow(2, 1.42)) {
		t.Errorf("%v … %v … %v, %v", lo, mid, hi, v)
	}
	_, mid, _, _ = PieceCharge(-1e-10, 4*units.Millimetre, 8*units.Millimetre, false)
	checkNear(t, "unlike", float64(mid)*1e10, -math.Pow(2, 2.4), 1e-12)
	if _, _, _, v := PieceCharge(1, 1*units.Millimetre, 11*units.Millimetre,
		true); v != known.BelowRange|known.AboveRange {
		t.Errorf("%v", v)
	}
	if _, m, _, v := PieceCharge(1, 0, 1, true); !math.IsNaN(float64(m)) || v != known.WrongShape {
		t.Errorf("%v, %v", m, v)
	}
}

// Nylon 6 against PTFE is positive with 84 % of the unit between them: no doubt. A
// pair a tenth apart has no sign outside a laboratory: Φ(0.1/0.3) = 0.63.
func TestFirstPositive(t *testing.T) {
	nylon, _ := FindSeries("nylon 6", known.Quoted)
	ptfe, _ := FindSeries("PTFE", known.Quoted)
	if p := SeriesPair(nylon, ptfe).FirstPositive(SeriesScatter); !(p > 0.99) {
		t.Errorf("nylon on PTFE: %g", p)
	}
	if p := SeriesPair(ptfe, nylon).FirstPositive(SeriesScatter); !(p < 0.01) {
		t.Errorf("swapped: %g", p)
	}
	checkNear(t, "close pair", PairStrength{Relative: 0.1}.FirstPositive(SeriesScatter), 0.6306, 1e-4)
	for _, c := range [][2]float64{{1, 1}, {-1, 0}, {0, 0.5}} {
		if p := (PairStrength{Relative: c[0]}).FirstPositive(0); p != c[1] {
			t.Errorf("%v: %g", c, p)
		}
	}
	if !math.IsNaN((PairStrength{}).FirstPositive(-1)) ||
		!math.IsNaN((PairStrength{Relative: math.NaN()}).FirstPositive(0.3)) {
		t.Error("no NaN")
	}
	for _, r := range Reversals() {
		if r.Cause == "" || r.Pair == "" || r.Seen == "" || r.Source.Check("source") != nil {
			t.Errorf("%+v: %v", r, r.Source.Check("source"))
		}
	}
}

// TestElsewhereByHand: a peel at twice the speed and 20 %RH more, repeats scattered by
// 0.4 in ln. Medians: 0.2·ln2 − 1.5·0.2 = −0.16137. Half-widths (5 and 95 %): speed
// 0.72·ln2 = 0.49907, humidity 4.5·0.2 = 0.9, repeats 1.64485·0.4 = 0.65794, together
// 1.22146. 10 µC/m² become 8.510 (2.509 … 28.87) µC/m².
func TestElsewhereByHand(t *testing.T) {
	const ten = 10 * units.MicrocoulombPerSquareMetre
	for _, c := range []struct{ sign, low, mid, high float64 }{{1, 2.5087, 8.5097, 28.866},
		{-1, -28.866, -8.5097, -2.5087}} {
		lo, mid, hi := PeelContact.Elsewhere(units.SurfaceChargeDensity(c.sign*float64(ten)), 1, 2, 0.4, 0.6, 0.4)
		for i, x := range [][2]float64{{float64(lo), c.low}, {float64(mid), c.mid}, {float64(hi), c.high}} {
			if !(math.Abs(x[0]*1e6/x[1]-1) < 2e-4) {
				t.Errorf("sign %g, limit %d: %.5g µC/m², want %.5g", c.sign, i, x[0]*1e6, x[1])
			}
		}
	}
	// Half the speed and drier air by as much: the median turns to its inverse.
	if _, mid, _ := PeelContact.Elsewhere(ten, 2, 1, 0.6, 0.4, 0); !(math.Abs(float64(mid)*1e6/11.7512-1) < 2e-4) {
		t.Errorf("back: %v", mid)
	}
}
