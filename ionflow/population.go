package ionflow

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Recombine returns the density of each polarity after time t, when equal
// densities n0 of both recombine and nothing else happens:
//
//	n = n0/(1 + α·n0·t)
//
// so that n stays below 1/(αt) whatever the source. n0, α and t must be 0 or
// more, else NaN.
//
// Source: J. J. Thomson and E. Rutherford, "On the passage of electricity through
// gases exposed to Röntgen rays", Phil. Mag. 42 (1896) 392.
func Recombine(n0 units.NumberDensity, alpha units.RecombinationCoefficient, t units.Time) units.NumberDensity {
	if !(n0 >= 0) || !(alpha >= 0) || !(t >= 0) {
		return units.NumberDensity(math.NaN())
	}
	return units.NumberDensity(float64(n0) / (1 + float64(alpha)*float64(n0)*float64(t))) // α n0 t is a pure number
}

// RecombinationCeiling returns 1/(αt), above which no balanced bipolar density can lie at
// age t whatever the source; +Inf at t = 0.
func RecombinationCeiling(alpha units.RecombinationCoefficient, t units.Time) units.NumberDensity {
	return units.NumberDensity(1 / (float64(alpha) * float64(t)))
}

// RecombineUnequal returns the densities after time t of ions that only recombine.
// The difference N = n+ − n− is conserved:
//
//	n+ = N·n+0/(n+0 − n−0·e^(−αNt)),  n− = n+ − N
//
// The limit N → 0 is taken without loss of digits. Densities, α and t must be 0
// or more and α·t finite, else NaN. Derived; see [Recombine] for the law.
func RecombineUnequal(plus, minus units.NumberDensity, alpha units.RecombinationCoefficient,
	t units.Time) (p, m units.NumberDensity) {
	if !(plus >= 0) || !(minus >= 0) || !(alpha >= 0) || !(t >= 0) {
		nan := units.NumberDensity(math.NaN())
		return nan, nan
	}
	if minus > plus {
		m, p = RecombineUnequal(minus, plus, alpha, t)
		return p, m
	}
	// With the smaller density m: m(t) = m0·N·e^(−y)/(N + m0(1−e^(−y))), y = αNt, in which
	// N → 0 leaves m0/(1 + m0αt).
	a, b := float64(plus), float64(minus)
	n := a - b
	y := float64(alpha) * n * float64(t)
	s := b * float64(alpha) * float64(t) * phi1(-y) // m0(1−e^(−y))/N
	less := b * numeric.Exp(-y) / (1 + s)
	return units.NumberDensity(n + less), units.NumberDensity(less)
}

// phi1 returns (eˣ − 1)/x.
func phi1(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Expm1(x) / x
}

// RecombineLosing returns the density of each polarity after time t when equal
// densities n0 recombine and each ion is also lost at the rate loss (to walls,
// aerosol, a side flow):
//
//	n = n0·λ·e^(−λt)/(λ + αn0(1 − e^(−λt)))
//
// All arguments must be 0 or more, else NaN. Derived.
func RecombineLosing(n0 units.NumberDensity, alpha units.RecombinationCoefficient, loss units.Frequency,
	t units.Time) units.NumberDensity {
	if !(n0 >= 0) || !(alpha >= 0) || !(loss >= 0) || !(t >= 0) {
		return units.NumberDensity(math.NaN())
	}
	x := float64(loss) * float64(t)
	return units.NumberDensity(float64(n0) * numeric.Exp(-x) / (1 + float64(alpha)*float64(n0)*float64(t)*phi1(-x)))
}

// SteadyDensity returns the density of each polarity that q ion pairs per m³ and
// second [1/(m³·s)] maintain against recombination and a loss rate λ:
//
//	n = (√(λ² + 4αq) − λ)/(2α) = 2q/(λ + √(λ² + 4αq))
//
// All arguments must be 0 or more, else NaN, and +Inf with α and the loss both 0. Derived.
func SteadyDensity(q float64, alpha units.RecombinationCoefficient, loss units.Frequency) units.NumberDensity {
	if !(q >= 0) || !(alpha >= 0) || !(loss >= 0) {
		return units.NumberDensity(math.NaN())
	}
	if q == 0 {
		return 0
	}
	l := float64(loss)
	return units.NumberDensity(2 * q / (l + math.Sqrt(l*l+4*float64(alpha)*q)))
}

// Repel returns the density after time t of a cloud of one polarity that expands
// freely under its own charge:
//
//	n = n0/(1 + e·μ·n0·t/ε0)
//
// along the path of any ion, whatever the shape of the cloud. n0, μ and t must be 0 or
// more, else NaN. Derived from dn/dt = −n·∇·(μE) with ∇·E = en/ε0.
func Repel(n0 units.NumberDensity, mu units.Mobility, t units.Time) units.NumberDensity {
	return Recombine(n0, repulsion(mu), t)
}

// repulsion returns eμ/ε0, which plays for one polarity the part of α.
func repulsion(mu units.Mobility) units.RecombinationCoefficient {
	return units.RecombinationCoefficient(units.ElementaryCharge * float64(mu) / units.Epsilon0)
}

// RepulsionCeiling returns ε0/(e·μ·t), above which no density of one polarity can lie at
// age t whatever the source; +Inf at t = 0. At 10 ms and 1.4e-4 m²/(V·s) it is 3.9e13 m⁻³.
//
// Source: derived; the bound is also stated by W. T. Kaune, M. F. Gillis, R. J. Weigel, J.
// Appl. Phys. 54 (1983) 6274.
func RepulsionCeiling(mu units.Mobility, t units.Time) units.NumberDensity {
	return RecombinationCeiling(repulsion(mu), t)
}

// LangevinParcel returns the densities after time t of an unconfined mixture whose
// recombination coefficient is the Langevin limit 2eμ/ε0 and whose mobilities are
// equal: each polarity falls as n0/(1 + e·μ·(n+0 + n−0)·t/ε0). A check for [Path].
func LangevinParcel(plus, minus units.NumberDensity, mu units.Mobility, t units.Time) (p, m units.NumberDensity) {
	f := 1 + float64(repulsion(mu))*(float64(plus)+float64(minus))*float64(t)
	return units.NumberDensity(float64(plus) / f), units.NumberDensity(float64(minus) / f)
}

// InJet returns the density of each polarity at x in a free jet of constant momentum
// that left its source with density n0 at speed u0 and has entrained to q = Q/Q0:
//
//	n = n0/(q·(1 + α·n0·x/U0))
//
// It is the exit speed that stands with recombination: slowing down and dilution
// cancel, in every jet of constant momentum, because u·Q = U0·Q0. Top-hat
// profile. Derived.
func InJet(n0 units.NumberDensity, alpha units.RecombinationCoefficient, x units.Length, u0 units.Speed,
	q units.Ratio) units.NumberDensity {
	return units.NumberDensity(float64(Recombine(n0, alpha, units.Time(float64(x)/float64(u0)))) / float64(q))
}

// InStagnation returns the density of each polarity at x in the flow U0(1 − x/L)
// before a wall at L:
//
//	n = n0/(1 − (α·n0·L/U0)·ln(1 − x/L))
//
// 0 at the wall, which the air never reaches. x must lie within 0 … L, else NaN. Derived
// (flow along the axis: the air that leaves sideways has the same density).
func InStagnation(n0 units.NumberDensity, alpha units.RecombinationCoefficient, x, l units.Length,
	u0 units.Speed) units.NumberDensity {
	r := float64(x) / float64(l)
	if !(r >= 0 && r <= 1) {
		return units.NumberDensity(math.NaN())
	}
	return Recombine(n0, alpha, units.Time(-float64(l)/float64(u0)*math.Log1p(-r)))
}

// TubePenetration returns the share of ions that leave a tube without touching the wall
// by diffusion, in laminar flow, for m = πDL/Q:
//
//	m ≤ 0.05: 1 − 2.56·m^⅔ + 1.2·m + 0.177·m^(4/3)
//	m > 0.05: 0.819·e^(−3.657m) + 0.097·e^(−22.3m) + 0.032·e^(−57m)
//
// Against the Graetz series both are good to 5e-4 with this switch (the usual one at
// 0.02 has a step of 0.3 %). In a real nozzle space charge and turbulence usually
// rule. m < 0 gives NaN.
//
// Source: P. G. Gormley and M. Kennedy, Proc. R. Ir. Acad. 52A (1949) 163.
func TubePenetration(m float64) units.Ratio { // m [1]
	switch {
	case !(m >= 0):
		return units.Ratio(math.NaN())
	case m <= 0.05:
		c := math.Cbrt(m)
		return units.Ratio(1 - 2.56*c*c + 1.2*m + 0.177*m*c)
	}
	return units.Ratio(0.819*numeric.Exp(-3.657*m) + 0.097*numeric.Exp(-22.3*m) + 0.032*numeric.Exp(-57*m))
}

// TubeParameter returns m = πDL/Q of [TubePenetration].
func TubeParameter(d units.Diffusivity, l units.Length, q units.VolumeFlow) float64 { // [1]
	return math.Pi * float64(d) * float64(l) / float64(q)
}

// UnipolarFlux returns the flux e·n0·w0 of ions of one polarity, in A/m², that air of
// speed u carries over the length l towards a wall which attracts them with the
// field e at the wall, and the speed w0 with which they enter. Along the way
// w = u + μE obeys w² = w0² + 2Kw0x with K = e·μ·n0/ε0, so that
//
//	w0 = −K·l + √((K·l)² + w_l²),  w_l = u + μ·e
//
// n0 is kept at the inlet. A field below 0 repels the ions: the charge of the wall is of their own sign, which is
// flagged [known.WrongShape], and where w_l is 0 or less they do not arrive and the flux is 0. n0, μ and l must be 0 or
// more, else NaN. Derived.
func UnipolarFlux(n0 units.NumberDensity, mu units.Mobility, u units.Speed, l units.Length,
	e units.ElectricField) (units.CurrentDensity, units.Speed, known.Validity) {
	flag := known.Inside
	if e < 0 {
		flag = known.WrongShape
	}
	if !(n0 >= 0) || !(mu >= 0) || !(l >= 0) {
		return units.CurrentDensity(math.NaN()), units.Speed(math.NaN()), known.WrongShape
	}
	kl := float64(repulsion(mu)) * float64(n0) * float64(l)
	w := max(float64(u)+float64(mu)*float64(e), 0)
	w0 := w * w / (kl + math.Hypot(kl, w)) // without cancellation
	if w == 0 && kl == 0 {
		w0 = 0
	}
	return units.CurrentDensity(units.ElementaryCharge * float64(n0) * w0), units.Speed(w0), flag
}
