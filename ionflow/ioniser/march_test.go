package ioniser

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

const elementary, eps0 = units.ElementaryCharge, units.Epsilon0

// flat is a stream that does not change.
func flat(u, b float64) Plume { return Plume{Speed: units.Speed(u), Width: units.Length(b)} }

// What leaves the mouth obeys Γ = G·a/(w + a) for both polarities and Γc − Γs = i, for any field.
func TestMouth(t *testing.T) {
	q := carriers{1.4e-4, 1.7e-4, 0}
	for _, u := range []float64{0.5, 20, 300} {
		c := newColumn(flat(u, 1e-3), 0.1, 0.1, 0.1)
		for _, w := range []float64{0, 1, 200, 1e5} {
			for _, like := range []float64{0, 0.3, 1, 4} {
				m := mouth{1e15, like * 1e15, w}
				for _, r := range []float64{1e-6, 0.01, 0.2, 0.5, 0.9, 0.999} {
					i := r * m.counter
					f, s := c.enter(&m, &q, i)
					out := m.counter * (u + q.counter*f) / (w + u + q.counter*f)
					if w == 0 {
						continue // the mouth of fixed flux has a jump at the field that stops the like ions
					}
					near(t, "counter", out-s, i, 1e-9)
					if a := u - q.like*f; a > 0 {
						want := m.like * a / (w + a)
						if !(math.Abs(s-want) <= 1e-9*m.counter) {
							t.Errorf("like: got %g, want %g", s, want)
						}
					} else if s > 1e-9*m.counter {
						t.Errorf("like ions against the field: %g", s)
					}
				}
			}
		}
	}
}

// Dense plasma carries the current by its conductivity: F = I/(e·n·b·(μc + μs)), far from the ends.
func TestMarchInPlasma(t *testing.T) {
	q := carriers{1.4e-4, 1.7e-4, 0}
	const u, n, w = 10, 1e15, 1e6
	c := newColumn(flat(u, 1), 0.1, 0, 0)
	m := mouth{w * n, w * n, w}
	i := 1e-7 / elementary
	near(t, "field", c.march(&m, &q, i).field, 1e-7/(elementary*n*(q.counter+q.like)), 1e-3)
}

// Thin plasma does not change the field, and recombination alone leaves n0/(1 + αn0t).
func TestMarchThin(t *testing.T) {
	q := carriers{1.4e-4, 1.4e-4, 1.6e-12}
	const u, n, w = 10, 1e9, 1e6
	c := newColumn(flat(u, 1), 0.1, 0, 0)
	m := mouth{w * n, w * n, w}
	a := c.march(&m, &q, 2*n*q.counter*1e4) // i = n(μc + μs)F
	near(t, "uniform field", a.field, a.first, 1e-3)
	near(t, "field", a.first, 1e4, 1e-3)

	d := newColumn(flat(u, 1), 1, 0, 0)
	m = mouth{w * 1e13, w * 1e13, w}
	a = d.march(&m, &q, 1e-9*m.counter/w)
	near(t, "recombined", a.like, u*1e13/(1+1.6e-12*1e13*0.1), 0.01) // an implicit step of first order
}

// Counter-ions alone: W² = (F + u/μ)² grows linearly, which the march has in closed form; and without air and
// field at the mouth it is the law of Mott and Gurney, V = ⅔Fd.
func TestMarchAlone(t *testing.T) {
	q := carriers{1.5e-4, 1.5e-4, 1.6e-12}
	c := newColumn(flat(20, 0.01), 0.05, 0.06, 0.06)
	m := mouth{2e15, 0, 50}
	i := 0.4 * m.counter
	a := c.march(&m, &q, i)
	um := 20 / q.counter
	want := math.Sqrt(math.Pow(a.first+um, 2)+2*elementary*i*0.05/(eps0*0.06*q.counter)) - um
	near(t, "field", a.field, want, 1e-12)

	branch := draw(nil, &mouth{1e30, 0, 1}, 1.6e-4, 0.05, 0.06, 1)
	for _, p := range branch[:20] {
		near(t, "drawn", p.current, 0.06*eps0*1.6e-4*p.field*p.field/(2*0.05), 1e-9)
		near(t, "voltage", p.voltage, 2./3*p.field*0.05, 1e-9)
	}
}

// The turning law: in weak field the polar conductivity of the counter-ions, in strong field all that arrive.
func TestTurn(t *testing.T) {
	q := carriers{1.4e-4, 1.7e-4, 0}
	c := newColumn(flat(10, 0.01), 0.1, 0.05, 0.05)
	weak, strong := arrival{field: 1, like: 1e12}, arrival{field: 1e9, like: 1e12}
	got, _, _ := c.turned(&q, 1e6, &weak)
	near(t, "conduction", got, elementary*1e12/(10*0.01)*q.counter*1*0.05, 1e-3)
	got, _, _ = c.turned(&q, 1e12, &strong)
	near(t, "all", got, elementary*2e12, 1e-3)
	if got, _, _ = c.turned(&q, 1e6, &arrival{field: -1, like: 1e12}); got != 0 {
		t.Errorf("against the field: %g", got)
	}
}

func BenchmarkMarch(b *testing.B) {
	c := newColumn(Plume{Speed: 100, Width: 1e-3, Core: 6.3e-3}, 0.1, 0.1, 0.1)
	q := carriers{1.4e-4, 1.7e-4, 1.6e-12}
	m := mouth{2e15, 2e15, 100}
	k := 0
	for b.Loop() {
		k++
		c.march(&m, &q, shares[k%curveNodes]*m.counter)
	}
}
