package bvp

import "math"

// eliminate forms the Newton system row by row and reduces it to upper block
// bidiagonal form on the way; X = D'⁻¹U and y = D'⁻¹r of each node are kept for
// [Volumes.backSubstitute]. The off-diagonal blocks have five entries each, the
// 3×3 diagonal blocks are inverted by cofactors. cq is the space-charge
// constant in scaled units [1/m²].
func (g *Volumes) eliminate(d *Data, c *[6]float64, cq float64) bool {
	n := len(g.X) - 1
	var l, r face
	g.at(0, c, &l)
	gl := g.ah[0]
	alpha := d.Alpha
	inertia := g.Inertia
	for i := 1; i < n; i++ {
		g.at(i, c, &r)
		gr := g.ah[i]
		p, m, v := g.P[i], g.M[i], g.V[i]
		vol, vs := g.vol[i], g.vs[i]
		ra := alpha * g.cv[i]
		// residuals, negated: what the update has to cancel
		r0 := l.jp - r.jp - ra*p*m - vs*p
		r1 := l.jm - r.jm - ra*p*m - vs*m
		r2 := gl*(g.V[i-1]-v) - gr*(v-g.V[i+1]) + cq*vol*(p-m)
		k := vs
		if inertia != 0 {
			w := vol * inertia
			r0 -= w * (p - g.OldP[i])
			r1 -= w * (m - g.OldM[i])
			k += w
		}
		if d.Source != nil {
			sp, sm, sf := d.Source(g.X[i])
			r0 += vol * sp
			r1 += vol * sm
			r2 += vol * sf / vref
		}
		d00, d01, d02 := r.ap+l.bp+k+ra*m, ra*p, r.dp+l.dp
		d10, d11, d12 := ra*m, r.am+l.bm+k+ra*p, r.dm+l.dm
		d20, d21, d22 := -cq*vol, cq*vol, gl+gr
		if i > 1 {
			q := &g.x[i-1]
			// subtract L·X and L·y; L = −[a+ 0 d+; 0 a− d−; 0 0 g] of the left face
			d00 += l.ap*q[0] + l.dp*q[6]
			d01 += l.ap*q[1] + l.dp*q[7]
			d02 += l.ap*q[2] + l.dp*q[8]
			d10 += l.am*q[3] + l.dm*q[6]
			d11 += l.am*q[4] + l.dm*q[7]
			d12 += l.am*q[5] + l.dm*q[8]
			d20 += gl * q[6]
			d21 += gl * q[7]
			d22 += gl * q[8]
			r0 += l.ap*q[9] + l.dp*q[11]
			r1 += l.am*q[10] + l.dm*q[11]
			r2 += gl * q[11]
		}
		c00, c01, c02 := d11*d22-d12*d21, d12*d20-d10*d22, d10*d21-d11*d20
		det := d00*c00 + d01*c01 + d02*c02
		if !(math.Abs(det) > 0) || math.IsInf(det, 0) {
			return false
		}
		w := 1 / det
		i00, i10, i20 := c00*w, c01*w, c02*w
		i01, i11, i21 := (d02*d21-d01*d22)*w, (d00*d22-d02*d20)*w, (d01*d20-d00*d21)*w
		i02, i12, i22 := (d01*d12-d02*d11)*w, (d02*d10-d00*d12)*w, (d00*d11-d01*d10)*w
		q := &g.x[i]
		// U = −[b+ 0 d+; 0 b− d−; 0 0 g] of the right face
		q[0], q[3], q[6] = -i00*r.bp, -i10*r.bp, -i20*r.bp
		q[1], q[4], q[7] = -i01*r.bm, -i11*r.bm, -i21*r.bm
		q[2] = -(i00*r.dp + i01*r.dm + i02*gr)
		q[5] = -(i10*r.dp + i11*r.dm + i12*gr)
		q[8] = -(i20*r.dp + i21*r.dm + i22*gr)
		q[9] = i00*r0 + i01*r1 + i02*r2
		q[10] = i10*r0 + i11*r1 + i12*r2
		q[11] = i20*r0 + i21*r1 + i22*r2
		l, gl = r, gr
	}
	return g.wall(d, cq, &l, gl)
}

// wall closes the elimination with the one unknown at the wall, φ_N; the
// densities there are zero. It leaves the update of φ_N in the last row.
func (g *Volumes) wall(d *Data, cq float64, l *face, gl float64) bool {
	n := len(g.X) - 1
	q := &g.x[n]
	*q = [12]float64{}
	if d.Kind == WallPotential {
		return true
	}
	// row: e0·δp + e1·δm + e2·δφ of node N−1, plus dd·δφ_N, equals r
	fe := gl * (g.V[n-1] - g.V[n])
	var e0, e1, e2, dd, r float64
	switch d.Kind {
	case WallFloating:
		e0, e1, e2 = l.ap, -l.am, l.dp-l.dm
		dd, r = -e2, l.jm-l.jp
	default:
		k := g.aL / vref
		e2, dd = -gl, gl+g.aL*d.Back
		r = k*d.Wall + fe - g.aL*d.Back*g.V[n]
		if d.Kind == WallStep {
			// per area of the wall: fluxes of the face carry the area aL
			s := k * d.Gain / g.aL
			e0, e1 = -s*l.ap, s*l.am
			e2 -= s * (l.dp - l.dm)
			dd += s * (l.dp - l.dm)
			r += s * (l.jp - l.jm)
		}
	}
	if n > 1 {
		x := &g.x[n-1]
		dd -= e0*x[2] + e1*x[5] + e2*x[8]
		r -= e0*x[9] + e1*x[10] + e2*x[11]
	}
	q[11] = r / dd
	return !math.IsNaN(q[11]) && !math.IsInf(q[11], 0)
}

// backSubstitute turns the y of each row into the update and returns the
// largest update of all, of the potential alone, and the largest potential.
func (g *Volumes) backSubstitute() (mx, mv, vmax float64) {
	n := len(g.X) - 1
	e0, e1, e2 := g.x[n][9], g.x[n][10], g.x[n][11]
	mv, vmax = math.Abs(e2), math.Abs(g.V[n])
	mn := 0.0
	for i := n - 1; i > 0; i-- {
		q := &g.x[i]
		f0 := q[9] - (q[0]*e0 + q[1]*e1 + q[2]*e2)
		f1 := q[10] - (q[3]*e0 + q[4]*e1 + q[5]*e2)
		f2 := q[11] - (q[6]*e0 + q[7]*e1 + q[8]*e2)
		q[9], q[10], q[11] = f0, f1, f2
		e0, e1, e2 = f0, f1, f2
		mn = max(mn, math.Abs(f0), math.Abs(f1)) // max keeps NaN
		mv = max(mv, math.Abs(f2))
		vmax = max(vmax, math.Abs(g.V[i]))
	}
	return max(mn, mv), mv, vmax
}

// apply adds t times the update; a density below zero in mid-iteration is set
// to zero (at convergence none is).
func (g *Volumes) apply(t float64) {
	n := len(g.X) - 1
	for i := 1; i <= n; i++ {
		q := &g.x[i]
		g.P[i] = max(0, g.P[i]+t*q[9])
		g.M[i] = max(0, g.M[i]+t*q[10])
		g.V[i] += t * q[11]
	}
}

// Wall fluxes and fields of a solution on the mesh.
type Ends struct {
	J0, JL [2]float64 // [m/s] scaled fluxes per area at the inlet and at the wall
	E0, EL float64    // [V/m] field in the first and in the last cell
	VL     float64    // [V] potential of the wall
	// Recombined and Side are the two losses between the ends and Stored the rate
	// of accumulation, per area of the inlet, of each species [m/s].
	Recombined   float64
	Side, Stored [2]float64
}

// Ends evaluates fluxes, fields and the sums of the balance.
func (g *Volumes) Ends(d *Data) Ends {
	n := len(g.X) - 1
	c := consts(d)
	var f face
	var e Ends
	g.at(0, &c, &f)
	e.J0 = [2]float64{f.jp / g.a0, f.jm / g.a0}
	g.at(n-1, &c, &f)
	e.JL = [2]float64{f.jp / g.aL, f.jm / g.aL}
	e.E0 = (g.V[0] - g.V[1]) * vref / (g.X[1] - g.X[0])
	e.EL = (g.V[n-1] - g.V[n]) * vref / (g.X[n] - g.X[n-1])
	e.VL = g.V[n] * vref
	for i := 1; i < n; i++ {
		p, m := g.P[i], g.M[i]
		e.Recombined += d.Alpha * g.cv[i] * p * m
		e.Side[0] += g.vs[i] * p
		e.Side[1] += g.vs[i] * m
		if g.Inertia != 0 {
			e.Stored[0] += g.vol[i] * g.Inertia * (p - g.OldP[i])
			e.Stored[1] += g.vol[i] * g.Inertia * (m - g.OldM[i])
		}
	}
	e.Recombined /= g.a0
	for k := range 2 {
		e.Side[k] /= g.a0
		e.Stored[k] /= g.a0
	}
	return e
}

// Nodes calls f for every node in turn with densities [1], potential [V], field
// [V/m] and fluxes per area [m/s]. The last three live on the faces; their means
// are given at the nodes, and the values of the outer faces at the ends.
func (g *Volumes) Nodes(d *Data, f func(i int, p, m, v, e, jp, jm float64)) {
	n := len(g.X) - 1
	c := consts(d)
	var w face
	var e0, jp0, jm0 float64
	for i := range n {
		g.at(i, &c, &w)
		a := 1 / (g.ah[i] * (g.X[i+1] - g.X[i]))
		e, jp, jm := (g.V[i]-g.V[i+1])*vref/(g.X[i+1]-g.X[i]), w.jp*a, w.jm*a
		if i == 0 {
			e0, jp0, jm0 = e, jp, jm
		}
		f(i, g.P[i], g.M[i], g.V[i]*vref, 0.5*(e0+e), 0.5*(jp0+jp), 0.5*(jm0+jm))
		e0, jp0, jm0 = e, jp, jm
	}
	f(n, g.P[n], g.M[n], g.V[n]*vref, e0, jp0, jm0)
}

// Held returns the ions between the ends, per area of the inlet [m].
func (g *Volumes) Held(d *Data) (h [2]float64) {
	for i := 1; i+1 < len(g.X); i++ {
		h[0] += g.vol[i] * g.P[i]
		h[1] += g.vol[i] * g.M[i]
	}
	h[0] /= g.a0
	h[1] /= g.a0
	return h
}
