package bvp

import "math"

// Colloc is the collocation of fourth order (Lobatto IIIA with three points,
// also called Hermite–Simpson) on one mesh, and its Newton workspace. Unknowns at
// a node are
//
//	y = (n+, n−, G+/gs, G−/gs, φ/vref, F/es),  G± = a·J±,  F = a·E
//
//	n+' = (n+(u + μ+E) − J+)/D+    G+' = −a(αn+n− + s n+)   φ' = −E
//	n−' = (n−(u − μ−E) − J−)/D−    G−' = −a(αn+n− + s n−)   F' = a·(e/ε0)·(n+ − n−)
//
// The fluxes are conserved by the scheme to rounding: what goes in minus what
// comes out is the Simpson sum of the losses. Its stability function is the
// (2,2) Padé approximant of exp, positive on the whole real axis, so that a
// decaying layer does not swing below zero however coarse the step.
// Source: Ascher, Mattheij, Russell, "Numerical Solution of Boundary Value
// Problems for Ordinary Differential Equations", SIAM 1995, chapters 5 and 10;
// Kierzenka, Shampine, ACM Trans. Math. Softw. 27 (2001) 299–316.
type Colloc struct {
	X  []float64    // [m] nodes
	Y  [][6]float64 // the unknowns
	Es float64      // [V/m] scale of F
	Gs float64      // [m/s] scale of G

	node, mid []geo
	fn        [][6]float64 // right-hand side at the nodes
	u         [][6][13]float64
	dy        [][6]float64
}

// geo is the flow at a point, with the sources of a manufactured solution.
type geo struct{ u, a, ia, s, c, sp, sm, sf float64 }

func geoAt(d *Data, x float64) geo {
	u, a, s, c := d.Geo.Flow(x)
	g := geo{u: u, a: a, ia: 1 / a, s: s, c: c}
	if d.Source != nil {
		g.sp, g.sm, g.sf = d.Source(x)
	}
	return g
}

// coef are the constants of the equations in scaled unknowns.
type coef struct{ ip, im, mup, mum, alpha, cq, gs, igs, es, ies float64 }

func (k *Colloc) coef(d *Data) coef {
	return coef{ip: 1 / d.D[0], im: 1 / d.D[1], mup: d.Mu[0] * k.Es, mum: d.Mu[1] * k.Es, alpha: d.Alpha,
		cq: d.CQ, gs: k.Gs, igs: 1 / k.Gs, es: k.Es, ies: 1 / k.Es}
}

// rhs evaluates y' at a point.
func rhs(c *coef, g *geo, y, f *[6]float64) {
	e := y[5] * g.ia
	f[0] = (y[0]*(g.u+c.mup*e) - y[2]*c.gs*g.ia) * c.ip
	f[1] = (y[1]*(g.u-c.mum*e) - y[3]*c.gs*g.ia) * c.im
	r := c.alpha * g.c * y[0] * y[1]
	w := g.a * c.igs
	f[2] = -w * (r + g.s*y[0] - g.sp)
	f[3] = -w * (r + g.s*y[1] - g.sm)
	f[4] = -e * c.es / vref
	f[5] = g.a * c.ies * (c.cq*(y[0]-y[1]) + g.sf)
}

// jac holds the entries of the Jacobian that are not zero; (f, m) is −fp.
type jac struct{ pp, pg, pf, mm, mg, mf, gpp, gpm, gmp, gmm, vf, fp float64 }

func jacAt(c *coef, g *geo, y *[6]float64, j *jac) {
	e := y[5] * g.ia
	j.pp = (g.u + c.mup*e) * c.ip
	j.mm = (g.u - c.mum*e) * c.im
	w := c.gs * g.ia
	j.pg, j.mg = -w*c.ip, -w*c.im
	j.pf = y[0] * c.mup * g.ia * c.ip
	j.mf = -y[1] * c.mum * g.ia * c.im
	v := g.a * c.igs
	rp, rm := v*g.c*c.alpha*y[1], v*g.c*c.alpha*y[0]
	j.gpp, j.gpm = -rp-v*g.s, -rm
	j.gmp, j.gmm = -rp, -rm-v*g.s
	j.vf = -c.es * g.ia / vref
	j.fp = g.a * c.ies * c.cq
}

// SetMesh takes the nodes and evaluates the flow on them and on the midpoints;
// the unknowns keep no value.
func (k *Colloc) SetMesh(d *Data, x []float64) {
	n := len(x)
	k.X = append(k.X[:0], x...)
	k.Y, k.fn, k.dy = growRows(k.Y, n), growRows(k.fn, n), growRows(k.dy, n)
	k.node, k.mid, k.u = growRows(k.node, n), growRows(k.mid, n), growRows(k.u, n)
	for i := range n {
		k.node[i] = geoAt(d, x[i])
		if i+1 < n {
			k.mid[i] = geoAt(d, 0.5*(x[i]+x[i+1]))
		}
	}
}

func growRows[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/4)
	}
	return s[:n]
}

// Newton iterates from Y until the estimate of the next scaled update is below
// tol, at most maxit times.
func (k *Colloc) Newton(d *Data, tol float64, maxit int) Status {
	c := k.coef(d)
	var st Status
	prev := math.Inf(1)
	for st.Iterations = 1; st.Iterations <= maxit; st.Iterations++ {
		if d.stopped() {
			return st
		}
		if !k.eliminate(d, &c) {
			st.Singular = true
			return st
		}
		vm := 1e-300
		for i := range k.Y {
			vm = max(vm, math.Abs(k.Y[i][4]))
		}
		wv := 1 / max(vm, 1e-3)
		mx := 0.0
		for i := range k.dy {
			q := &k.dy[i]
			mx = max(mx, math.Abs(q[0]), math.Abs(q[1]), math.Abs(q[2]), math.Abs(q[3]), math.Abs(q[4])*wv, math.Abs(q[5]))
		}
		st.Update = mx
		if math.IsNaN(mx) || mx > 1e6 {
			return st
		}
		t := 1.0
		if mx > 2 {
			t = 2 / mx
		}
		for i := range k.Y {
			y, q := &k.Y[i], &k.dy[i]
			for v := range 6 {
				y[v] += t * q[v]
			}
		}
		if t == 1 {
			next := mx
			if prev < 0.1 {
				next = min(mx, 10*mx*(mx/prev)*(mx/prev))
			}
			// the estimate takes one constant for the whole vector, which can be a few
			// thousand off: the update itself must be small too; at the rounding floor
			// updates no longer shrink
			if (next < tol && mx < 0.03*math.Sqrt(tol)) || (mx < 1e-9 && mx > 0.3*prev) {
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

// Ends evaluates fluxes, fields and the sums of the balance: the same Simpson
// sums that the scheme conserves.
func (k *Colloc) Ends(d *Data) Ends {
	n := len(k.X) - 1
	c := k.coef(d)
	y0, yn := &k.Y[0], &k.Y[n]
	a0, aL := k.node[0].a, k.node[n].a
	e := Ends{
		J0: [2]float64{y0[2] * k.Gs / a0, y0[3] * k.Gs / a0}, JL: [2]float64{yn[2] * k.Gs / aL, yn[3] * k.Gs / aL},
		E0: y0[5] * k.Es / a0, EL: yn[5] * k.Es / aL, VL: yn[4] * vref,
	}
	var fl, fr [6]float64
	rhs(&c, &k.node[0], y0, &fl)
	add := func(w float64, g *geo, p, m float64) {
		e.Recombined += w * g.a * g.c * d.Alpha * p * m
		e.Side[0] += w * g.a * (g.s*p - g.sp)
		e.Side[1] += w * g.a * (g.s*m - g.sm)
	}
	for i := range n {
		h := k.X[i+1] - k.X[i]
		yl, yr := &k.Y[i], &k.Y[i+1]
		rhs(&c, &k.node[i+1], yr, &fr)
		pm := 0.5*(yl[0]+yr[0]) + h/8*(fl[0]-fr[0])
		mm := 0.5*(yl[1]+yr[1]) + h/8*(fl[1]-fr[1])
		add(h/6, &k.node[i], yl[0], yl[1])
		add(h*4/6, &k.mid[i], pm, mm)
		add(h/6, &k.node[i+1], yr[0], yr[1])
		fl = fr
	}
	e.Recombined /= a0
	e.Side[0] /= a0
	e.Side[1] /= a0
	return e
}

// At returns the state of node i: densities [1], potential [V], field [V/m] and
// fluxes per area [m/s], and the slopes of the two densities [1/m].
func (k *Colloc) At(d *Data, i int) (p, m, v, e, jp, jm, dp, dm float64) {
	c := k.coef(d)
	var f [6]float64
	y, g := &k.Y[i], &k.node[i]
	rhs(&c, g, y, &f)
	return y[0], y[1], y[4] * vref, y[5] * k.Es * g.ia, y[2] * k.Gs * g.ia, y[3] * k.Gs * g.ia, f[0], f[1]
}
