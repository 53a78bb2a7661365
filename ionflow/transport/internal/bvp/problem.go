// Package bvp holds the numerical kernels of ionflow's one-dimensional
// transport problem: two species of ions with drift, diffusion, convection and
// recombination, coupled by Gauss' law. It works in plain numbers; package
// ionflow gives them their meaning and checks them.
//
// Two discretisations of the same equations stand here. The exponentially
// fitted finite volumes ([Volumes]) keep every density at zero or above on any
// mesh and are of first order where drift outweighs diffusion; the collocation
// ([Colloc]) is of fourth order and starts from them.
package bvp

// Profile is the flow as a function of the distance from the inlet.
type Profile interface {
	// Flow returns at x [m] the air speed u [m/s], the cross-section relative to
	// the inlet a [1], the rate of side flow s [1/s] that carries ions out,
	// s = max(0, −(1/a) d(a u)/dx), and the factor c [1] on recombination.
	Flow(x float64) (u, a, s, c float64)
}

// WallKind says which condition closes the system at the wall x = L.
type WallKind uint8

// The conditions at the wall.
const (
	WallPotential WallKind = iota // φ(L) = Wall
	WallCharge                    // −E(L) + φ(L)·Back = Wall, Wall = σ/ε0
	WallFloating                  // J+(L) = J−(L)
	WallStep                      // as WallCharge, with Wall + Gain·(J+(L) − J−(L)) on the right
)

// Data is a problem in SI units, but for densities, which are divided by a
// reference density Nref, so that the inlet values are of order one.
type Data struct {
	L     float64    // [m] distance from the inlet to the wall
	Mu    [2]float64 // [m²/(V·s)] mobilities of the positive and the negative species
	D     [2]float64 // [m²/s] diffusivities
	N0    [2]float64 // [1] inlet densities over Nref
	Alpha float64    // [1/s] recombination coefficient times Nref
	CQ    float64    // [V/m²] e·Nref/ε0
	Kind  WallKind
	Wall  float64 // [V] or [V/m] see Kind
	Back  float64 // [1/m] reciprocal of the air-equivalent gap behind the wall
	Gain  float64 // [V·s/m²] charge per unit of scaled net flux in a time step, over ε0
	Geo   Profile
	// Source, if not nil, adds production rates to both species [1/s] and a field
	// divergence to Gauss' law [V/m²]; manufactured solutions are made with it.
	Source func(x float64) (sp, sm, sf float64)
	// Stop, if not nil, is asked before every linear system; true ends the iteration unconverged.
	Stop func() bool
}

func (d *Data) stopped() bool { return d.Stop != nil && d.Stop() }

// Swap returns the mirror problem: the species exchanged and every potential,
// field and charge negated. Its solution is the mirror of the first.
func (d Data) Swap() Data {
	d.Mu[0], d.Mu[1] = d.Mu[1], d.Mu[0]
	d.D[0], d.D[1] = d.D[1], d.D[0]
	d.N0[0], d.N0[1] = d.N0[1], d.N0[0]
	d.Wall = -d.Wall
	return d
}

// Status says how an iteration ended.
type Status struct {
	Converged  bool
	Singular   bool    // a pivot was zero or not a number
	Iterations int     // linear systems solved
	Update     float64 // [1] last scaled Newton update
}
