package humidity

import (
	"encoding"
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestMoistureText(t *testing.T) {
	for i := range 2000 {
		v := math.Exp2(-20 * portable(5, i))
		for _, c := range []struct {
			out encoding.TextMarshaler
			in  encoding.TextUnmarshaler
			v   func() float64
		}{{Regain(v), new(Regain), nil}, {MoistureContent(v), new(MoistureContent), nil}} {
			b, err := c.out.MarshalText()
			if err != nil {
				t.Fatal(err)
			}
			if err := c.in.UnmarshalText(b); err != nil {
				t.Fatal(err)
			}
			var back float64
			switch x := c.in.(type) {
			case *Regain:
				back = float64(*x)
			case *MoistureContent:
				back = float64(*x)
			}
			if back != v {
				t.Fatalf("%q reads %g, wrote %g", b, back, v)
			}
		}
	}
	var r Regain
	var m MoistureContent
	for _, s := range []string{"8.5%", "8.5", "8.5% wet basis", "x% dry basis", "NaN% dry basis"} {
		if err := r.UnmarshalText([]byte(s)); err == nil {
			t.Errorf("regain accepts %q", s)
		}
	}
	if err := m.UnmarshalText([]byte("8.5% dry basis")); err == nil {
		t.Error("moisture content accepts a dry basis")
	}
	if Regain(0.085).String() != "8.5 % dry basis" {
		t.Error(Regain(0.085).String())
	}
	near(t, "M of R 8.5 %", float64(Regain(0.085).Content()), 8.5/108.5, 1e-15)
	near(t, "and back", float64(Regain(0.085).Content().Regain()), 0.085, 1e-15)
}

// The prediction error of a straight line against the matrix form of least
// squares, s²(1 + xᵀ(XᵀX)⁻¹x), with unscaled abscissas.
func TestFitAgainstMatrixForm(t *testing.T) {
	pts := []Point[units.Time]{{20 * units.PercentRH, 30 * units.Second}, {31 * units.PercentRH, 9 * units.Second},
		{44 * units.PercentRH, 0.2 * units.Second}, {52 * units.PercentRH, 0.3 * units.Second}}
	l, err := FitLogLinear(pts, nil)
	if err != nil {
		t.Fatal(err)
	}
	n := len(pts)
	x, y := mat.NewDense(n, 2, nil), mat.NewVecDense(n, nil)
	for i, p := range pts {
		x.SetRow(i, []float64{1, float64(p.RH)})
		y.SetVec(i, math.Log10(float64(p.Value)))
	}
	var c mat.VecDense
	if err := c.SolveVec(x, y); err != nil {
		t.Fatal(err)
	}
	var res mat.VecDense
	res.MulVec(x, &c)
	res.SubVec(&res, y)
	s2 := mat.Dot(&res, &res) / float64(n-2)
	var xtx, inv mat.Dense
	xtx.Mul(x.T(), x)
	if err := inv.Inverse(&xtx); err != nil {
		t.Fatal(err)
	}
	for _, rh := range []float64{0.05, 0.3, 0.9} {
		v := mat.NewVecDense(2, []float64{1, rh})
		near(t, "log10", math.Log10(float64(l.At(units.RelativeHumidity(rh)))), mat.Dot(v, &c), 1e-12)
		var iv mat.VecDense
		iv.MulVec(&inv, v)
		// Student's 95 % quantile for 2 degrees of freedom, 2.919986, over Φ⁻¹(0.95).
		near(t, "decades", l.DecadesAt(units.RelativeHumidity(rh)),
			math.Sqrt(s2*(1+mat.Dot(v, &iv)))*2.919985580/1.644853627, 1e-8)
	}
	if v := l.Validity(mustAir(t, IAPWS, units.Atmosphere, DryBulb(293*units.Kelvin),
		RH(10*units.PercentRH))); v != known.BelowRange {
		t.Error(v)
	}
	// Two points leave no residual: the spread is the sample's, never 0.
	l, _ = FitLogLinear(pts[:2], nil)
	if d := l.DecadesAt(25 * units.PercentRH); d < SampleDecades {
		t.Error("two points claim", d)
	}
	lo, hi := l.BandAt(25 * units.PercentRH).Limits()
	if math.Log10(hi/lo) < 1 { // ±0.5 decade
		t.Error(lo, hi)
	}
	if !(math.Abs(float64(l.RelativeHumidity(l.At(37*units.PercentRH)))-0.37) <= 1e-12) {
		t.Error("inverse")
	}
}

// Each law must find again what made the points.
func TestFitsRecoverTheirLaw(t *testing.T) {
	film, err := NewAdsorbedFilm(1e5*units.OhmPerSquare, 18, 0.3, 0, 100*units.PercentRH)
	if err != nil {
		t.Fatal(err)
	}
	var pts []Point[units.SheetResistance]
	for _, rh := range []units.RelativeHumidity{units.RelativeHumidity(0.2), units.RelativeHumidity(0.5),
		units.RelativeHumidity(0.7), units.RelativeHumidity(0.9)} {
		pts = append(pts, Point[units.SheetResistance]{rh, film.At(rh)})
	}
	f, err := FitAdsorbedFilm(pts, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "k", f.K(), 18, 1e-10)
	near(t, "ρ_d", float64(f.At(units.RelativeHumidity(1))), 1e5, 1e-6)
	near(t, "dry", float64(f.At(0))/1e5, math.Exp(18), 1e-6*math.Exp(18))

	power, err := NewMoisturePower(WetPoint[units.MassResistivity, Regain]{Regain(0.08), units.MassResistivity(1e8)},
		11.4, 0.3, Regain(0.02), Regain(0.2))
	if err != nil {
		t.Fatal(err)
	}
	var wet []WetPoint[units.MassResistivity, Regain]
	for _, r := range []Regain{0.04, 0.06, 0.11} {
		wet = append(wet, WetPoint[units.MassResistivity, Regain]{r, power.At(r)})
	}
	g, err := FitMoisturePower(wet, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "n", g.Exponent(), 11.4, 1e-9)
	// Moisture 6.5 against 5.5 % is a factor of 6.7 by history alone, half of the loop 2.5 … 2.7.
	near(t, "loop", float64(power.At(Regain(0.055)))/float64(power.At(Regain(0.065))), 6.7, 0.05)

	// E_a 41.2 kJ/mol: ÷1.746 from 20 to 30 °C.
	a, err := FitArrhenius([]HotPoint[units.VolumeResistivity]{{units.Celsius(20), units.VolumeResistivity(1.746e11)},
		{units.Celsius(30), units.VolumeResistivity(1e11)}}, HeldMoisture, nil)
	if err != nil {
		t.Fatal(err)
	}
	e, doubt := a.Activation()
	near(t, "E_a", e, 41.2e3, 50)
	// 0.304·√2 decades over the step of 1/T of 10 K.
	near(t, "its error", doubt, 0.304*math.Sqrt2*8.31446*math.Ln10/(1/293.15-1/303.15), 10)
	if _, err := NewWarmed[units.VolumeResistivity](Constant[units.VolumeResistivity]{units.VolumeResistivity(1), 0}, a,
		units.Celsius(20)); err == nil {
		t.Error("an activation energy at constant moisture was taken for one at constant humidity")
	}
}

// A law in moisture content is fed with the content of the isotherm's regain:
// R 25 % is M 20 %, where the value is stated.
func TestChainConvertsTheBasis(t *testing.T) {
	iso, err := NewProportional(Regain(0.5))
	if err != nil {
		t.Fatal(err)
	}
	half := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(20)), RH(50*units.PercentRH))
	content, err := NewMoisturePower(WetPoint[units.Time, MoistureContent]{MoistureContent(0.2), 7 * units.Second}, 12,
		0.3, MoistureContent(0.1), MoistureContent(0.3))
	if err != nil {
		t.Fatal(err)
	}
	regain, err := NewMoisturePower(WetPoint[units.Time, Regain]{Regain(0.25), 9 * units.Second}, 12, 0.3, Regain(0.1),
		Regain(0.3))
	if err != nil {
		t.Fatal(err)
	}
	c, err1 := Chain(content, iso, 0.4)
	r, err2 := Chain(regain, iso, 0)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	near(t, "in content", float64(c.Value(half)), 7, 1e-9)
	near(t, "in regain", float64(r.Value(half)), 9, 1e-9)
	near(t, "spread", c.Decades(half), 0.5, 1e-12)
	if c.Validity(half) != known.Inside || c.Validity(half.At(units.Celsius(40))) != known.BelowRange {
		t.Error(c.Validity(half), c.Validity(half.At(units.Celsius(40))))
	}
}

// A law in humidity carried from 20 to 30 °C at the same humidity by 41.2 kJ/mol
// falls by 1.746.
func TestWarmed(t *testing.T) {
	by, err := NewArrhenius(ArrheniusSpec[units.Time]{At: HotPoint[units.Time]{units.Celsius(50), 1 * units.Second},
		Activation: 41.2e3,
		Error:      10e3, Decades: 0.3, Low: units.Celsius(10), High: units.Celsius(60), Held: HeldHumidity})
	if err != nil {
		t.Fatal(err)
	}
	law, err := NewLogLinear(Point[units.Time]{40 * units.PercentRH, 3 * units.Second}, 0.08, 0.3, 20*units.PercentRH,
		60*units.PercentRH)
	if err != nil {
		t.Fatal(err)
	}
	w, err := NewWarmed[units.Time](law, by, units.Celsius(20))
	if err != nil {
		t.Fatal(err)
	}
	warm := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(30)), RH(40*units.PercentRH))
	near(t, "warm", 3/float64(w.Value(warm)), 1.746, 0.001)
	// An error of 10 kJ/mol over the step of 10 K is log10(1.746)·10/41.2 = 0.0587 decades.
	near(t, "its spread", w.Decades(warm), math.Hypot(0.3, 0.0587), 1e-4)
}

func TestLawsRefuse(t *testing.T) {
	rising := []Point[units.Time]{{20 * units.PercentRH, 1 * units.Second}, {60 * units.PercentRH, 3 * units.Second}}
	_, e1 := FitLogLinear(rising, nil)
	_, e2 := FitAdsorbedFilm(rising, nil)
	_, e3 := FitLogLinear(rising[:1], nil)
	_, e4 := FitLogLinear([]Point[units.Time]{rising[0], rising[0]}, nil)
	_, e5 := FitLogLinear([]Point[units.Time]{{50 * units.PercentRH, 0}, {units.RelativeHumidity(50), 1 * units.Second}},
		nil)
	_, e6 := NewLogLinear(Point[units.Time]{50 * units.PercentRH, 1 * units.Second}, -0.1, 0.3, 0, 100*units.PercentRH)
	_, e7 := NewGAB(Regain(5), 10, 1.2, 0, 100*units.PercentRH)
	_, e8 := NewSheet(0, units.Diffusivity(math.NaN()), true)
	_, e9 := NewRoom(RoomSpec{})
	_, e10 := NewColdBody(ColdBodySpec{HeatPerArea: 10, Convection: 5})
	_, e11 := MaterialFor("wood-ish")
	_, e12 := FitMoisturePower([]WetPoint[units.Time, Regain]{{Regain(8), 1 * units.Second},
		{Regain(9), 1 * units.Second}}, nil)
	_, e13 := Chain(MoisturePower[units.Time, Regain]{}, nil, 5)
	_, e14 := NewPile(PileSpec{Length: units.Metre, Width: units.Metre, Height: units.Metre})
	_, e15 := NewWarmed[units.Time](nil, Arrhenius[units.Time]{}, units.Celsius(-300))
	for i, c := range []struct {
		err   error
		field []string
	}{{e1, []string{"points"}}, {e2, []string{"points"}}, {e3, []string{"points"}}, {e4, []string{"points[].rh"}},
		{e5, []string{"points[0].value", "points[1].rh"}},
		{e6, []string{"decades_per_percent"}}, {e7, []string{"monolayer", "k"}}, {e8, []string{"thickness", "d"}},
		{e9, []string{"volume", "ventilation"}},
		{e10, []string{"heat_per_area"}}, {e11, []string{"key"}}, {e12, []string{"points[0].M", "points[1].M"}},
		{e13, []string{"mismatch", "iso", "law"}}, {e14, []string{"Across"}},
		{e15, []string{"law", "by", "t0"}}} {
		var f *known.FieldError
		if !errors.As(c.err, &f) {
			t.Errorf("%d: %v is no FieldError", i+1, c.err)
			continue
		}
		for _, name := range c.field {
			if !strings.Contains(c.err.Error(), name+":") {
				t.Errorf("%d: %v does not name %s", i+1, c.err, name)
			}
		}
	}
}

// Isotherm and resistivity law of one handbook tradition do not fit each other:
// at 65 %RH the chain misses the listed log10 R_s by 0.43 (cotton), 0.9 (viscose)
// and 3.1 (acetate) decades. All of it from memory: this documents why Chain
// demands a mismatch and proves nothing about fibres.
func TestHandbookSetsDisagree(t *testing.T) {
	for _, c := range []struct {
		key                string
		n, logK, listed, d float64
	}{{"cotton", 11.4, 16.6, 6.8, 0.43}, {"viscose", 11.6, 19.6, 7.0, 0.9}, {"acetate", 10.6, 20.1, 11.7, 3.1}} {
		m, err := MaterialFor(c.key)
		if err != nil {
			t.Fatal(err)
		}
		r := m.Sorption.Regain(65*units.PercentRH, units.Celsius(20))
		got := math.Abs(c.logK - c.n*math.Log10(100*float64(r.Content())) - c.listed)
		if !(math.Abs(got-c.d) <= 0.35) { // the other of regain and content moves viscose by 0.5
			t.Errorf("%s: %.2f decades, want about %.2f", c.key, got, c.d)
		}
	}
}
