package bvp

import "math"

// eliminate forms the Newton system of the collocation and solves it into dy.
// The matrix is almost block diagonal: three conditions at the inlet, six
// equations an interval, three conditions at the wall. The three rows carried
// over from the intervals before and the six of the interval are reduced
// together with row pivoting, which leaves three rows to carry on; there is no
// fill outside the 9×12 panel.
func (k *Colloc) eliminate(d *Data, c *coef) bool {
	n := len(k.X) - 1
	for i := range k.Y {
		rhs(c, &k.node[i], &k.Y[i], &k.fn[i])
	}
	var rows [9][13]float64
	var perm [9]*[13]float64
	for i := range perm {
		perm[i] = &rows[i]
	}
	y0 := &k.Y[0]
	// conditions at the inlet, in the columns of the first node
	*perm[0], *perm[1], *perm[2] = [13]float64{}, [13]float64{}, [13]float64{}
	perm[0][0], perm[0][12] = 1, d.N0[0]-y0[0]
	perm[1][1], perm[1][12] = 1, d.N0[1]-y0[1]
	perm[2][4], perm[2][12] = 1, -y0[4]
	var jl, jm, jr jac
	jacAt(c, &k.node[0], &k.Y[0], &jl)
	for i := range n {
		h := k.X[i+1] - k.X[i]
		yl, yr, fl, fr := &k.Y[i], &k.Y[i+1], &k.fn[i], &k.fn[i+1]
		var ym, fm [6]float64
		for v := range 6 {
			ym[v] = 0.5*(yl[v]+yr[v]) + h/8*(fl[v]-fr[v])
		}
		rhs(c, &k.mid[i], &ym, &fm)
		jacAt(c, &k.mid[i], &ym, &jm)
		jacAt(c, &k.node[i+1], yr, &jr)
		for v := range 6 {
			*perm[3+v] = [13]float64{}
			perm[3+v][12] = yl[v] - yr[v] + h/6*(fl[v]+4*fm[v]+fr[v])
		}
		p, m, gp, gm, ph, f := perm[3], perm[4], perm[5], perm[6], perm[7], perm[8]
		fill(p, m, gp, gm, ph, f, 0, -1, -h/6, -h/3, -h*h/12, &jl, &jm)
		fill(p, m, gp, gm, ph, f, 6, 1, -h/6, -h/3, h*h/12, &jr, &jm)
		// the two stiff rows are brought to the size of the others
		for r, q := range [2]float64{jm.pp, jm.mm} {
			z := math.Abs(h * q)
			w := 1 / (1 + z/2 + z*z/12)
			row := perm[3+r]
			for v := range row {
				row[v] *= w
			}
		}
		if !reduce(&perm, &k.u[i]) {
			return false
		}
		jl = jr
	}
	return k.closeWall(d, &perm)
}

// fill writes d R/d y of one end of an interval, columns from at on: e·I + a·J +
// b·Jm + q·Jm·J.
func fill(p, m, gp, gm, ph, f *[13]float64, at int, e, a, b, q float64, j, w *jac) {
	const P, M, GP, GM, V, F = 0, 1, 2, 3, 4, 5
	p[at+P] = e + a*j.pp + b*w.pp + q*(w.pp*j.pp+w.pg*j.gpp+w.pf*j.fp)
	p[at+M] = q * (w.pg*j.gpm - w.pf*j.fp)
	p[at+GP] = a*j.pg + b*w.pg + q*w.pp*j.pg
	p[at+F] = a*j.pf + b*w.pf + q*w.pp*j.pf
	m[at+P] = q * (w.mg*j.gmp + w.mf*j.fp)
	m[at+M] = e + a*j.mm + b*w.mm + q*(w.mm*j.mm+w.mg*j.gmm-w.mf*j.fp)
	m[at+GM] = a*j.mg + b*w.mg + q*w.mm*j.mg
	m[at+F] = a*j.mf + b*w.mf + q*w.mm*j.mf
	gp[at+P] = a*j.gpp + b*w.gpp + q*w.gpp*j.pp
	gp[at+M] = a*j.gpm + b*w.gpm + q*w.gpm*j.mm
	gp[at+GP] = e + q*w.gpp*j.pg
	gp[at+GM] = q * w.gpm * j.mg
	gp[at+F] = q * (w.gpp*j.pf + w.gpm*j.mf)
	gm[at+P] = a*j.gmp + b*w.gmp + q*w.gmp*j.pp
	gm[at+M] = a*j.gmm + b*w.gmm + q*w.gmm*j.mm
	gm[at+GP] = q * w.gmp * j.pg
	gm[at+GM] = e + q*w.gmm*j.mg
	gm[at+F] = q * (w.gmp*j.pf + w.gmm*j.mf)
	ph[at+P] = q * w.vf * j.fp
	ph[at+M] = -q * w.vf * j.fp
	ph[at+V] = e
	ph[at+F] = a*j.vf + b*w.vf
	f[at+P] = a*j.fp + b*w.fp + q*w.fp*j.pp
	f[at+M] = -a*j.fp - b*w.fp - q*w.fp*j.mm
	f[at+GP] = q * w.fp * j.pg
	f[at+GM] = -q * w.fp * j.mg
	f[at+F] = e + q*w.fp*(j.pf-j.mf)
}

// reduce eliminates the first six columns of the panel, stores the six pivot
// rows in u and moves the three rows that are left to perm[0..2], their columns
// shifted to the next node.
func reduce(perm *[9]*[13]float64, u *[6][13]float64) bool {
	for col := range 6 {
		best, big := -1, 0.0
		for r := col; r < 9; r++ {
			if v := math.Abs(perm[r][col]); v > big {
				best, big = r, v
			}
		}
		if best < 0 {
			return false
		}
		perm[col], perm[best] = perm[best], perm[col]
		pr := perm[col]
		inv := 1 / pr[col]
		for r := col + 1; r < 9; r++ {
			row := perm[r]
			if row[col] == 0 {
				continue
			}
			w := row[col] * inv
			for v := col + 1; v < 13; v++ {
				row[v] -= w * pr[v]
			}
		}
		u[col] = *pr
		u[col][col] = inv
	}
	for r := range 3 {
		row := perm[6+r]
		copy(row[:6], row[6:12])
		for v := 6; v < 12; v++ {
			row[v] = 0
		}
		perm[r], perm[6+r] = perm[6+r], perm[r]
	}
	return true
}

// closeWall adds the conditions at the wall to the three rows that are left,
// solves for the last node and goes back through the intervals.
func (k *Colloc) closeWall(d *Data, perm *[9]*[13]float64) bool {
	n := len(k.X) - 1
	y := &k.Y[n]
	aL := k.node[n].a
	for r := 3; r < 9; r++ {
		*perm[r] = [13]float64{}
	}
	perm[3][0], perm[3][12] = 1, -y[0]
	perm[4][1], perm[4][12] = 1, -y[1]
	q := perm[5]
	switch d.Kind {
	case WallPotential:
		q[4], q[12] = 1, d.Wall/vref-y[4]
	case WallFloating:
		q[2], q[3], q[12] = 1, -1, y[3]-y[2]
	default:
		// −F/a + φ·Back = Wall, divided by the scale of the field
		q[5], q[4] = -1/aL, d.Back*vref/k.Es
		q[12] = d.Wall/k.Es - q[5]*y[5] - q[4]*y[4]
	}
	// the rows 6…8 are idle: unit rows of columns beyond the node
	for r := 6; r < 9; r++ {
		perm[r][r] = 1
	}
	u := &k.u[n]
	if !reduce(perm, u) {
		return false
	}
	for i := n; i >= 0; i-- {
		u := &k.u[i]
		out := &k.dy[i]
		var next *[6]float64
		if i < n {
			next = &k.dy[i+1]
		}
		for r := 5; r >= 0; r-- {
			s := u[r][12]
			for v := r + 1; v < 6; v++ {
				s -= u[r][v] * out[v]
			}
			if next != nil {
				for v := range 6 {
					s -= u[r][6+v] * next[v]
				}
			}
			out[r] = s * u[r][r]
		}
	}
	return true
}
