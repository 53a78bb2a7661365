package bvp

import "math"

// Stepper integrates the finite volumes in time by backward Euler: every step is
// a steady problem with the inertia term (n − n_old)/Δt, solved by the same
// Newton iteration, so that no step is limited by space charge or by the cell
// size, densities stay at zero or above, and charge is conserved to the accuracy
// of the iteration.
type Stepper struct {
	Volumes
	D       Data
	T       float64   // [s]
	last    float64   // [s] step before, 0 if there is no history
	prev    []float64 // n+, n−, φ one step before, then at the present step
	present []float64
}

// Start takes the mesh; the gap holds no ions then, and the potential is that of
// the wall alone.
func (s *Stepper) Start(x []float64) {
	s.SetMesh(&s.D, x)
	n := len(x)
	for i := range n {
		s.P[i], s.M[i] = 0, 0
	}
	s.laplace(&s.D)
	s.last = 0
	s.OldP, s.OldM = grow(s.OldP, n), grow(s.OldM, n)
}

// Forget drops the history after a jump of the data.
func (s *Stepper) Forget() { s.last = 0 }

// Step advances by dt to the data in D, which are those of the new time. The estimate is that of the error of the step:
// of the densities in the mean over the gap, of the potential relative to its largest value or 1 V; it is 0
// for the first step after [Stepper.Forget]. If the iteration fails, or the
// estimate is above limit, the state is as before.
func (s *Stepper) Step(dt, limit float64) (est float64, st Status) {
	n := len(s.X)
	s.present = grow(s.present, 3*n)
	p, m, v := s.present[:n], s.present[n:2*n], s.present[2*n:]
	copy(p, s.P)
	copy(m, s.M)
	copy(v, s.V)
	copy(s.OldP, s.P)
	copy(s.OldM, s.M)
	s.Inertia = 1 / dt
	st = s.Newton(&s.D, 1e-9, 1, 25)
	if st.Converged && s.last > 0 {
		r := dt / s.last
		var ep, em, ev, vm float64
		for i := 1; i < n; i++ {
			h := s.X[i] - s.X[i-1]
			ep += h * math.Abs(s.P[i]-p[i]-r*(p[i]-s.prev[i]))
			em += h * math.Abs(s.M[i]-m[i]-r*(m[i]-s.prev[n+i]))
			ev = max(ev, math.Abs(s.V[i]-v[i]-r*(v[i]-s.prev[2*n+i])))
			vm = max(vm, math.Abs(s.V[i]))
		}
		// the difference to linear extrapolation is y''Δt(Δt+Δt')/2, the error y''Δt²/2
		est = max(ep/s.D.L, em/s.D.L, ev/max(vm, 1/vref)) * dt / (dt + s.last)
	}
	if !st.Converged || est > limit {
		copy(s.P, p)
		copy(s.M, m)
		copy(s.V, v)
		return est, st
	}
	s.prev, s.present = s.present, s.prev
	s.last = dt
	s.T += dt
	return est, st
}
