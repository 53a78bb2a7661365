package sheet

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// FreeSpanWeb is the steady charge on a web that moves between two earthed
// rollers with air on both faces. Charge is carried by the web and driven along
// it by its own field:
//
//	d/dx [U σ − (1/ρ_s) dφ/dx] = source,  φ = ψ + h0 σ/ε0,  σ = ε0 (Λ₁ + Λ₂) ψ
//
// ψ is the potential over the contact gap h0 and Λ_j the operator from the
// potential of the web to the field on one face, with the roller j on that face
// and the plane of the web earthed beyond the span. The inversion w = 1/x maps
// the plane and a cylinder of radius R tangent to it at x = 0 to two parallel
// lines 1/(2R) apart, so the operator is known in closed form:
//
//	Λψ(x) = ψ(x)/h(x) + ∫ K(x,x′) [ψ(x) − ψ(x′)] dx′,  h = x²/(2R)
//	K = πR²/(x x′)² · csch²[πR (x−x′)/(x x′)]
//
// Near the tangent line it is the plate capacitor of the opening gap h(x); far
// from it, or for R → 0, the half-plane K = 1/(π(x−x′)²), the non-local law of a
// free sheet. It is exact for rollers on opposite faces of the web. For rollers
// on the same face it superposes them: by boundary elements on both circles the
// field is then off by 4e-4, 4e-3 and 2e-2 of its greatest value at R/L = 0.05,
// 0.1 and 0.2.
//
// The charged face touches both rollers: φ = 0 there. The gap makes the inlet a
// barrier: close behind the roller the image holds the potential down, hardly
// any current flows along the web and the web carries the charge out again. So
// far more leaves downstream than [UpWebShare] suggests for an endless web, and
// on a perfect insulator everything does. Half of the charge that leaves the
// inlet goes back at v_s/U of about 0.12·√(R/h0) (computed for R/L from 0.025 to
// 0.1), while the charge at mid-span is at 1/e at v_s/U of about 2 already: it
// runs ahead into the outlet.
//
// The mesh is uniform in s = ln(x/(L−x)), so that it resolves the contact; the
// operator is summed by the odd-point trapezium rule (exponentially accurate on
// this mesh), the transport by finite volumes that conserve charge exactly,
// centred where the mesh resolves the balance of drift and spreading and upwind
// where it does not.
//
// Derived here; no published solution is known to the authors. Checked against a
// Galerkin discretisation with the logarithmic energy kernel, written apart from
// this one, and the kernel against boundary elements on the rollers. Immutable;
// see [NewFreeSpanWeb].
type FreeSpanWeb struct {
	spec FreeSpanSpec
	x    []float64  // nodes [m]
	p    []float64  // exit probability downstream of a charge laid at the node [1]
	lu   mat.LU     // of the generator, transport per node
	resp *mat.Dense // φ/L at the nodes from σ/ε0
	flux [2]spanFace
	rel  float64 // speed that scales the generator [m/s]
}

// spanFace is one end: what the charge held at the end gives to
// the flux through it, in units of the scaling speed.
type spanFace struct {
	held float64
	row  []float64
}

// NewFreeSpanWeb checks the spec, assembles the operator and factorises it; set
// may be nil. Errors are [known.FieldError]s, joined. It takes about 0.1 s with the usual step; the time grows with the
// third power of its inverse.
func NewFreeSpanWeb(spec FreeSpanSpec, set *FreeSpanSettings) (*FreeSpanWeb, error) {
	return NewFreeSpanWebContext(context.Background(), spec, set)
}

// NewFreeSpanWebContext is [NewFreeSpanWeb] that ends soon after ctx does: at the next row of the operator, or behind
// the factorisation of one matrix, 0.05 s with the usual step. Its error is then that of ctx.
func NewFreeSpanWebContext(ctx context.Context, spec FreeSpanSpec, set *FreeSpanSettings) (*FreeSpanWeb, error) {
	if err := spec.check(); err != nil {
		return nil, err
	}
	step := 0.1
	if set != nil && set.Step != 0 {
		step = set.Step
		if err := known.InRange("step", step, 0.02, 0.5); err != nil {
			return nil, err
		}
	}
	l, u, vs := float64(spec.Length), float64(spec.Speed), 0.0
	if spec.SurfaceResistivity > 0 {
		vs = float64(SpreadingSpeed(spec.SurfaceResistivity))
	}
	w := &FreeSpanWeb{spec: spec, rel: u + vs}
	u, vs = u/w.rel, vs/w.rel
	h0 := float64(spec.ContactGap) / l
	m := newSpanMesh(step, reach(h0, u, vs))
	lam, v, err := m.operator(ctx, float64(spec.InletRadius)/l, float64(spec.OutletRadius)/l)
	if err != nil {
		return nil, err
	}
	n := len(m.s)
	var g mat.Dense
	if err := g.Inverse(lam); err != nil {
		if _, ill := err.(mat.Condition); !ill {
			return nil, fmt.Errorf("decay: free span: %w", err)
		}
		// The rows differ by (L/h0)² in scale, which the condition number sees
		// but a diagonally dominant system does not feel.
	}
	for i := range n {
		g.Set(i, i, g.At(i, i)+h0)
	}
	w.resp = &g
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	a := w.generator(m, v, h0, u, vs)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	w.lu.Factorize(a)
	w.x = make([]float64, n)
	for i := range n {
		w.x[i] = l * m.x[i]
	}
	out := mat.NewVecDense(n, slices.Clone(w.flux[1].row))
	var p mat.VecDense
	if err := w.lu.SolveVecTo(&p, true, out); err != nil {
		if _, ill := err.(mat.Condition); !ill {
			return nil, fmt.Errorf("decay: free span: %w", err)
		}
	}
	w.p = make([]float64, n)
	for i := range n {
		w.p[i] = p.AtVec(i)
	}
	return w, nil
}

// reach returns how far the mesh goes in s: to a hundredth of the thinnest layer
// at a contact, h0 or 2 v_s h0/U, over the length.
func reach(h0, u, vs float64) float64 {
	if h0 == 0 {
		return 21 // sharp edges, web at rest: 1e-9 of the length
	}
	layer := h0
	if u > 2*vs {
		layer = math.Max(2*vs/u, 1e-3) * h0
	}
	return math.Log(100 / layer)
}

// spanMesh has nodes uniform in s on a span of length 1.
type spanMesh struct {
	step  float64
	s     []float64
	x, xi []float64 // from the inlet, from the outlet
}

func newSpanMesh(step, reach float64) *spanMesh {
	k := int(math.Ceil(reach / step))
	m := &spanMesh{step: step}
	for i := -k; i <= k; i++ {
		s := float64(i) * step
		m.s = append(m.s, s)
		m.x = append(m.x, 1/(1+math.Exp(-s)))
		m.xi = append(m.xi, 1/(1+math.Exp(s)))
	}
	return m
}

// kernel is K(x,x′) of a roller of radius r, 1/(π d²) for r = 0; d = x−x′,
// xx = x·x′.
func spanKernel(r, d, xx float64) float64 {
	if r == 0 {
		return 1 / (math.Pi * d * d)
	}
	a := math.Abs(math.Pi * r * d / xx)
	if a > 300 {
		return 0
	}
	q := r / xx / math.Sinh(a)
	return math.Pi * q * q
}

// spanLocal is 1/h(x) plus the integral of K over the earthed plane outside the
// span, R[coth(πR ξ/(xL)) + 1]/x²; ξ = L − x.
func spanLocal(r, x, xi float64) float64 {
	if r == 0 {
		return 1 / (math.Pi * x * xi)
	}
	return r * (1/math.Tanh(math.Pi*r*xi/x) + 1) / (x * x)
}

// operator returns the matrix of Λ₁ + Λ₂ and its local part, per length of the
// span. Trapezium sums run over every second node, twice the step: the rule
// skips the singular point and keeps the exponential accuracy of the trapezium
// rule for a function analytic in s.
func (m *spanMesh) operator(ctx context.Context, r1, r2 float64) (*mat.Dense, []float64, error) {
	n := len(m.s)
	a := mat.NewDense(n, n, nil)
	v := make([]float64, n)
	// Nodes beyond the mesh, where ψ is zero to rounding, still count in the
	// diagonal.
	const beyond = 60
	for i := range n {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		v[i] = spanLocal(r1, m.x[i], m.xi[i]) + spanLocal(r2, m.xi[i], m.x[i])
		row := a.RawRowView(i)
		diag := v[i]
		for j := i%2 - 1 - beyond; j < n+beyond; j += 2 {
			s := m.s[0] + float64(j)*m.step
			xj, xij := 1/(1+math.Exp(-s)), 1/(1+math.Exp(s))
			// x−x′ without cancellation: 2 sinh((s−s′)/2) √(x ξ x′ ξ′).
			d := 2 * math.Sinh((m.s[i]-s)/2) * math.Sqrt(m.x[i]*m.xi[i]*xj*xij)
			k := 2 * m.step * xj * xij * (spanKernel(r1, d, m.x[i]*xj) + spanKernel(r2, d, m.xi[i]*xij))
			diag += k
			if j >= 0 && j < n {
				row[j] = -k
			}
		}
		row[i] = diag
	}
	m.narrow(a, r1, m.x)
	m.narrow(a, r2, m.xi)
	return a, v, ctx.Err()
}

// narrow adds what the trapezium sum misses close to a roller of radius r, where
// the kernel is narrower than the step. There the strip that the gap is in
// w = 1/x acts as 1/H − (H/3) d²/dw², H = 1/(2r): over the whole line the first
// moment of K is zero and the second 1/(3r). What the sum gives else is put on
// the two nearest nodes. near holds the distances from the tangent line.
func (m *spanMesh) narrow(a *mat.Dense, r float64, near []float64) {
	if r == 0 {
		return
	}
	// The sum is exponentially accurate once the kernel, as wide as x/(2πr) in s,
	// is resolved, and the line of w ends at 1/L, exponentially far for x < 0.3 r.
	for i := 1; i < len(near)-1 && near[i] < 0.3*r; i++ {
		m.narrowRow(a.RawRowView(i), r, near, i, i-1, i+1)
	}
	for i := len(near) - 2; i > 0 && near[i] < 0.3*r; i-- {
		m.narrowRow(a.RawRowView(i), r, near, i, i+1, i-1)
	}
}

// narrowRow corrects the row of node i, whose neighbours are in (towards the
// tangent line) and out.
func (m *spanMesh) narrowRow(row []float64, r float64, near []float64, i, in, out int) {
	x := near[i]
	first, second := 0.0, 1/(3*r)
	for _, dir := range []float64{-1, 1} {
		for j := 1.0; ; j += 2 {
			e := math.Expm1(dir * j * m.step) // w′−1 = (w−1) e^{±jΔs} in lengths of the span
			dw := (1 - x) / x * e
			q := math.Pi * r * math.Abs(dw)
			if q > 300 {
				break
			}
			k := r / math.Sinh(q)
			k *= math.Pi * k * 2 * m.step * (1 - x) / x * (1 + e)
			first -= k * dw
			second -= k * dw * dw
			if k*dw*dw < 1e-17/r {
				break
			}
		}
	}
	// Weights on the neighbours at w+b and w+a that restore both moments.
	b, a := 1/near[in]-1/x, 1/near[out]-1/x
	kb := (second - first*a) / (b * (b - a)) / (x * x)
	ka := (second - first*b) / (a * (a - b)) / (x * x)
	row[in] -= kb
	row[out] -= ka
	row[i] += ka + kb
}

// generator returns the matrix from σ/ε0 at the nodes to the flux out of each
// cell and fills the faces of the two ends.
func (w *FreeSpanWeb) generator(m *spanMesh, v []float64, h0, u, vs float64) *mat.Dense {
	n := len(m.s)
	a := mat.NewDense(n, n, nil)
	row := make([]float64, n)
	spread := func(i int) float64 { return 2 * vs * (h0 + 1/v[i]) } // local diffusivity
	for f := 0; f <= n; f++ {
		dx, d := 0.0, 2*vs*h0
		switch f {
		case 0:
			dx = m.x[0]
		case n:
			dx = m.xi[n-1]
		default:
			dx = 2 * math.Sinh(m.step/2) * math.Sqrt(m.x[f]*m.xi[f]*m.x[f-1]*m.xi[f-1])
			d = (spread(f-1) + spread(f)) / 2
		}
		// Weight of the upwind node: ½ is centred; more only as far as a cell
		// Péclet number above 2 asks for it to keep the scheme positive.
		up := 0.5
		if pe := u * dx / d; pe > 2 {
			up = 1 - 1/pe
		}
		clear(row)
		if f > 0 {
			for j := range n {
				row[j] += 2 * vs / dx * w.resp.At(f-1, j)
			}
			row[f-1] += u * up
		}
		if f < n {
			for j := range n {
				row[j] -= 2 * vs / dx * w.resp.At(f, j)
			}
			row[f] += u * (1 - up)
		}
		for j := range n {
			if f > 0 {
				a.Set(f-1, j, a.At(f-1, j)+row[j])
			}
			if f < n {
				a.Set(f, j, a.At(f, j)-row[j])
			}
		}
		switch f {
		case 0:
			w.flux[0] = spanFace{held: u*up + 2*vs*h0/dx, row: slices.Clone(row)}
		case n:
			w.flux[1] = spanFace{row: slices.Clone(row)}
		}
	}
	return a
}

// Spec returns what the span was made from.
func (w *FreeSpanWeb) Spec() FreeSpanSpec { return w.spec }

// Validity is [known.WrongShape] where both rollers touch the same face and one
// has a radius above a tenth of the span, so that superposing them is off by more
// than 0.4 % of the greatest field, and for the zero value; else [known.Inside].
func (w *FreeSpanWeb) Validity() known.Validity {
	if w.x == nil || w.spec.SameFace && max(w.spec.InletRadius, w.spec.OutletRadius) > w.spec.Length/10 {
		return known.WrongShape
	}
	return known.Inside
}

// DownstreamShare returns the share of a charge laid at x that reaches the
// outlet roller; the rest flows back into the inlet roller. [1]
// Special cases: x outside 0 … L and NaN give NaN. It does not allocate.
func (w *FreeSpanWeb) DownstreamShare(x units.Length) float64 { // [1]
	l := float64(w.spec.Length)
	xx := float64(x)
	if w.x == nil || !(xx >= 0 && xx <= l) {
		return math.NaN()
	}
	return interpolate(w.x, w.p, xx, 0, 1, l)
}

// SpanCharge is the steady state of a free span.
type SpanCharge struct {
	// DownstreamShare is the part of the supplied current that reaches the outlet
	// roller, carried and conducted. [1]
	DownstreamShare float64
	MidSpan         units.SurfaceChargeDensity // net charge of the web at L/2
	InletCurrent    units.LineCurrent          // back into the inlet roller, per width
	OutletCurrent   units.LineCurrent          // into the outlet contact, per width
	X               []units.Length             // nodes, from inlet to outlet
	Sigma           []float64                  // [C/m²] net charge of the web at X
	Potential       []float64                  // [V] of the charged face at X
}

// FromInlet returns the steady state of a web that leaves the contact with the
// inlet roller with charge sigma and gets none on the way: the current supplied
// is U·sigma. At U = 0 nothing is supplied and the share is NaN.
func (w *FreeSpanWeb) FromInlet(sigma units.SurfaceChargeDensity) SpanCharge {
	if w.x == nil {
		return nothingHeld()
	}
	b := mat.NewVecDense(len(w.x), nil)
	b.SetVec(0, w.flux[0].held*float64(sigma))
	return w.state(b, float64(w.spec.Speed)*float64(sigma), float64(sigma))
}

// FromDeposit returns the steady state of a web that is charged with the current
// i per width along a line at x, 0 < x < L, by a charger or by parting from
// something. The line is laid on the two nearest nodes of the mesh, of a moving web on
// the six nearest, where the charge shows their width and not the line. Charge up-web of
// it needs a step of 0.1 or less: at 0.2 that of a nearly insulating web has the wrong
// sign (v_s/U = 0.03: −5.3 for 5.5 mC/m² by the finest mesh tried). Special cases: x
// outside the span and NaN give NaN throughout.
func (w *FreeSpanWeb) FromDeposit(x units.Length, i units.LineCurrent) SpanCharge {
	if w.x == nil {
		return nothingHeld()
	}
	b := mat.NewVecDense(len(w.x), nil)
	xx := float64(x)
	if !(xx > 0 && xx < float64(w.spec.Length)) {
		i = units.LineCurrent(math.NaN())
		xx = float64(w.spec.Length) / 2
	}
	j, _ := slices.BinarySearch(w.x, xx)
	j = min(max(j, 1), len(w.x)-1)
	f := math.Min(math.Max((xx-w.x[j-1])/(w.x[j]-w.x[j-1]), 0), 1)
	lay := func(j int, share float64) {
		if w.spec.Speed == 0 || j < 2 || j > len(w.x)-3 { // at rest the potential is exact; next to a roller
			b.SetVec(j, b.AtVec(j)+float64(i)/w.rel*share)
			return
		}
		for k, part := range depositParts {
			b.SetVec(j-2+k, b.AtVec(j-2+k)+float64(i)/w.rel*share*part)
		}
	}
	lay(j-1, 1-f)
	lay(j, f)
	return w.state(b, float64(i), 0)
}

// depositParts lay a line on five nodes: they add up to 1, keep the place and do not spread it (no second moment), and
// even and odd nodes get the same. Operator and centred transport tie odd nodes to even ones only, so that a load on
// one node alone would leave charge that changes its sign from node to node.
var depositParts = [...]float64{-1. / 16, 1. / 4, 5. / 8, 1. / 4, -1. / 16}

// nothingHeld is the state of the zero value: NaN.
func nothingHeld() SpanCharge {
	nan := math.NaN()
	return SpanCharge{DownstreamShare: nan, MidSpan: units.SurfaceChargeDensity(nan),
		InletCurrent: units.LineCurrent(nan), OutletCurrent: units.LineCurrent(nan)}
}

// state solves for the charge that the supplies b hold, given the charge held at
// the inlet.
func (w *FreeSpanWeb) state(b *mat.VecDense, supplied, inlet float64) SpanCharge {
	n := len(w.x)
	var s, phi mat.VecDense
	// An ill-conditioned factor is no fault here; see NewFreeSpanWeb.
	_ = w.lu.SolveVecTo(&s, false, b)
	phi.MulVec(w.resp, &s)
	c := SpanCharge{X: make([]units.Length, n), Sigma: make([]float64, n), Potential: make([]float64, n)}
	left, right := w.flux[0].held*inlet, 0.0
	l := float64(w.spec.Length)
	for i := range n {
		c.X[i] = units.Length(w.x[i])
		c.Sigma[i] = s.AtVec(i)
		c.Potential[i] = phi.AtVec(i) * l / units.Epsilon0
		left += w.flux[0].row[i] * s.AtVec(i)
		right += w.flux[1].row[i] * s.AtVec(i)
	}
	c.InletCurrent = units.LineCurrent(float64(w.spec.Speed)*inlet - left*w.rel)
	c.OutletCurrent = units.LineCurrent(right * w.rel)
	c.DownstreamShare = float64(c.OutletCurrent) / supplied
	c.MidSpan = units.SurfaceChargeDensity(c.Sigma[n/2])
	return c
}

// interpolate reads y at v from nodes x by cubic interpolation in the four
// nearest nodes, with y0 at 0 and y1 at l beyond the ends.
func interpolate(x, y []float64, v, y0, y1, l float64) float64 {
	n := len(x)
	j, hit := slices.BinarySearch(x, v)
	switch {
	case hit:
		return y[j]
	case j == 0:
		return y0 + (y[0]-y0)*v/x[0]
	case j == n:
		return y1 + (y[n-1]-y1)*(l-v)/(l-x[n-1])
	}
	k := min(max(j-2, 0), n-4)
	sum := 0.0
	for a := k; a < k+4; a++ {
		c := y[a]
		for b := k; b < k+4; b++ {
			if b != a {
				c *= (v - x[b]) / (x[a] - x[b])
			}
		}
		sum += c
	}
	return sum
}
