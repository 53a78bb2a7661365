package bvp

import (
	"math"

	"example.org/pithball/internal/numeric"
)

// Graded writes n+1 nodes from 0 to l into dst and returns it, with node density
//
//	ρ(x) ∝ 1/(x + a0) + 1/(l − x + a1) + c/l
//
// so that the step grows by a constant factor away from either end: from about
// a0 at the inlet and a1 at the wall to l/n-sized steps inside. a0, a1 are lengths
// below the thickness D/|u ± μE| of the layers there; they enter by their
// logarithm only.
func Graded(dst []float64, l, a0, a1, c float64, n int) []float64 {
	dst = grow(dst, n+1)
	cum := func(x float64) float64 {
		return math.Log1p(x/a0) + math.Log((l+a1)/(l-x+a1)) + c*x/l
	}
	total := cum(l)
	dst[0], dst[n] = 0, l
	x := 0.0
	for i := 1; i < n; i++ {
		want := total * float64(i) / float64(n)
		// From the node before; the function is finite and rises, so that there is a root.
		x, _ = numeric.Newton(func(x float64) (y, slope float64) {
			return cum(x) - want, 1/(x+a0) + 1/(l-x+a1) + c/l
		}, x, x, l, 1e-6, 1e-6*a0)
		dst[i] = x
	}
	return dst
}

// Layers estimates the lengths a0, a1 for [Graded] from the data alone: D over
// the largest speed that an ion can reach.
func Layers(d *Data) float64 {
	e := d.CQ * d.L * max(d.N0[0], d.N0[1]) / 2
	if d.Kind == WallPotential {
		e += 2 * math.Abs(d.Wall) / d.L
	} else if d.Kind != WallFloating {
		e += math.Abs(d.Wall)
	}
	u := 0.0
	for i := range 9 {
		v, _, _, _ := d.Geo.Flow(d.L * float64(i) / 8)
		u = max(u, math.Abs(v))
	}
	a := d.L
	for k := range 2 {
		a = min(a, 0.5*d.D[k]/(u+d.Mu[k]*e+d.D[k]/d.L))
	}
	return max(a, 1e-7*d.L)
}

// Monitor sets w[i], the share of the nodes that interval i of the solution in k
// ought to get: half from the fourth derivatives of densities, fluxes and field
// (the error of the scheme goes with h⁴ y⁗), half from the graded density that
// lets every layer decay whatever its thickness. It returns ∫|y⁗|^¼ dx, from
// which the error follows by the fourth power of its ratio to the node count.
func (k *Colloc) Monitor(d *Data, w []float64, a0, a1, c float64) float64 {
	n := len(k.X) - 1
	co := k.coef(d)
	for i := range k.Y {
		rhs(&co, &k.node[i], &k.Y[i], &k.fn[i])
	}
	comps := [5]int{0, 1, 2, 3, 5}
	var prev [5]float64
	total := 0.0
	node := 0.0 // monitor of the node to the left
	for i := 0; i <= n; i++ {
		var next float64
		if i < n {
			h := k.X[i+1] - k.X[i]
			ih := 1 / h
			sum := 0.0
			hl := h
			if i > 0 {
				hl = k.X[i] - k.X[i-1]
			}
			for q, v := range comps {
				t := (12*(k.Y[i][v]-k.Y[i+1][v])*ih + 6*(k.fn[i][v]+k.fn[i+1][v])) * ih * ih
				if i > 0 {
					f := 2 * (t - prev[q]) / (h + hl)
					sum += f * f
				}
				prev[q] = t
			}
			next = math.Sqrt(math.Sqrt(math.Sqrt(sum))) // (Σ y⁗²)^⅛
		}
		if i > 0 {
			w[i-1] = max(node, next) * (k.X[i] - k.X[i-1])
			if i == n {
				w[i-1] = node * (k.X[i] - k.X[i-1])
			}
			total += w[i-1]
		}
		node = next
	}
	// floor: the graded density
	cum := func(x float64) float64 {
		return math.Log1p(x/a0) + math.Log((d.L+a1)/(d.L-x+a1)) + c*x/d.L
	}
	norm := cum(d.L)
	last := 0.0
	for i := range n {
		x := cum(k.X[i+1])
		w[i] = 0.5*w[i]/max(total, 1e-300) + 0.5*(x-last)/norm
		last = x
	}
	return total
}

// Spread writes n+1 nodes into dst that share the weights w of the intervals of x
// evenly.
func Spread(dst, x, w []float64, n int) []float64 {
	dst = grow(dst, n+1)
	sum := 0.0
	for _, v := range w {
		sum += v
	}
	dst[0], dst[n] = x[0], x[len(x)-1]
	j, acc := 0, 0.0
	for i := 1; i < n; i++ {
		want := sum * float64(i) / float64(n)
		for acc+w[j] < want && j < len(w)-1 {
			acc += w[j]
			j++
		}
		dst[i] = x[j] + (x[j+1]-x[j])*min(max((want-acc)/w[j], 0), 1)
	}
	return dst
}
