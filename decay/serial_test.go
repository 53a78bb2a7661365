package decay

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.org/pithball/internal/numeric"
)

// serialCase is a straight-line fit to 9 readings, by full matrices.
func serialCase() (serialInput, *mat.Dense, *mat.VecDense) {
	const n, m = 9, 2
	rng := rand.New(rand.NewPCG(3, 1))
	in := serialInput{jac: make([]float64, n*m), e: make([]float64, n), inverse: make([]float64, m*m), n: n, m: m}
	y := mat.NewVecDense(n, nil)
	for i := range n {
		in.t = append(in.t, math.Exp(0.4*float64(i)))
		in.jac[i*m], in.jac[i*m+1] = 1, math.Exp(-float64(i)/3)
		y.SetVec(i, rng.NormFloat64()+0.3*float64(i))
	}
	j := mat.NewDense(n, m, in.jac)
	var f, fi mat.Dense
	f.Mul(j.T(), j)
	if err := fi.Inverse(&f); err != nil {
		panic(err)
	}
	copy(in.inverse, fi.RawMatrix().Data)
	var b, x, e mat.VecDense
	b.MulVec(j.T(), y)
	x.MulVec(&fi, &b)
	e.MulVec(j, &x)
	e.SubVec(&e, y)
	copy(in.e, e.RawVector().Data)
	return in, j, &e
}

// TestSerialAgainstMatrices compares the tridiagonal sums with R written out, for
// correlations between neighbours and over a time.
func TestSerialAgainstMatrices(t *testing.T) {
	in, j, e := serialCase()
	g := newLagged(&in)
	for _, n := range []tie{{rho: -0.5}, {rho: 0}, {rho: 0.3}, {rho: 0.9}, {over: 0.2}, {over: 3}} {
		r := mat.NewSymDense(in.n, nil)
		for a := range in.n {
			for b := a; b < in.n; b++ {
				v := math.Pow(n.rho, float64(b-a))
				if n.over > 0 {
					v = math.Exp((in.t[a] - in.t[b]) / n.over)
				}
				r.SetSym(a, b, v)
			}
		}
		var ri mat.Dense
		if err := ri.Inverse(r); err != nil {
			t.Fatal(err)
		}
		var rj, a, ai mat.Dense
		rj.Mul(&ri, j)
		a.Mul(j.T(), &rj)
		if err := ai.Inverse(&a); err != nil {
			t.Fatal(err)
		}
		var re, b, x mat.VecDense
		re.MulVec(&ri, e)
		b.MulVec(j.T(), &re)
		x.MulVec(&ai, &b)
		q := mat.Dot(e, &re) - mat.Dot(&b, &x)
		nu := float64(in.n - in.m)
		want := -0.5 * (math.Log(mat.Det(r)) + math.Log(mat.Det(&a)) + nu*math.Log(q))
		got, s2 := g.likelihood(&in, n.rho)
		if n.over > 0 {
			var lnR float64
			got, s2, lnR = g.drifting(&in, n.over)
			if w := math.Log(mat.Det(r)); !(math.Abs(lnR-w) <= 1e-10) {
				t.Errorf("%+v: ln|R| = %.12g, by matrices %.12g", n, lnR, w)
			}
		}
		if !(math.Abs(got-want) <= 1e-9) || !(math.Abs(s2/(q/nu)-1) <= 1e-9) {
			t.Errorf("%+v: ln likelihood %.12g, variance %.12g, by matrices %.12g and %.12g", n, got, s2, want, q/nu)
		}
		var mid, half, cov mat.Dense
		mid.Mul(r, j)
		half.Mul(j.T(), &mid)
		fi := mat.NewDense(in.m, in.m, in.inverse)
		mid.Reset()
		mid.Mul(fi, &half)
		cov.Mul(&mid, fi)
		n.s2 = 1.7
		for i, v := range in.covariance(n) {
			if w := 1.7 * cov.RawMatrix().Data[i]; !(math.Abs(v-w) <= 1e-12) {
				t.Errorf("%+v: covariance [%d] %.14g, by matrices %.14g", n, i, v, w)
			}
		}
	}
}

// TestSerialDeviation: a correlation that is known gives Student's interval of
// its covariance, and one to be learned from many white residuals the same.
func TestSerialDeviation(t *testing.T) {
	in, _, _ := serialCase()
	s := fixedSerial(in, 0.4)
	s.fill()
	q := distuv.StudentsT{Sigma: 1, Nu: 7}.Quantile(0.975)
	se, half := s.deviation([]float64{0, 1}, 7, q)
	if want := math.Sqrt(s.cov[0][3]); !(math.Abs(se/want-1) <= 1e-12) || !(math.Abs(half/(q*want)-1) <= 1e-4) {
		t.Errorf("known correlation: %g and %g, want %g and %g", se, half, want, q*want)
	}
	const n = 3000
	rng := rand.New(rand.NewPCG(5, 5))
	for _, rho := range []float64{0, 0.6} {
		in := serialInput{jac: make([]float64, n), e: make([]float64, n), inverse: make([]float64, 1), n: n, m: 1}
		x, mean := rng.NormFloat64(), 0.0
		for i := range n {
			in.jac[i], in.e[i] = 1, x
			mean += x / n
			x = rho*x + math.Sqrt(1-rho*rho)*rng.NormFloat64()
		}
		for i := range n {
			in.e[i] -= mean
		}
		if !numeric.InvertSPD(in.inverse, []float64{n}, 1) {
			t.Fatal("not positive definite")
		}
		s := newSerial(in)
		s.fill()
		se, half := s.deviation([]float64{1}, math.Inf(1), 1.96)
		// The variance of a mean of n correlated readings is (1+ρ)/(1−ρ)/n; s and
		// ρ are known to 1/√n each: 4 of those.
		want := math.Sqrt((1 + rho) / (1 - rho) / n)
		if !(math.Abs(se/want-1) <= 0.15) || !(math.Abs(half/(1.96*want)-1) <= 0.15) || !(math.Abs(s.mode-rho) <= 0.08) {
			t.Errorf("ρ = %g, %d readings: error %g, half %g, want %g and %g; likeliest ρ %g", rho, n, se, half, want, 1.96*want,
				s.mode)
		}
	}
}

func TestStudentTail(t *testing.T) {
	for _, nu := range []float64{3, 6, 20, 400} {
		d := distuv.StudentsT{Sigma: 1, Nu: nu}
		for _, x := range []float64{-2, 0, 0.5, 1, 2, 3, 5} {
			got, want := studentTail(x, nu), d.Survival(x)
			if !(math.Abs(distuv.UnitNormal.Quantile(1-got)-distuv.UnitNormal.Quantile(1-want)) <= 0.03) {
				t.Errorf("tail of t(%g) above %g: got %g, want %g", nu, x, got, want)
			}
		}
	}
	if got := studentTail(1.96, math.Inf(1)); !(math.Abs(got-0.025) <= 1e-5) {
		t.Errorf("normal tail above 1.96: %g", got)
	}
}

// TestSerialKnown: with a noise that is known q/2 stands in the likelihood where ½·ν·ln q does else; q is ν times the
// variance, which TestSerialAgainstMatrices holds.
func TestSerialKnown(t *testing.T) {
	in, _, _ := serialCase()
	g := newLagged(&in)
	for _, rho := range []float64{-0.5, 0, 0.7} {
		free, s2 := g.likelihood(&in, rho)
		in.known = true
		got, one := g.likelihood(&in, rho)
		in.known = false
		nu := float64(in.n - in.m)
		if want := free + 0.5*nu*math.Log(s2*nu) - 0.5*s2*nu; !(math.Abs(got-want) <= 1e-10) || one != 1 {
			t.Errorf("ρ = %g: %.12g and %g, want %.12g and 1", rho, got, one, want)
		}
	}
}
