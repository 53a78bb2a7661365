package bvp

import "math"

// vref scales the potential in the Newton iteration. [V]
const vref = 1000.0

// Volumes is the finite-volume discretisation with exponentially fitted
// (Scharfetter–Gummel) faces on one mesh, and the Newton workspace for it. It
// is reused from solve to solve and allocates only to grow.
//
// Nodes x₀ = 0 … x_N = L carry n+, n−, φ. With t = (φᵢ − φᵢ₊₁)/V_T and
// z = u h/D ± t the flux through a face is
//
//	J = (D/h)·[B(−z)·nᵢ − B(z)·nᵢ₊₁]
//
// which is exact for constant J and constant u ± μE. Each volume balances the
// two faces, recombination and side flow; the matrix for the densities is an
// M-matrix, so that they are never negative, on any mesh.
// Source: Scharfetter, Gummel, "Large-signal analysis of a silicon Read diode
// oscillator", IEEE Trans. Electron Devices 16 (1969) 64–77.
type Volumes struct {
	X       []float64     // [m] nodes
	P, M, V []float64     // [1], [1], [V/1000] the solution
	uh, ah  []float64     // [m²/s], [1/m] u·h and a/h of the faces
	vol, vs []float64     // [m], [m/s] volume a·Δx of the nodes, and times s
	cv      []float64     // [m] volume times the factor on recombination
	x       [][12]float64 // rows X = D'⁻¹U (9) and y = D'⁻¹r (3) of the elimination
	a0, aL  float64
	// backward Euler: mass over time step, and the old densities [1]
	Inertia    float64 // [1/s] 1/Δt, 0 for the steady problem
	OldP, OldM []float64
	kept       []float64 // solution set aside
	coarse     []float64 // mesh before [Volumes.Prolong]
}

func grow(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n, n+n/4)
	}
	return s[:n]
}

// SetMesh takes the nodes and computes what depends on mesh and flow only.
func (g *Volumes) SetMesh(d *Data, x []float64) {
	n := len(x)
	g.X = append(g.X[:0], x...)
	g.P, g.M, g.V = grow(g.P, n), grow(g.M, n), grow(g.V, n)
	g.uh, g.ah = grow(g.uh, n), grow(g.ah, n)
	g.vol, g.vs, g.cv = grow(g.vol, n), grow(g.vs, n), grow(g.cv, n)
	if cap(g.x) < n {
		g.x = make([][12]float64, n, n+n/4)
	}
	g.x = g.x[:n]
	_, g.a0, _, _ = d.Geo.Flow(0)
	_, g.aL, _, _ = d.Geo.Flow(d.L)
	auPrev, xmPrev := 0.0, 0.0
	for i := 0; i+1 < n; i++ {
		h, xm := x[i+1]-x[i], 0.5*(x[i]+x[i+1])
		u, a, _, _ := d.Geo.Flow(xm)
		g.uh[i], g.ah[i] = u*h, a/h
		if i > 0 {
			_, an, _, c := d.Geo.Flow(x[i])
			g.vol[i] = an * (xm - xmPrev)
			g.cv[i] = c * g.vol[i]
			g.vs[i] = math.Max(0, auPrev-a*u)
		}
		auPrev, xmPrev = a*u, xm
	}
}

// Cold solves without an earlier solution, from inlet densities everywhere and
// no field. Where the full Newton iteration does not converge, the space charge
// is brought up from zero in steps that adapt.
func (g *Volumes) Cold(d *Data) Status {
	g.reset(d)
	st := g.Newton(d, 1e-3, 1, 30)
	if st.Converged {
		return st
	}
	g.reset(d)
	g.laplace(d)
	total := st.Iterations
	done, step := 0.0, 1e-3 // charge reached, and the next one in its stead
	for range 200 {
		g.save()
		st = g.Newton(d, 1e-2, step, 15)
		total += st.Iterations
		if st.Converged {
			if step == 1 {
				st = g.Newton(d, 1e-3, 1, 30)
				st.Iterations += total
				return st
			}
			done, step = step, min(1, step*step/max(done, step/4))
			continue
		}
		g.restore()
		if step = math.Sqrt(step * max(done, step/100)); step < 1e-12 || step < 1.02*done {
			break
		}
	}
	st.Iterations, st.Converged = total, false
	return st
}

func (g *Volumes) reset(d *Data) {
	for i := range g.X {
		g.P[i], g.M[i], g.V[i] = d.N0[0], d.N0[1], 0
	}
}

// Prolong takes a finer mesh that holds every node of the present one, and the
// present solution by linear interpolation onto it.
func (g *Volumes) Prolong(d *Data, x []float64) {
	g.save()
	m := len(g.X)
	g.coarse = append(g.coarse[:0], g.X...)
	g.SetMesh(d, x)
	j := 0
	for i, v := range x {
		for j < m-2 && g.coarse[j+1] <= v {
			j++
		}
		w := (v - g.coarse[j]) / (g.coarse[j+1] - g.coarse[j])
		g.P[i] = g.kept[j] + w*(g.kept[j+1]-g.kept[j])
		g.M[i] = g.kept[m+j] + w*(g.kept[m+j+1]-g.kept[m+j])
		g.V[i] = g.kept[2*m+j] + w*(g.kept[2*m+j+1]-g.kept[2*m+j])
	}
}

// extrapolate moves the solution on by w times its change since [Volumes.save]:
// with an error of first order and meshes of N, 8N, 64N cells that is the
// solution on the third from those on the first two for w = 1/8.
func (g *Volumes) extrapolate(w float64) {
	n := len(g.X)
	for i := range g.X {
		g.P[i] = max(0, g.P[i]+w*(g.P[i]-g.kept[i]))
		g.M[i] = max(0, g.M[i]+w*(g.M[i]-g.kept[n+i]))
		g.V[i] += w * (g.V[i] - g.kept[2*n+i])
	}
}

// laplace sets the potential that the wall alone would give, without any ions.
func (g *Volumes) laplace(d *Data) {
	r := 0.0
	for _, w := range g.ah[:len(g.X)-1] {
		r += 1 / w
	}
	f := 0.0 // a·E
	switch d.Kind {
	case WallPotential:
		f = -d.Wall / r
	case WallCharge, WallStep:
		f = -d.Wall / (1/g.aL + r*d.Back)
	}
	v := 0.0
	for i := range g.X {
		g.V[i] = v / vref
		v -= f / max(g.ah[min(i, len(g.X)-2)], 1e-300)
	}
}

func (g *Volumes) save() {
	n := len(g.X)
	g.kept = grow(g.kept, 3*n)
	copy(g.kept, g.P)
	copy(g.kept[n:], g.M)
	copy(g.kept[2*n:], g.V)
}

func (g *Volumes) restore() {
	n := len(g.X)
	copy(g.P, g.kept[:n])
	copy(g.M, g.kept[n:2*n])
	copy(g.V, g.kept[2*n:])
}

// face holds the two fluxes through a face and their derivatives: of n to the
// left (a), of n to the right (−b), of φ/vref to the left (d) and right (−d).
type face struct{ jp, ap, bp, dp, jm, am, bm, dm float64 }

// at evaluates face i. c are {1/D+, 1/D−, vref/V_T+, vref/V_T−, D+, D−}.
func (g *Volumes) at(i int, c *[6]float64, f *face) {
	dv := g.V[i] - g.V[i+1]
	p0, p1, m0, m1 := g.P[i], g.P[i+1], g.M[i], g.M[i+1]
	z := g.uh[i]*c[0] + dv*c[2]
	k := g.ah[i] * c[4]
	if z >= 0 {
		b, db := bernoulli(z)
		f.ap, f.bp = k*(b+z), k*b
		f.dp = k * c[2] * (p0 + db*(p0-p1))
	} else {
		b, db := bernoulli(-z)
		f.ap, f.bp = k*b, k*(b-z)
		f.dp = k * c[2] * (p1 + db*(p1-p0))
	}
	f.jp = f.ap*p0 - f.bp*p1
	z = g.uh[i]*c[1] - dv*c[3]
	k = g.ah[i] * c[5]
	if z >= 0 {
		b, db := bernoulli(z)
		f.am, f.bm = k*(b+z), k*b
		f.dm = -k * c[3] * (m0 + db*(m0-m1))
	} else {
		b, db := bernoulli(-z)
		f.am, f.bm = k*b, k*(b-z)
		f.dm = -k * c[3] * (m1 + db*(m1-m0))
	}
	f.jm = f.am*m0 - f.bm*m1
}

func consts(d *Data) [6]float64 {
	return [6]float64{1 / d.D[0], 1 / d.D[1], vref * d.Mu[0] / d.D[0], vref * d.Mu[1] / d.D[1], d.D[0], d.D[1]}
}

// Newton iterates from the solution in P, M, V until the estimate of the next
// scaled update (densities over Nref, potential over 1 kV) is below tol, at most
// maxit times. charge scales the space charge: 1 for the problem itself.
func (g *Volumes) Newton(d *Data, tol, charge float64, maxit int) Status {
	n := len(g.X) - 1
	c := consts(d)
	g.P[0], g.M[0], g.V[0] = d.N0[0], d.N0[1], 0
	g.P[n], g.M[n] = 0, 0
	if d.Kind == WallPotential {
		g.V[n] = d.Wall / vref
	}
	st := Status{}
	prev := math.Inf(1)
	for st.Iterations = 1; st.Iterations <= maxit; st.Iterations++ {
		if d.stopped() {
			return st
		}
		if !g.eliminate(d, &c, charge*d.CQ/vref) {
			st.Singular = true
			return st
		}
		mx, mv, vmax := g.backSubstitute()
		lim := math.Max(2, 0.5*vmax)
		t := 1.0
		if mv > lim {
			t = lim / mv
		}
		g.apply(t)
		st.Update = mx
		if math.IsNaN(mx) {
			return st
		}
		if t == 1 {
			// Quadratic convergence, δ₊ ≈ C·δ² with C = mx/prev²: ten times the next update.
			next := mx
			if prev < 0.1 {
				next = min(mx, 10*mx*(mx/prev)*(mx/prev))
			}
			if mx < tol || (next < 0.01*tol && mx < 1e-5) {
				st.Converged = true
				return st
			}
			prev = mx
		} else {
			prev = math.Inf(1)
		}
	}
	st.Iterations = maxit
	return st
}
