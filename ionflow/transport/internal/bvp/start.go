package bvp

import "math"

// FromVolumes sets Y and the scales from a solution by finite volumes on the
// same mesh. Fluxes follow from the densities, their slopes and the field, so
// that every right-hand side starts at a finite difference: taken from the faces
// they would differ from n·(u ± μE) by the first-order error of the volumes,
// which the small diffusivity would turn into wild slopes.
func (k *Colloc) FromVolumes(d *Data, g *Volumes) {
	n := len(g.X) - 1
	k.Gs, k.Es = d.D[0]/d.L, d.D[0]/d.Mu[0]/d.L
	for i := range k.X {
		var dp, dm, dv float64
		switch i {
		case 0:
			h := g.X[1] - g.X[0]
			dp, dm, dv = (g.P[1]-g.P[0])/h, (g.M[1]-g.M[0])/h, (g.V[1]-g.V[0])/h
		case n:
			h := g.X[n] - g.X[n-1]
			dp, dm, dv = (g.P[n]-g.P[n-1])/h, (g.M[n]-g.M[n-1])/h, (g.V[n]-g.V[n-1])/h
		default:
			h, b := g.X[i+1]-g.X[i], g.X[i]-g.X[i-1]
			w := 1 / (h * b * (h + b))
			dp = (b*b*(g.P[i+1]-g.P[i]) + h*h*(g.P[i]-g.P[i-1])) * w
			dm = (b*b*(g.M[i+1]-g.M[i]) + h*h*(g.M[i]-g.M[i-1])) * w
			dv = (b*b*(g.V[i+1]-g.V[i]) + h*h*(g.V[i]-g.V[i-1])) * w
		}
		q := &k.node[i]
		e := -dv * vref
		y := &k.Y[i]
		y[0], y[1], y[4] = g.P[i], g.M[i], g.V[i]
		y[2] = q.a * (g.P[i]*(q.u+d.Mu[0]*e) - d.D[0]*dp)
		y[3] = q.a * (g.M[i]*(q.u-d.Mu[1]*e) - d.D[1]*dm)
		y[5] = q.a * e
		k.Gs = max(k.Gs, math.Abs(y[2]), math.Abs(y[3]))
		k.Es = max(k.Es, math.Abs(y[5]))
	}
	for i := range k.Y {
		y := &k.Y[i]
		y[2] /= k.Gs
		y[3] /= k.Gs
		y[5] /= k.Es
	}
}

// Transfer sets Y and the scales from a solution on another mesh: densities and
// potential by the cubic through values and slopes (kept monotone), fluxes and
// field from these and their slopes, as in [Colloc.FromVolumes].
func (k *Colloc) Transfer(d *Data, from *Colloc) {
	k.Gs, k.Es = from.Gs, from.Es
	co := from.coef(d)
	for i := range from.Y {
		rhs(&co, &from.node[i], &from.Y[i], &from.fn[i])
	}
	j, n := 0, len(from.X)-1
	for i, x := range k.X {
		for j < n-1 && from.X[j+1] <= x {
			j++
		}
		y := &k.Y[i]
		h := from.X[j+1] - from.X[j]
		t := (x - from.X[j]) / h
		if t == 0 {
			*y = from.Y[j]
			continue
		}
		if t == 1 {
			*y = from.Y[j+1]
			continue
		}
		l, r, fl, fr := &from.Y[j], &from.Y[j+1], &from.fn[j], &from.fn[j+1]
		var dp, dm float64
		y[0], dp = hermite(l[0], r[0], h*fl[0], h*fr[0], t)
		y[1], dm = hermite(l[1], r[1], h*fl[1], h*fr[1], t)
		y[4], _ = hermite(l[4], r[4], h*fl[4], h*fr[4], t)
		y[5], _ = hermite(l[5], r[5], h*fl[5], h*fr[5], t)
		q := &k.node[i]
		e := y[5] * k.Es * q.ia
		y[2] = q.a * (y[0]*(q.u+d.Mu[0]*e) - d.D[0]*dp/h) / k.Gs
		y[3] = q.a * (y[1]*(q.u-d.Mu[1]*e) - d.D[1]*dm/h) / k.Gs
	}
}

// hermite interpolates between l and r with end slopes dl, dr (times the width)
// at t in 0…1 and returns value and slope; slopes steeper than three chords are
// cut, which keeps a monotone piece monotone (Fritsch, Carlson, SIAM J. Numer.
// Anal. 17 (1980) 238–246).
func hermite(l, r, dl, dr, t float64) (y, dy float64) {
	c := r - l
	dl, dr = limit(dl, c), limit(dr, c)
	a, b := dl-c, c-dr
	y = l + t*(c+(1-t)*(a*(1-t)+b*t))
	dy = c + (1-2*t)*(a*(1-t)+b*t) + t*(1-t)*(b-a)
	return y, dy
}

func limit(s, c float64) float64 {
	if s*c <= 0 {
		return 0
	}
	if math.Abs(s) > 3*math.Abs(c) {
		return 3 * c
	}
	return s
}

// Cubic interpolates between l and r with end slopes dl, dr (times the width) at
// t in 0…1; a monotone piece stays monotone.
func Cubic(l, r, dl, dr, t float64) float64 {
	y, _ := hermite(l, r, dl, dr, t)
	return y
}
