package humidity

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/testdata"
	"example.org/pithball/units"
)

// rowsOf returns the rows of testdata whose id begins so.
func rowsOf(t *testing.T, prefix string) []testdata.Row {
	t.Helper()
	all, err := testdata.Rows("humidity")
	if err != nil {
		t.Fatal(err)
	}
	var rows []testdata.Row
	for i := range all {
		if strings.HasPrefix(all[i].ID, prefix) {
			rows = append(rows, all[i])
		}
	}
	return rows
}

// regress returns the least-squares coefficients of y on the columns of x and the
// root mean square of what is left.
func regress(t *testing.T, x [][]float64, y []float64) (c []float64, rms float64) {
	t.Helper()
	a := mat.NewDense(len(x), len(x[0]), nil)
	for i, r := range x {
		a.SetRow(i, r)
	}
	var v, fit mat.VecDense
	if err := v.SolveVec(a, mat.NewVecDense(len(y), y)); err != nil {
		t.Fatal(err)
	}
	fit.MulVec(a, &v)
	for i := range y {
		rms += (y[i] - fit.AtVec(i)) * (y[i] - fit.AtVec(i)) / float64(len(y))
	}
	return v.RawVector().Data, math.Sqrt(rms)
}

// TestOlderScale proves the reasons that rows of testdata give for lying outside: the
// tables miss the model by one smooth scale or one constant of their own, and once
// that is taken out nothing is left but the rounding of what they print (an even
// spread over the last digit has the standard deviation digit/√12).
func TestOlderScale(t *testing.T) {
	// Density of saturated vapour at 0 … 39 °C: today's over the table's, a parabola
	// in temperature.
	var x [][]float64
	var y []float64
	spread := 0.0 // rounding, relative
	rows := rowsOf(t, "VD-")
	for _, r := range rows {
		T := units.Temperature(r.Args["temperature"])
		air, err := NewAir(T, 1, units.Pressure(r.Args["pressure"]))
		if err != nil {
			t.Fatal(err)
		}
		c := (float64(T) - 273.15) / 40
		x, y = append(x, []float64{1, c, c * c}), append(y, float64(air.VapourDensity())/r.Want-1)
		s := 2 * r.AbsTol / math.Sqrt(12) / r.Want
		spread += s * s / float64(len(rows))
	}
	c, rms := regress(t, x, y)
	t.Logf("vapour density: scale %+.3f %% at 0 °C, parabola %.4f; left %.3f %%, rounding %.3f %%", 100*c[0], c, 100*rms,
		100*math.Sqrt(spread))
	if rms > 1.5*math.Sqrt(spread) || len(y) != 40 {
		t.Errorf("the table of vapour densities is no smooth scale of ours: %.3f %% left of %d values", 100*rms, len(y))
	}

	// Psychrometer over ice: RH·e_i(t) = s·e_i(t′) − A₀(1 + B t′)·p·(t − t′), with free
	// s and A₀.
	x, y = nil, nil
	for _, r := range rowsOf(t, "PSYICE-") {
		T, wet, p := r.Args["a"], r.Args["b"], r.Args["pressure"]
		dry, err := NewAir(units.Temperature(T), 0.01, units.Pressure(p))
		if err != nil {
			t.Fatal(err)
		}
		wick, err := NewAir(units.Temperature(wet), 0.01, units.Pressure(p))
		if err != nil {
			t.Fatal(err)
		}
		over := func(a Air) float64 { // saturation over ice [Pa]
			return float64(a.VapourPressure()) / float64(a.RelativeHumidityIce())
		}
		lag := p * (T - wet) * (1 + coefficients[Sling][1].b*(wet-273.15)) // [Pa·K]
		x = append(x, []float64{over(wick) / over(dry), -lag / over(dry)})
		y = append(y, r.Want)
	}
	c, rms = regress(t, x, y)
	t.Logf("psychrometer over ice: scale %.4f, A₀ %.4g/K; left %.3f %%RH, rounding 0.289 %%RH", c[0], c[1], 100*rms)
	if len(y) != 140 || !(math.Abs(c[0]-1) <= 0.003) || !(math.Abs(c[1]-6.54e-4) <= 0.03e-4) || rms > 0.0035 {
		t.Errorf("the table over ice is no psychrometer of scale 1 and A₀ 6.54e-4: %.4g, %.3g %%RH left", c, 100*rms)
	}
	if a := coefficients[Sling][1].a; !(math.Abs(c[1]/a-1) <= 0.02) {
		t.Errorf("its constant %.4g lies %.1f %% off the model's", c[1], 100*(c[1]/a-1))
	}
}
