package ensemble

import (
	"fmt"
	"math"
	"runtime"
	"sync"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Fit is the linear problem of a line whose contacts have known exposures and unknown
// saturations: the net charge behind each step that is read is a sum of them. It is
// immutable, for use by many goroutines.
type Fit struct {
	steps   []fitStep
	k, rows int
	leak    float64 // time constant at the humidity of the specification [s], +Inf without a leak
	ways    []float64
	prior   [][2]float64 // of each saturation: mean [C/m²] and 1/sd² [m⁴/C²], 0: nothing known
}

type fitStep struct {
	kind    kind
	face    int
	contact int
	way     int     // index in ways
	passes  float64 // e^−n of a contact [1]
	share   float64 // [1]
	read    bool
}

// mostUnknowns is the greatest number of contacts of a fit.
const mostUnknowns = 64

// Fit makes the problem of this line. The exposures are the medians of their bands. A
// saturation whose band is normal has that for what was known before, so that what comes
// out is its posterior; one that is exact, whatever its value, is what nothing is known
// of. Caps, bounds of supply and other bands are not linear and are refused, as are fewer
// readings than unknowns where something is not known before. Errors are
// [*known.FieldError]s.
func (l *Lines) Fit() (*Fit, error) {
	f := &Fit{leak: math.Inf(1)}
	if l.spec.Leak != nil {
		f.leak = 1 / l.rate(l.spec.Humidity.Value)
	}
	free := 0
	for i := range l.steps {
		t, at := &l.steps[i], fmt.Sprintf("steps[%d]", i)
		s := fitStep{kind: t.kind, face: t.face, contact: t.contact, passes: numeric.Exp(-t.n.Value), share: t.share,
			read: t.read}
		if !math.IsInf(t.top, 1) {
			return nil, known.Wrong(at, t.top, "no cap and no bound of the supply: the fit is linear")
		}
		switch t.kind {
		case contact:
			p := [2]float64{}
			switch b := t.strength; {
			case b.Kind == known.Normal && b.Spread > 0:
				p = [2]float64{b.Value, 1 / (b.Spread * b.Spread)}
			case b.Kind == known.Exact:
				free++
			default:
				return nil, known.Wrong(at+".contact.saturation.kind", b.Kind,
					"normal with a spread, or exact: the fit is linear")
			}
			f.prior = append(f.prior, p)
			f.k++
		case way:
			s.way = -1
			for k, w := range f.ways {
				if w == t.time {
					s.way = k
				}
			}
			if s.way < 0 {
				s.way = len(f.ways)
				f.ways = append(f.ways, t.time)
			}
		}
		if t.read {
			f.rows++
		}
		f.steps = append(f.steps, s)
	}
	switch {
	case f.k == 0 || f.k > mostUnknowns:
		return nil, known.Wrong("steps", fmt.Sprintf("%d contacts", f.k), fmt.Sprintf("1 … %d contacts", mostUnknowns))
	case f.rows < free:
		return nil, known.Wrong("steps", fmt.Sprintf("%d readings", f.rows),
			fmt.Sprintf("%d or more: one for each saturation of which nothing is known", free))
	}
	return f, nil
}

// Unknowns returns the number of saturations, in the order of the path.
func (f *Fit) Unknowns() int { return f.k }

// Readings returns the number of readings of one survey, in the order of the path.
func (f *Fit) Readings() int { return f.rows }

// All fits any number of surveys. Of survey i, readings[i·Readings():] are the nets that
// were read [C/m²], all with the standard deviation noise, and leak[i] is the time constant with which
// the faces leaked; nil: that of the specification. The estimates of its saturations go to
// mean[i·Unknowns():] and their standard deviations to sd, both [C/m²]. A survey that
// does not determine its saturations gets NaN. Errors are [*known.FieldError]s.
func (f *Fit) All(mean, sd []float64, readings []float64, noise units.SurfaceChargeDensity, leak []units.Time) error {
	if f.rows == 0 {
		return known.Wrong("fit", "none", "one that Lines.Fit makes")
	}
	n := len(readings) / f.rows
	switch {
	case n*f.rows != len(readings):
		return known.Wrong("readings", len(readings), fmt.Sprintf("a multiple of %d", f.rows))
	case len(mean) != n*f.k || len(sd) != n*f.k:
		return known.Wrong("mean", fmt.Sprintf("%d and %d", len(mean), len(sd)),
			fmt.Sprintf("%d, %d for each survey", n*f.k, f.k))
	case leak != nil && len(leak) != n:
		return known.Wrong("leak", len(leak), fmt.Sprintf("%d, one for each survey", n))
	}
	if err := known.InRange("noise", noise, 1e-15, mostCharge); err != nil {
		return err
	}
	for i, t := range leak {
		if !(t > 0) {
			return known.Wrong(fmt.Sprintf("leak[%d]", i), t, "more than 0")
		}
	}
	var s *shared
	if leak == nil && n > f.rows {
		s = f.share(float64(noise))
	}
	some := func(lo, hi int) {
		if s != nil {
			s.fit(mean[lo*f.k:hi*f.k], sd[lo*f.k:hi*f.k], readings[lo*f.rows:hi*f.rows])
			return
		}
		w := f.newWork()
		for i := lo; i < hi; i++ {
			tau := f.leak
			if leak != nil {
				tau = float64(leak[i])
			}
			w.one(mean[i*f.k:(i+1)*f.k], sd[i*f.k:(i+1)*f.k], readings[i*f.rows:(i+1)*f.rows], float64(noise), tau)
		}
	}
	// A goroutine costs as much as a few tens of surveys.
	few := 200
	if s != nil {
		few = 4000 // one after the other they are products of a small matrix only
	}
	workers := min(runtime.GOMAXPROCS(0), 1+n/few)
	if workers == 1 {
		some(0, n)
		return nil
	}
	var wg sync.WaitGroup
	for p := range workers {
		wg.Go(func() { some(p*n/workers, (p+1)*n/workers) })
	}
	wg.Wait()
	return nil
}

// fitWork is the memory of one goroutine.
type fitWork struct {
	f          *Fit
	a, b, row  []float64 // sensitivities of the faces and of the net, over scale
	m          []float64 // normal matrix, lower half by rows, then its Cholesky factor
	g, inverse []float64
	keep       []float64
}

func (f *Fit) newWork() *fitWork {
	k := f.k
	x := make([]float64, 5*k+k*k+len(f.ways))
	cut := func(n int) []float64 {
		p := x[:n:n]
		x = x[n:]
		return p
	}
	return &fitWork{f, cut(k), cut(k), cut(k), cut(k * k), cut(k), cut(k), cut(len(f.ways))}
}

// one fits one survey: normal equations N·S = g of the readings y = A·S with what was
// known before, by Cholesky; the standard deviations are the roots of the diagonal of
// N⁻¹. Ways scale both faces alike: the rows between two changes of the line are one row
// with a weight, Σ scale², and one reading, Σ scale·y.
func (w *fitWork) one(mean, sd, y []float64, noise, tau float64) {
	f := w.f
	k := f.k
	for j, t := range f.ways {
		w.keep[j] = numeric.Exp(-t / tau)
	}
	clear(w.m)
	clear(w.a)
	clear(w.b)
	for j, p := range f.prior {
		w.m[j*k+j] = p[1] * noise * noise
		w.g[j] = w.m[j*k+j] * p[0]
	}
	scale, weight, sum := 1.0, 0.0, 0.0
	met := 0 // contacts so far
	for i := range f.steps {
		s := &f.steps[i]
		if s.kind == way {
			scale *= w.keep[s.way]
		} else {
			if weight > 0 {
				w.add(met, weight, sum)
			}
			// What was carried in the scale goes into the faces.
			a := w.a[:met]
			b := w.b[:len(a)]
			if scale != 1 {
				for j := range a {
					a[j] *= scale
					b[j] *= scale
				}
			}
			scale, weight, sum = 1, 0, 0
			face := a
			if s.face == 1 {
				face = b
			}
			if s.kind == contact {
				for j := range face {
					face[j] *= s.passes
				}
				if s.face == 1 {
					w.b[met] = 1 - s.passes
				} else {
					w.a[met] = 1 - s.passes
				}
				met++
			} else {
				for j := range face {
					face[j] -= s.share * (a[j] + b[j])
				}
			}
		}
		if s.read {
			weight += scale * scale
			sum += scale * y[0]
			y = y[1:]
		}
	}
	if weight > 0 {
		w.add(met, weight, sum)
	}
	w.solve(mean, sd, noise)
}

// add adds a row of that weight to the normal equations.
func (w *fitWork) add(met int, weight, sum float64) {
	row := w.row[:met]
	a, b, g := w.a[:len(row)], w.b[:len(row)], w.g[:len(row)]
	k := w.f.k
	for i := range row {
		x := a[i] + b[i]
		row[i] = x
		g[i] += x * sum
		x *= weight
		done := row[:i+1]
		m := w.m[i*k : i*k+len(done)]
		for j, z := range done {
			m[j] += x * z
		}
	}
}

func (w *fitWork) solve(mean, sd []float64, noise float64) {
	k := w.f.k
	m, inv, g := w.m, w.inverse, w.g
	for i := range k {
		r := m[i*k : i*k+i+1]
		for j := range r {
			q := m[j*k : j*k+j+1]
			s := r[j]
			for l, x := range q[:j] {
				s -= r[l] * x
			}
			if j < i {
				r[j] = s * q[j] // the diagonal holds reciprocals
				continue
			}
			if !(s > 1e-13*r[j]) { // not determined, or NaN
				for c := range mean {
					mean[c], sd[c] = math.NaN(), math.NaN()
				}
				return
			}
			r[j] = 1 / math.Sqrt(s)
		}
	}
	for i := range k { // forwards
		s := g[i]
		for l, x := range m[i*k : i*k+i] {
			s -= x * g[l]
		}
		g[i] = s * m[i*k+i]
	}
	for i := k - 1; i >= 0; i-- { // backwards
		s := g[i]
		for l := i + 1; l < k; l++ {
			s -= m[l*k+i] * mean[l]
		}
		mean[i] = s * m[i*k+i]
	}
	// Column c of L⁻¹; its squares add to the diagonal of N⁻¹.
	for c := range k {
		inv[c] = m[c*k+c]
		sum := inv[c] * inv[c]
		for i := c + 1; i < k; i++ {
			r := m[i*k : i*k+i+1]
			s := 0.0
			for l := c; l < i; l++ {
				s -= r[l] * inv[l]
			}
			inv[i] = s * r[i]
			sum += inv[i] * inv[i]
		}
		sd[c] = noise * math.Sqrt(sum)
	}
}
