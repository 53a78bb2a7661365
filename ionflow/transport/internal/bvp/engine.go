package bvp

import "math"

// Engine solves one problem after another to a tolerance and keeps all its
// workspace. One goroutine uses it at a time.
type Engine struct {
	Volumes Volumes
	c       [3]Colloc
	Final   *Colloc // the solution
	mesh, w []float64
	Trace   func(string, int, Status, float64)
}

// Outcome says what an [Engine] reached.
type Outcome struct {
	Status
	Error        float64 // [1] estimated error of fluxes, field and potential, relative to the largest
	DensityError float64 // [1] estimated error of the densities over Nref
	Nodes        int
}

// Options steer an [Engine].
type Options struct {
	Tol        float64 // [1] wanted Error
	DensityTol float64 // [1] wanted DensityError
	MaxNodes   int
}

// first is the number of intervals of the first mesh.
const first = 64

// grading constant: share of evenly spread nodes, in e-folds
const even = 6

// Solve solves d from a cold start: finite volumes on a graded mesh, collocation
// on the same mesh, then meshes fitted to the solution until the difference
// between a mesh and its refinement meets the tolerance. Where the collocation
// does not converge the finite volumes are refined first.
func (e *Engine) Solve(d *Data, o Options) Outcome {
	a := Layers(d)
	var out Outcome
	for n := first; n <= o.MaxNodes; n *= 2 {
		if d.stopped() {
			break
		}
		e.mesh = Graded(e.mesh, d.L, a, a, even, n)
		e.Volumes.SetMesh(d, e.mesh)
		if out.Status = e.Volumes.Cold(d); !out.Converged {
			e.trace("volumes", n, out.Status, 0)
			continue
		}
		k := &e.c[0]
		k.SetMesh(d, e.mesh)
		k.FromVolumes(d, &e.Volumes)
		st := k.Newton(d, 1e-4, 40)
		e.trace("colloc", n, st, 0)
		if !st.Converged {
			out.Status = st
			continue
		}
		out.Converged = false
		if e.refine(d, o, k, n, a, &out); out.Converged {
			return out
		}
	}
	return out
}

// SolveNext starts from the solution of the problem before; the mesh is fitted
// to that, and refined as in Solve.
func (e *Engine) SolveNext(d *Data, o Options) Outcome {
	var out Outcome
	if e.Final == nil {
		return out
	}
	n := min(max((len(e.Final.X)-1)/2, first), o.MaxNodes/2)
	e.refine(d, o, e.Final, n, Layers(d), &out)
	return out
}

// SolveOn solves d by finite volumes on the mesh x, with every eighth node
// of it (and of that) first, until the scaled Newton update is below tol.
func (e *Engine) SolveOn(d *Data, x []float64, tol float64) Status {
	g := &e.Volumes
	n := len(x) - 1
	step := 1
	for n%(8*step) == 0 && n/(8*step) >= 32 {
		step *= 8
	}
	e.mesh = every(e.mesh, x, step)
	g.SetMesh(d, e.mesh)
	st := g.Cold(d)
	for st.Converged && step > 1 {
		step /= 8
		e.mesh = every(e.mesh, x, step)
		g.Prolong(d, e.mesh)
		if step > 1 {
			g.save()
			if st = g.Newton(d, 1e-3, 1, 30); st.Converged {
				g.extrapolate(1.0 / 8)
			}
		}
	}
	if st.Converged {
		st = g.Newton(d, tol, 1, 30)
	}
	if !st.Converged {
		g.SetMesh(d, x)
		if st = g.Cold(d); st.Converged {
			st = g.Newton(d, tol, 1, 30)
		}
	}
	return st
}

func every(dst, x []float64, step int) []float64 {
	dst = dst[:0]
	for i := 0; i < len(x); i += step {
		dst = append(dst, x[i])
	}
	return dst
}

// refine fits meshes of at first target intervals to the solution in cur.
func (e *Engine) refine(d *Data, o Options, cur *Colloc, target int, a float64, out *Outcome) {
	for 2*target <= o.MaxNodes {
		e.w = grow(e.w, len(cur.X)-1)
		cur.Monitor(d, e.w, a, a, even)
		e.mesh = Spread(e.mesh, cur.X, e.w, target)
		k := e.other(cur, nil)
		k.SetMesh(d, e.mesh)
		k.Transfer(d, cur)
		out.Status = k.Newton(d, 1e-6, 20)
		e.trace("spread", target, out.Status, 0)
		if !out.Converged {
			return
		}
		f := e.other(cur, k)
		e.mesh = halve(e.mesh, k.X)
		f.SetMesh(d, e.mesh)
		f.Transfer(d, k)
		out.Status = f.Newton(d, min(0.01*o.Tol, 1e-11), 20) // the balance closes as far as the iteration has converged
		if !out.Converged {
			e.trace("halved", 2*target, out.Status, 0)
			return
		}
		out.Error, out.DensityError = compare(d, k, f)
		e.trace("halved", 2*target, out.Status, out.Error)
		out.Nodes = len(f.X)
		e.Final, cur = f, f
		r := max(out.Error/o.Tol, out.DensityError/o.DensityTol)
		if r <= 1 {
			return
		}
		out.Converged = false
		target = int(float64(target) * min(max(math.Sqrt(math.Sqrt(2*r)), 1.2), 4))
	}
}

func (e *Engine) trace(s string, n int, st Status, x float64) {
	if e.Trace != nil {
		e.Trace(s, n, st, x)
	}
}

// other returns a workspace that is neither a nor b.
func (e *Engine) other(a, b *Colloc) *Colloc {
	for i := range e.c {
		if k := &e.c[i]; k != a && k != b {
			return k
		}
	}
	return nil
}

func halve(dst, x []float64) []float64 {
	n := len(x) - 1
	dst = grow(dst, 2*n+1)
	for i := range n {
		dst[2*i] = x[i]
		dst[2*i+1] = 0.5 * (x[i] + x[i+1])
	}
	dst[2*n] = x[n]
	return dst
}

// compare estimates the error of fine from its difference to coarse, whose mesh
// is every second node. At fourth order the fine error is a fifteenth of the
// difference; an eighth is taken, which still holds at order 3.2. A
// density below zero counts as an error of the densities.
func compare(d *Data, coarse, fine *Colloc) (err, dens float64) {
	n := len(coarse.X) - 1
	vm, um := 1e-3, 0.0
	for i := range fine.Y {
		dens = max(dens, -fine.Y[i][0], -fine.Y[i][1])
		vm = max(vm, math.Abs(fine.Y[i][4]))
		um = max(um, math.Abs(fine.node[i].u))
	}
	es := fine.Es / max(fine.Es, 1e-3*um/min(d.Mu[0], d.Mu[1]))
	for i := range coarse.X {
		c, f := &coarse.Y[i], &fine.Y[2*i]
		dens = max(dens, math.Abs(c[0]-f[0])/8, math.Abs(c[1]-f[1])/8)
		if i == 0 || i == n {
			err = max(err, math.Abs(c[2]-f[2]), math.Abs(c[3]-f[3]), math.Abs(c[4]-f[4])/vm, es*math.Abs(c[5]-f[5]))
		}
	}
	return err / 8, dens
}
