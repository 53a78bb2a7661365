package charge

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// bondedLayer solves the plane-strain contact of a stiff cylinder of radius 1 with a
// layer of thickness 1 and modulus 1 bonded to a stiff base, without friction, for a
// half-width a: the load and the peak pressure. Strips of even pressure; the
// displacement is the integral of ω(k)·cos(k·r)/k, ω of the bonded layer,
//
//	ω = (2κ·sinh 2k − 4k)/(2κ·cosh 2k + 1 + κ² + 4k²),  κ = 3 − 4ν,
//
// with tanh k split off, whose integral is −ln tanh(πr/4). This is the second method
// for the fit of [NewNip], and shares nothing with it.
func bondedLayer(a, nu float64, n int) (load, peak float64) {
	kap := 3 - 4*nu
	omega := func(k float64) float64 {
		switch {
		case k > 50:
			return 1
		case k < 1e-4:
			return (4*kap*k - 4*k) / (1 + 2*kap + kap*kap)
		}
		return (2*kap*math.Sinh(2*k) - 4*k) / (2*kap*math.Cosh(2*k) + 1 + kap*kap + 4*k*k)
	}
	h := a / float64(n)
	const steps, top = 1500, 30.0
	var ks, rest [steps]float64
	for j := range steps {
		k := (float64(j) + 0.5) * top / steps
		ks[j], rest[j] = k, (omega(k)-math.Tanh(k))/k
	}
	smooth := func(r float64) float64 {
		sum := 0.0
		for j, k := range ks {
			sum += rest[j] * math.Cos(k*r)
		}
		return sum * top / steps
	}
	primitive := func(x float64) float64 { // ∫₀ˣ −ln tanh(πy/4) dy with y = x·q²
		sum := 0.0
		const m = 60
		for i := range m {
			q := (float64(i) + 0.5) / m
			sum -= math.Log(math.Tanh(math.Pi/4*x*q*q)) * 2 * q * x / m
		}
		return sum
	}
	kernel := make([]float64, 2*n+1)
	for j := range kernel {
		r := float64(j) * h
		if j == 0 {
			kernel[j] = 2*primitive(h/2) + smooth(0)*h
		} else {
			kernel[j] = primitive(r+h/2) - primitive(r-h/2) + smooth(r)*h
		}
	}
	c := 2 * (1 - nu*nu) / math.Pi
	m := make([][]float64, n+1) // pressures and the approach
	for i := range m {
		m[i] = make([]float64, n+2)
	}
	at := func(i int) float64 { return (float64(i) + 0.5) * h }
	for i := range n {
		for j := range n {
			d := i - j
			if d < 0 {
				d = -d
			}
			m[i][j] = c * (kernel[d] + kernel[i+j+1])
		}
		m[i][n] = -1
		m[i][n+1] = -at(i) * at(i) / 2
	}
	// The pressure ends as √(a² − x²).
	m[n][n-1], m[n][n-2] = 1, -math.Sqrt((a*a-at(n-1)*at(n-1))/(a*a-at(n-2)*at(n-2)))
	for i := range m {
		p := i
		for r := i; r <= n; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[p][i]) {
				p = r
			}
		}
		m[i], m[p] = m[p], m[i]
		for r := range m {
			if r != i {
				f := m[r][i] / m[i][i]
				for k := i; k <= n+1; k++ {
					m[r][k] -= f * m[i][k]
				}
			}
		}
	}
	for i := range n {
		load += 2 * h * m[i][n+1] / m[i][i]
	}
	return load, m[0][n+1] / m[0][0]
}

func TestNipAgainstBondedLayer(t *testing.T) {
	for _, nu := range []float64{0.3, 0.4, 0.45, 0.48, 0.49, 0.5} {
		for _, a := range []float64{0.1, 0.3, 0.7, 1, 1.5, 2, 3, 5, 8} {
			load, peak := bondedLayer(a, nu, 40)
			n, err := NewNip(NipSpec{Load: units.ForcePerWidth(load), RadiusA: units.Metre, RadiusB: units.Length(math.Inf(1)),
				Modulus: 1, Poisson: nu, Thickness: units.Metre})
			if err != nil {
				t.Fatal(err)
			}
			if r := float64(n.HalfWidth) / a; !(math.Abs(r-1) <= 0.06) {
				t.Errorf("ν %g, a/t %g: width %.3f of the layer's", nu, a, r)
			}
			if r := float64(n.Peak) * float64(n.HalfWidth) / (peak * a); !(math.Abs(r-1) <= 0.03) {
				t.Errorf("ν %g, a/t %g: peak·a %.3f of the layer's", nu, a, r)
			}
		}
	}
}

// Hertz's limit by hand: 10 kN/m between rollers of 100 mm with a cover of 1 m of
// 10 MPa, ν 0.5: a = √(4·F·R·(1 − ν²)/(π·E)) = √(4·1e4·0.05·0.75/(π·1e7)) = 6.910 mm,
// peak 2F/(πa) = 0.921 MPa, exponents ½ and ½.
func TestNipLimits(t *testing.T) {
	s := NipSpec{Load: 1e4, RadiusA: 0.1, RadiusB: 0.1, Modulus: 1e7, Poisson: 0.5, Thickness: 1}
	n, err := NewNip(s)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "half-width", float64(n.HalfWidth), 6.910e-3, 2e-6)
	checkNear(t, "peak", float64(n.Peak), 0.9213e6, 0.0003e6)
	checkNear(t, "width exponent", n.WidthExponent, 0.5, 1e-4)
	checkNear(t, "peak exponent", n.PeakExponent, 0.5, 1e-4)
	checkNear(t, "time", float64(n.Time(-2)), 6.910e-3, 2e-6)
	if n.Validity != known.Inside || !math.IsInf(float64(n.Time(0)), 1) {
		t.Errorf("%+v", n)
	}
	// The exponents are the derivatives.
	s.Thickness = 5e-3
	lo, _ := NewNip(s)
	s.Load *= 1.001
	hi, _ := NewNip(s)
	checkNear(t, "width", math.Log(float64(hi.HalfWidth)/float64(lo.HalfWidth))/math.Log(1.001), lo.WidthExponent, 1e-4)
	checkNear(t, "peak", math.Log(float64(hi.Peak)/float64(lo.Peak))/math.Log(1.001), lo.PeakExponent, 1e-4)
	// A thin cover is stiffer: narrower, and the peak goes more steeply with the load.
	if !(lo.HalfWidth < n.HalfWidth && lo.PeakExponent > 0.55 && lo.PeakExponent < 0.8) {
		t.Errorf("%+v", lo)
	}
	s.Thickness = 0.1e-3
	if n, _ := NewNip(s); n.Validity != known.WrongShape {
		t.Errorf("a/t %g: %v", float64(n.HalfWidth)/1e-4, n.Validity)
	}
	var f *known.FieldError
	for _, bad := range []NipSpec{{}, {Load: 1, RadiusA: 1, RadiusB: 1, Modulus: 1, Poisson: 0.2, Thickness: 1},
		{Load: 1, RadiusA: units.Length(math.Inf(1)), RadiusB: units.Length(math.Inf(1)), Modulus: 1, Poisson: 0.5,
			Thickness: 1},
		{Load: units.ForcePerWidth(math.NaN()), RadiusA: 1, RadiusB: 1, Modulus: 1, Poisson: 0.5, Thickness: 1}} {
		if _, err := NewNip(bad); !errors.As(err, &f) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	checkNear(t, "60 Shore A", float64(ModulusOfRubber(60)), 3.604e6, 0.002e6)
	if !math.IsNaN(float64(ModulusOfRubber(100))) {
		t.Error("100 Shore A")
	}
}
