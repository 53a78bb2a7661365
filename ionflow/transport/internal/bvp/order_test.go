package bvp

import (
	"math"
	"testing"
)

// still is a stream of constant speed and section.
type still float64

func (s still) Flow(float64) (u, a, side, c float64) { return float64(s), 1, 0, 1 }

// manufactured returns a problem whose solution is
//
//	n+ = cos(πx/2L)(1 + 0.3x/L),  n− = cos(πx/2L)(1 − 0.2x/L),  φ = V(x/L)²
//
// by sources that are the residuals of the equations, derived by hand.
func manufactured(u, vt float64) (Data, func(x float64) (p, m, v float64)) {
	const l, volt = 0.05, 500.0
	k := math.Pi / 2 / l
	d := Data{L: l, Mu: [2]float64{1.4e-4, 1.6e-4}, D: [2]float64{1.4e-4 * vt, 1.6e-4 * vt}, N0: [2]float64{1, 1},
		Alpha: 16, CQ: 1.8e5, Kind: WallPotential, Wall: volt, Geo: still(u)}
	// value, first and second derivative of cos(kx)(1+c·x/L)
	shape := func(x, c float64) (f, f1, f2 float64) {
		s, co := math.Sincos(k * x)
		q, q1 := 1+c*x/l, c/l
		return co * q, -k*s*q + co*q1, -k*k*co*q - 2*k*s*q1
	}
	d.Source = func(x float64) (sp, sm, sf float64) {
		p, p1, p2 := shape(x, 0.3)
		m, m1, m2 := shape(x, -0.2)
		e, e1 := -2*volt*x/(l*l), -2*volt/(l*l)
		sp = p1*(u+d.Mu[0]*e) + p*d.Mu[0]*e1 - d.D[0]*p2 + d.Alpha*p*m
		sm = m1*(u-d.Mu[1]*e) - m*d.Mu[1]*e1 - d.D[1]*m2 + d.Alpha*p*m
		sf = e1 - d.CQ*(p-m)
		return sp, sm, sf
	}
	return d, func(x float64) (p, m, v float64) {
		p, _, _ = shape(x, 0.3)
		m, _, _ = shape(x, -0.2)
		return p, m, volt * (x / l) * (x / l)
	}
}

func evenly(l float64, n int) []float64 {
	x := make([]float64, n+1)
	for i := range x {
		x[i] = l * float64(i) / float64(n)
	}
	return x
}

// TestVolumesOrder: the exponentially fitted scheme is of second order while
// the cell Péclet number is small and of first order while it is large.
func TestVolumesOrder(t *testing.T) {
	for _, c := range []struct {
		name   string
		u, vt  float64
		lo, hi float64 // order
	}{
		{"diffusion rules", 0.5, 400, 1.9, 2.1}, // |w|h/D < 0.01 on the finest mesh
		{"drift rules", 20, 0.025, 0.9, 1.1},    // |w|h/D > 1000 on every mesh
	} {
		var last, order float64
		for n := 50; n <= 800; n *= 2 {
			d, exact := manufactured(c.u, c.vt)
			var g Volumes
			g.SetMesh(&d, evenly(d.L, n))
			if st := g.Cold(&d); !st.Converged {
				t.Fatalf("%s, %d cells: %+v", c.name, n, st)
			}
			g.Newton(&d, 1e-12, 1, 20)
			worst := 0.0
			for i, x := range g.X {
				p, m, v := exact(x)
				worst = max(worst, math.Abs(g.P[i]-p), math.Abs(g.M[i]-m), math.Abs(g.V[i]*vref-v)/500)
			}
			if last > 0 {
				order = math.Log2(last / worst)
			}
			t.Logf("%s: %4d cells, error %.3e, order %.3f", c.name, n, worst, order)
			last = worst
		}
		if !(order >= c.lo && order <= c.hi) {
			t.Errorf("%s: order %.3f, want %g … %g", c.name, order, c.lo, c.hi)
		}
	}
}

// TestCollocOrder: the collocation is of fourth order.
func TestCollocOrder(t *testing.T) {
	for _, c := range []struct {
		name  string
		u, vt float64
	}{{"diffusion rules", 0.5, 400}, {"drift and diffusion", 2, 20}, {"drift rules", 20, 0.25}} {
		var last, order float64
		for n := 16; n <= 128; n *= 2 {
			d, exact := manufactured(c.u, c.vt)
			// the layers at both ends, where errors of the inner solution decay, need
			// their own nodes when drift rules
			x := evenly(d.L, n)
			if c.u == 20 {
				x = Graded(nil, d.L, 1e-6, 1e-6, 20, 8*n)
			}
			k := start(t, &d, x, exact)
			if st := k.Newton(&d, 1e-13, 30); !st.Converged {
				t.Fatalf("%s, %d: %+v", c.name, n, st)
			}
			worst := 0.0
			for i, x := range k.X {
				p, m, v := exact(x)
				worst = max(worst, math.Abs(k.Y[i][0]-p), math.Abs(k.Y[i][1]-m), math.Abs(k.Y[i][4]*vref-v)/500)
			}
			if last > 0 {
				order = math.Log2(last / worst)
			}
			t.Logf("%s: %4d intervals, error %.3e, order %.3f", c.name, len(x)-1, worst, order)
			last = worst
		}
		if !(order >= 3.8 && order <= 4.3) {
			t.Errorf("%s: order %.3f, want 3.8 … 4.3", c.name, order)
		}
	}
}

// start fills a collocation with a rough version of the exact solution.
func start(t *testing.T, d *Data, x []float64, exact func(float64) (p, m, v float64)) *Colloc {
	t.Helper()
	var g Volumes
	g.SetMesh(d, x)
	for i, v := range x {
		p, m, ph := exact(v)
		g.P[i], g.M[i], g.V[i] = 0.95*p, 0.97*m, 0.98*ph/vref
	}
	g.V[len(x)-1] = d.Wall / vref
	k := new(Colloc)
	k.SetMesh(d, x)
	k.FromVolumes(d, &g)
	return k
}

// TestCollocJacobian compares the Newton matrix with difference quotients: a
// Newton step for a perturbed right-hand side must reproduce the perturbation
// to second order.
func TestCollocJacobian(t *testing.T) {
	d := bounded(WallPotential)
	x := evenly(d.L, 24)
	var g Volumes
	g.SetMesh(&d, x)
	if st := g.Cold(&d); !st.Converged {
		t.Fatalf("%+v", st)
	}
	k := new(Colloc)
	k.SetMesh(&d, x)
	k.FromVolumes(&d, &g)
	if st := k.Newton(&d, 1e-13, 40); !st.Converged {
		t.Fatalf("%+v", st)
	}
	root := append([][6]float64(nil), k.Y...)
	c := k.coef(&d)
	for _, eps := range []float64{1e-4, 1e-5} {
		for i := range k.Y {
			for v := range 6 {
				k.Y[i][v] = root[i][v] + eps*math.Sin(float64(7*i+3*v+1))
			}
		}
		if !k.eliminate(&d, &c) {
			t.Fatal("singular")
		}
		worst := 0.0
		for i := range k.Y {
			for v := range 6 {
				worst = max(worst, math.Abs(k.dy[i][v]+eps*math.Sin(float64(7*i+3*v+1))))
			}
		}
		// the remainder of an exact Newton step is of second order: C·eps² with C
		// from the products n·E and n+·n−; a wrong entry leaves a share of eps itself
		if !(worst <= 500*eps*eps) {
			t.Errorf("perturbation %g leaves %g after one Newton step", eps, worst)
		}
	}
}

type jet struct{ u, x0 float64 }

func (j jet) Flow(x float64) (u, a, s, c float64) {
	q := 1 + x/j.x0
	return j.u / q, q * q, 3, 1.6 // a side flow and crowding too, so that their terms are in the matrix
}

// bounded is a problem without sources in which every term of the equations is
// of the same order.
func bounded(kind WallKind) Data {
	d, _ := manufactured(3, 2)
	d.Geo, d.Kind, d.Source, d.N0[1] = jet{3, 0.04}, kind, nil, 0.8
	switch kind {
	case WallPotential:
		d.Wall = 300
	case WallCharge, WallStep:
		d.Wall, d.Back, d.Gain = 2000, 30, 100
	}
	return d
}

// TestVolumesJacobian does the same for the finite volumes, for every wall.
func TestVolumesJacobian(t *testing.T) {
	for _, kind := range []WallKind{WallPotential, WallCharge, WallFloating, WallStep} {
		d := bounded(kind)
		var g Volumes
		g.SetMesh(&d, evenly(d.L, 24))
		if kind == WallStep {
			g.Inertia = 50
			g.OldP, g.OldM = make([]float64, 25), make([]float64, 25)
		}
		st := g.Cold(&d)
		if st.Converged {
			st = g.Newton(&d, 1e-13, 1, 60)
		}
		if !st.Converged {
			t.Errorf("wall %d: %+v", kind, st)
			continue
		}
		p0, m0, v0 := append([]float64(nil), g.P...), append([]float64(nil), g.M...), append([]float64(nil), g.V...)
		n := len(g.X) - 1
		c := consts(&d)
		for _, eps := range []float64{1e-4, 1e-5} {
			w := func(i, v int) float64 { return eps * math.Sin(float64(7*i+3*v+1)) }
			for i := 1; i < n; i++ {
				g.P[i], g.M[i], g.V[i] = p0[i]+w(i, 0), m0[i]+w(i, 1), v0[i]+w(i, 2)
			}
			if kind != WallPotential {
				g.V[n] = v0[n] + w(n, 2)
			}
			if !g.eliminate(&d, &c, d.CQ/vref) {
				t.Fatal("singular")
			}
			g.backSubstitute()
			worst := 0.0
			for i := 1; i < n; i++ {
				worst = max(worst, math.Abs(g.x[i][9]+w(i, 0)), math.Abs(g.x[i][10]+w(i, 1)), math.Abs(g.x[i][11]+w(i, 2)))
			}
			if kind != WallPotential {
				worst = max(worst, math.Abs(g.x[n][11]+w(n, 2)))
			}
			if !(worst <= 5000*eps*eps) {
				t.Errorf("wall %d: perturbation %g leaves %g after one Newton step", kind, eps, worst)
			}
		}
	}
}
