package humidity

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/units"
)

// The column kernels read saturation pressure and condensation point from
// piecewise polynomials that are fitted to the equations once, on first use.
// Each piece interpolates at Chebyshev nodes; the pieces are small enough that
// the interpolation error stays below 3e-14 of the pressure (1.5e-13 below −43 °C) and 2e-12 K.
const (
	satCells  = 600    // of half a kelvin
	satLow    = 173.15 // [K] so that 0 °C, where IAPWSWater changes its form, is a border of two cells
	dewOctave = 16     // cells in an octave of vapour pressure
	dewLow    = -10    // first octave, 2^-10 Pa
	dewCells  = dewOctave * 31

	fastColdest, fastHottest = 188.15, 443.15 // [K] dry bulb of the fast path, well inside the cells
	fastDriest               = 0.01           // [Pa] vapour pressure of the fast path
	fastHighest              = 3e5            // [Pa] total pressure of the fast path
)

// fastTables holds one half for water and one for ice, so that the phase is an
// offset and no branch.
type fastTables struct {
	sat [2 * satCells][6]float64  // [Pa] powers of T − middle of the cell
	dew [2 * dewCells][7]float64  // [K] powers of the mantissa of e − middle of the cell
	mid float64                   // [Pa] pure saturation at the triple point, where the phase changes
	e0  float64                   // [Pa] over water at 0 °C
	enh *[2 * satCells][8]float64 // nil without enhancement: four powers each of α and of β/e_s [1/Pa]

	dewEnh *[2 * dewCells][8]float64 // the same along the cells of dew; NaN first where the factor's range ends
}

var fastModel = [models]lazy.Value[*fastTables]{
	IAPWS:       {Make: func() *fastTables { return newFastTables(IAPWS) }},
	IAPWSIdeal:  {Make: func() *fastTables { return newFastTables(IAPWSIdeal) }},
	ASHRAEIdeal: {Make: func() *fastTables { return newFastTables(ASHRAEIdeal) }},
	WMOMagnus:   {Make: func() *fastTables { return newFastTables(WMOMagnus) }},
}

func newFastTables(m AirModel) *fastTables {
	f := new(fastTables)
	if m == IAPWS {
		f.enh, f.dewEnh = new([2 * satCells][8]float64), new([2 * dewCells][8]float64)
	}
	for k, q := range [2]Equation{m.Water(), m.Ice()} {
		for i := range satCells {
			mid := satLow + (float64(i)+0.5)/2
			interpolate(f.sat[k*satCells+i][:], 0.25, func(d float64) float64 {
				p, _ := q.at(mid + d)
				return p
			})
		}
		for i := range satCells {
			if f.enh == nil {
				break
			}
			mid, c := satLow+(float64(i)+0.5)/2, f.enh[k*satCells+i][:]
			g := [2]*greenspan{&greenspanWater, &greenspanIce}[k]
			interpolate(c[:4], 0.25, func(d float64) float64 { return g.alpha(min(mid+d-273.15, g.hi)) })
			interpolate(c[4:], 0.25, func(d float64) float64 {
				p, _ := q.at(mid + d)
				return g.beta(min(mid+d-273.15, g.hi)) / p
			})
		}
		if q == IAPWSWater {
			q = IF97 // dew above the triple point only: keep the change at 0 °C out of its cell
		}
		for i := range dewCells {
			scale := math.Ldexp(1, dewLow+i/dewOctave)
			mid := 1 + (float64(i%dewOctave)+0.5)/dewOctave
			interpolate(f.dew[k*dewCells+i][:], 0.5/dewOctave, func(d float64) float64 {
				e := scale * (mid + d)
				return q.inverse(math.Log(e), e)
			})
			if f.enh == nil {
				continue
			}
			c, g := f.dewEnh[k*dewCells+i][:], [2]*greenspan{&greenspanWater, &greenspanIce}[k]
			at := func(d float64) (t, e float64) { // [°C], [Pa]
				e = scale * (mid + d)
				return q.inverse(math.Log(e), e) - 273.15, e
			}
			// A quarter more on either side, because e_s may lie beyond the cell.
			first, _ := at(-0.625 / dewOctave)
			last, _ := at(0.625 / dewOctave)
			if first < g.hi && last > g.hi { // the range of the factor ends here
				c[0] = math.NaN()
				continue
			}
			interpolate(c[:4], 0.5/dewOctave, func(d float64) float64 { t, _ := at(d); return g.alpha(min(t, g.hi)) })
			interpolate(c[4:], 0.5/dewOctave, func(d float64) float64 { t, e := at(d); return g.beta(min(t, g.hi)) / e })
		}
	}
	f.mid, _ = m.Ice().at(float64(TriplePoint))
	f.e0, _ = m.Water().at(273.15)
	return f
}

// interpolate sets c to the polynomial that agrees with g at the Chebyshev
// nodes of ±half.
func interpolate(c []float64, half float64, g func(float64) float64) {
	n := len(c)
	v, y := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		u := math.Cos(math.Pi * (float64(i) + 0.5) / float64(n))
		y.SetVec(i, g(half*u))
		for j, w := 0, 1.0; j < n; j, w = j+1, w*u {
			v.Set(i, j, w)
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(v, y); err != nil {
		panic("humidity: Chebyshev nodes coincide") // they never do
	}
	for j, w := 0, 1.0; j < n; j, w = j+1, w*half {
		c[j] = x.AtVec(j) / w
	}
}

// dewCell returns the number of the cell of e [Pa], the power of two that makes a mantissa of e, and the mantissa of
// the middle of the cell.
func dewCell(e float64) (i int, scale, mid float64) {
	b := math.Float64bits(e)
	const low = uint64(1)<<(52-4) - 1 // bits below the cell number
	return int(b>>(52-4)) - (1023+dewLow)*dewOctave, math.Float64frombits((2046 - b>>52) << 52),
		math.Float64frombits(b&(1<<52-1)&^low | 1023<<52 | 1<<(52-5))
}

// condense returns the condensation point [K] of vapour at e [Pa] over phase k.
func (f *fastTables) condense(e float64, k int) float64 {
	i, scale, mid := dewCell(e)
	u := e*scale - mid
	c := &f.dew[i+k*dewCells]
	u2 := u * u
	return (c[0] + u*c[1]) + u2*((c[2]+u*c[3])+u2*((c[4]+u*c[5])+u2*c[6]))
}

// enhancement returns, over phase k at d [K] from the middle of cell i and with v = 1/p, c = (ln f)/(p − e_s) and its
// slope by temperature: ln f = α(1 − e_s/p) + (β/e_s)(p − e_s). [1/Pa, 1/(Pa·K)]
func (f *fastTables) enhancement(i, k int, d, v float64) (c, slope float64) {
	x := &f.enh[i+k*satCells]
	c0, c1, c2, c3 := x[0]*v+x[4], x[1]*v+x[5], x[2]*v+x[6], x[3]*v+x[7]
	d2 := d * d
	return (c0 + d*c1) + d2*(c2+d*c3), (c1 + d*(2*c2)) + d2*(3*c3)
}

// exp of a logarithm below 0.02 in size, as that of the enhancement factor is within the pressures of the fast path:
// the term left out is below 1e-13.
func expSmall(l float64) float64 {
	l2 := l * l
	return (1 + l) + l2*((0.5+l*(1.0/6))+l2*(1.0/24+l*(1.0/120)))
}

// wetStart holds, for water and ice, the share of the way from condensation
// point to dry bulb at which the wet bulb lies, to 1 K over −30 … 60 °C,
// 3 … 100 %RH and 65 … 110 kPa: a least-squares cubic in u = p/(p + 150 e) and
// z = (t − dew)/32 K, made only to start the iteration well.
var wetStart = [2][10]float64{
	{-0.0760, 0.2265, -0.2269, 0.0355, 1.7332, -0.0432, 0.1671, -2.1887, -0.4065, 1.6637},
	{-5.4002, -1.1191, 0.6857, 0.0211, 24.5649, 0.8815, -0.9245, -32.6560, 0.4388, 14.4601},
}

// fastRows is the number of rows that pass through one stage together, so that
// the processor overlaps the short chains of neighbouring rows.
const fastRows = 64

// fastBlock holds a block of rows between the stages. [SI]
type fastBlock struct {
	w, td, tw, h [fastRows]float64
	ok           [fastRows]bool
	q, base      [fastRows]float64
	perP         [fastRows]float64 // 1/p [1/Pa]
	slope        [fastRows]float64 // of the logarithm of the enhancement factor at the wet bulb [1/K]
	phase        [fastRows]int     // of the wet bulb: 0 water, 1 ice
}

var phases = [2]*phase{&overWater, &overIce}

// rows computes up to fastRows rows; where ok is false the caller takes the
// slow path.
func (f *fastTables) rows(z *fastBlock, t []units.Temperature, rh []units.Ratio, p []units.Pressure, ref Reference) {
	n := min(len(t), fastRows)
	t, rh, p = t[:n], rh[:n], p[:n]
	for r := range n {
		z.ok[r] = f.first(z, r, float64(t[r]), float64(rh[r]), float64(p[r]), ref)
	}
	f.halley(z, p)
	f.newton(z, p)
}

// first is the stage up to a first guess of the wet bulb.
func (f *fastTables) first(z *fastBlock, r int, T, rh, p float64, ref Reference) bool {
	if !(T > fastColdest && T < fastHottest && rh <= 1 && p >= float64(lowestP) && p <= fastHighest) {
		return z.skip(r)
	}
	k := 0
	if T < float64(TriplePoint) {
		k = 1
	}
	switch ref {
	case OverWater:
		k = 0
	case OverIce:
		if k == 0 { // no ice there
			return z.skip(r)
		}
	}
	x := 2 * (T - satLow)
	i := int(x)
	d := 0.5 * (x - float64(i) - 0.5)
	d2 := d * d
	c := &f.sat[i+k*satCells]
	e := (c[0] + d*c[1]) + d2*((c[2]+d*c[3])+d2*(c[4]+d*c[5]))
	v := 1 / p
	z.perP[r] = v
	if f.enh != nil {
		if !(T > 225 && e < 0.8*p && rh*e > 1) { // where f is held, ends or turns large
			return z.skip(r)
		}
		c, _ := f.enhancement(i, k, d, v)
		e *= expSmall(c * (p - e))
	}
	e *= rh
	if !(e > fastDriest && e < 0.5*p) {
		return z.skip(r)
	}
	t := T - 273.15
	w := massRatio * e / (p - e)
	h := cpDryAir*t + w*(latentZero+cpVapour*t)
	z.w[r], z.h[r] = w, h
	k = 0
	mid, e0 := f.mid, f.e0
	if f.enh != nil {
		// The factors at 0 °C lie between 1 and 1.013 below 300 kPa: they matter only
		// near the switches.
		far := (e < mid || e > 1.013*mid) && (h*(p-e0) < latentZero*massRatio*e0 ||
			h*(p-1.013*e0) > latentZero*massRatio*1.013*e0)
		if !far {
			fi, f0 := f.atTriple(p)
			mid, e0 = mid*fi, e0*f0
		}
	}
	if e < mid {
		k = 1
	}
	var td float64
	if f.enh != nil {
		td = f.condenseInAir(e, p, v, k)
	} else {
		td = f.condense(e, k)
	}
	z.td[r] = td

	// Water where its wet bulb is at or above 0 °C, see Air.WetBulb.
	k = 0
	if h*(p-e0) < latentZero*massRatio*e0 {
		k = 1
	}
	if t < 0 {
		k = 1
	}
	b := phases[k]
	z.phase[r] = k
	z.q[r] = cpDryAir + w*b.c
	z.base[r] = cpDryAir*t + w*(b.l+cpVapour*t)
	s := &wetStart[k]
	u, y := p/(p+150*e), (T-td)*(1.0/32)
	z.tw[r] = td + (T-td)*((s[0]+y*(s[1]+y*(s[2]+y*s[3])))+u*((s[4]+y*(s[5]+y*s[6]))+u*((s[7]+y*s[8])+u*s[9])))
	return true
}

// skip fills row r with harmless numbers for the later stages.
func (z *fastBlock) skip(r int) bool {
	z.tw[r], z.phase[r], z.q[r], z.base[r], z.perP[r] = 280, 0, cpDryAir, 0, 1e-5
	return false
}

// Without the division by p − e_s the wet-bulb relation is
//
//	G = (l − b x)·0.621945·e_s + (q x − base)(p − e_s) = 0
//
// which is nearly straight in x.

// halley takes one step of Halley's method.
func (f *fastTables) halley(z *fastBlock, p []units.Pressure) {
	for r := range p {
		P, k := float64(p[r]), z.phase[r]&1
		b := phases[k]
		v := z.tw[r]
		x := 2 * (v - satLow)
		i := int(x)
		if uint(i) >= satCells {
			z.tw[r], z.ok[r] = 280, false
			continue
		}
		d := 0.5 * (x - float64(i) - 0.5)
		d2 := d * d
		c := &f.sat[i+k*satCells]
		es := (c[0] + d*c[1]) + d2*((c[2]+d*c[3])+d2*(c[4]+d*c[5]))
		s1 := (c[1] + d*(2*c[2])) + d2*((3*c[3]+d*(4*c[4]))+d2*(5*c[5]))
		s2 := (2*c[2] + d*(6*c[3])) + d2*(12*c[4])
		if f.enh != nil {
			c, c1 := f.enhancement(i, k, d, z.perP[r])
			l1 := c1*(P-es) - c*s1
			a := expSmall(c * (P - es))
			z.slope[r] = l1
			es, s1, s2 = es*a, (s1+es*l1)*a, (s2+2*s1*l1)*a
		}
		y := v - 273.15
		l := massRatio * (b.l - b.b*y)
		q := z.q[r]
		m := q*y - z.base[r]
		g := l*es + m*(P-es)
		g1 := (l-m)*s1 - massRatio*b.b*es + q*(P-es)
		g2 := (l-m)*s2 - 2*(massRatio*b.b+q)*s1
		z.tw[r] = v - 2*g*g1/(2*g1*g1-g*g2)
	}
}

// newton takes steps of Newton's method until one is small: once for ordinary
// air. It is written out, as condenseAtEnd is, and not left to internal/numeric, because
// a row is done in some 100 ns (BenchmarkStates): a call through a function for each step would take a
// fifth of that. The slope of the enhancement factor, 1.2e-3 of the whole at most at 1 atm, is that of
// the step before.
func (f *fastTables) newton(z *fastBlock, p []units.Pressure) {
	// What is left is below 0.02/K times the square of the step.
	const small = 1e-4
	for r := range p {
		P, k := float64(p[r]), z.phase[r]&1
		b := phases[k]
		q, base := z.q[r], z.base[r]
		v := z.tw[r]
		ok := false
		for range 8 {
			x := 2 * (v - satLow)
			i := int(x)
			if uint(i) >= satCells {
				break
			}
			d := 0.5 * (x - float64(i) - 0.5)
			d2 := d * d
			c := &f.sat[i+k*satCells]
			es := (c[0] + d*c[1]) + d2*((c[2]+d*c[3])+d2*(c[4]+d*c[5]))
			s1 := (c[1] + d*(2*c[2])) + d2*((3*c[3]+d*(4*c[4]))+d2*(5*c[5]))
			if f.enh != nil {
				e, _ := f.enhancement(i, k, d, z.perP[r])
				a := expSmall(e * (P - es))
				es, s1 = es*a, (s1+es*z.slope[r])*a
			}
			y := v - 273.15
			l := massRatio * (b.l - b.b*y)
			m := q*y - base
			step := (l*es + m*(P-es)) / ((l-m)*s1 - massRatio*b.b*es + q*(P-es))
			v -= step
			if step < small && step > -small {
				ok = true
				break
			}
		}
		z.tw[r] = v
		z.ok[r] = z.ok[r] && ok
	}
}

// condenseInAir is condense with enhancement: the pure pressure e_s = e·exp(−l(e_s)), l = ln f, of which the
// condensation point is that of the pure substance. The start takes l near it; one step of Newton's method from there
// suffices at 1 atm.
func (f *fastTables) condenseInAir(e, p, v float64, k int) float64 {
	e0 := e * (1 - 4e-8*p) // within 0.3 % of e_s
	i, scale, mid := dewCell(e0)
	c := &f.dewEnh[i+k*dewCells]
	if math.IsNaN(c[0]) {
		return f.condenseAtEnd(e, p, v, k)
	}
	c0, c1, c2, c3 := c[0]*v+c[4], c[1]*v+c[5], c[2]*v+c[6], c[3]*v+c[7]
	r := 1 - (c0+(e0*scale-mid)*c1)*(p-e0) // e_s/e
	for range 4 {
		es := e * r
		x := es * scale
		u := x - mid
		g := (c0 + u*c1) + u*u*(c2+u*c3)
		slope := (p-es)*x*((c1+u*(2*c2))+u*u*(3*c3)) - g*es // dl/d(ln e_s)
		step := (expSmall(-g*(p-es)) - r) / (1 + slope)
		r += step
		if step < 5e-5 && step > -5e-5 { // leaves 0.01 of its square
			break
		}
	}
	return f.condense(e*r, k)
}

// condenseAtEnd is condenseInAir where the range of the factor ends within a cell of dew, by rounds in cells of
// temperature, which have a border there.
func (f *fastTables) condenseAtEnd(e, p, v float64, k int) float64 {
	T := f.condense(e*(1/1.004), k)
	for range 12 {
		x := 2 * (T - satLow)
		i := min(max(int(x), 0), satCells-1)
		d := 0.5 * (x - float64(i) - 0.5)
		c := &f.sat[i+k*satCells]
		es := (c[0] + d*c[1]) + d*d*((c[2]+d*c[3])+d*d*(c[4]+d*c[5]))
		g, _ := f.enhancement(i, k, d, v)
		next := f.condense(e*expSmall(-g*(p-es)), k)
		if d = next - T; d < 4e-6 && d > -4e-6 { // shrinks by 1e-3 or better each round
			return next
		}
		T = next
	}
	return T
}

// atTriple returns the enhancement factors over ice at the triple point and
// over water at 0 °C.
func (f *fastTables) atTriple(p float64) (ice, water float64) {
	const i = 200 // the cell above 0 °C
	a, _ := f.enhancement(i, 1, 0.01-0.25, 1/p)
	b, _ := f.enhancement(i, 0, -0.25, 1/p)
	return expSmall(a * (p - f.mid)), expSmall(b * (p - f.e0))
}
