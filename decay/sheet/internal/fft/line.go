package fft

import (
	"math"
	"math/bits"
	"runtime"
	"sync"
)

// batch is the number of columns, and of pairs of rows, handled together, so that
// a page of memory is visited once for 256 or 512 bytes and not for every cache
// line. pad keeps their starts out of one set of the cache.
const (
	batch = 16
	pad   = 4
)

// Line is the spectrum of a real periodic sequence of n values and the decay
// rate of each of its modes. After [NewLine] it is read-only.
type Line struct {
	n, m, p  int // n = m·p; sample i = p′ + p·m′
	row, col *kernel
	spec     []complex128 // mode k + m·j at [k·p/2 + j], k < m, j < p/2, over n
	rate     []float64    // of the same modes
	nyquist  float64      // mode n/2, over n
	nyqRate  float64
	tail     tail
	// w^{k·p′} = ta[k·p>>s + p′>>s]·tb[k<<s + p′ & (1<<s − 1)], w = e^{2πi/n}, k ≤ m/2.
	s      int
	ta, tb []complex128
}

// Work is the scratch of one evaluation. A Work serves one goroutine.
type Work struct {
	mid    []complex128 // between columns and rows
	cols   []complex128 // batch columns
	rows   []complex128 // batch pairs of rows
	ta     []complex128 // twiddles of a column, coarse
	tb     []complex128 // and fine
	coarse []float64    // points of a lane
}

// MinLine is the least length of a Line.
const MinLine = 16

// NewLine transforms x, of a length that is a power of two of [MinLine] or more,
// and asks rate for the decay rate of mode q = 0 … n/2 (q waves in the sequence)
// and gain, unless nil, for a factor on it, both from several goroutines.
func NewLine(x []float64, rate, gain func(q int) float64) *Line {
	n := len(x)
	if !isPow2(n) || n < MinLine {
		panic("fft: length is not a power of two of 16 or more")
	}
	lg := bits.TrailingZeros(uint(n))
	l := &Line{n: n, m: 1 << ((lg + 1) / 2), p: 1 << (lg / 2)}
	l.row, l.col = kernelOf(l.m), kernelOf(l.p)
	l.spec = make([]complex128, l.m*l.p/2)
	l.rate = make([]float64, l.m*l.p/2)
	l.makeTwiddles()
	l.forward(x)
	h := l.p / 2
	parallel(l.m, func(lo, hi int) {
		for k := lo; k < hi; k++ {
			for j := range h {
				l.rate[k*h+j] = rate(k + l.m*j)
				if gain != nil {
					l.spec[k*h+j] = scale(l.spec[k*h+j], gain(k+l.m*j))
				}
			}
		}
	})
	l.nyqRate = rate(n / 2)
	if gain != nil {
		l.nyquist *= gain(n / 2)
	}
	l.tail = newTail(h)
	for k := range l.m {
		for j := range h {
			l.tail.add(j, l.spec[k*h+j], l.rate[k*h+j])
		}
		l.tail.low(l.spec[k*h], l.rate[k*h])
	}
	l.tail.add(h-1, complex(l.nyquist, 0), l.nyqRate)
	l.tail.close()
	return l
}

// NewWork returns scratch for MapTo.
func (l *Line) NewWork() *Work {
	return &Work{
		mid:    make([]complex128, l.p*(l.m/2+1)),
		cols:   make([]complex128, batch*(l.p+pad)),
		rows:   make([]complex128, batch*(l.m+pad)),
		ta:     make([]complex128, batch*(l.p>>l.s)),
		tb:     make([]complex128, batch<<l.s),
		coarse: make([]float64, l.n/2+taps-1),
	}
}

func (l *Line) makeTwiddles() {
	l.s = bits.TrailingZeros(uint(l.p)) / 2
	for k := range l.m/2 + 1 {
		for i := range l.p >> l.s {
			l.ta = append(l.ta, root(k*(i<<l.s), l.n))
		}
		for i := range 1 << l.s {
			l.tb = append(l.tb, root(k*i, l.n))
		}
	}
}

// twiddles fills the scratch for columns k0 … k0+e−1 of modes shifted by live
// blocks: exponent k − m·live.
func (l *Line) twiddles(w *Work, k0, e, live int) {
	na, nb := l.p>>l.s, 1<<l.s
	for i := range na {
		z := root(l.p-live*(i<<l.s)%l.p, l.p)
		for c := range e {
			w.ta[c*na+i] = l.ta[(k0+c)*na+i] * z
		}
	}
	for i := range nb {
		z := root(l.p-live*i%l.p, l.p)
		for c := range e {
			w.tb[c*nb+i] = l.tb[(k0+c)*nb+i] * z
		}
	}
}

func swap(z complex128) complex128 { return complex(imag(z), real(z)) }

func (l *Line) forward(x []float64) {
	mh, h := l.m/2+1, l.p/2
	mid := make([]complex128, l.p*mh)
	inv := 1 / float64(l.n)
	// Rows: two real rows in one transform. The sign − comes from exchanging real
	// and imaginary part before and after.
	parallel(l.p/2, func(lo, hi int) {
		ms := l.m + pad
		z := make([]complex128, batch*ms)
		for r := lo; r < hi; r += batch {
			e := min(batch, hi-r)
			for i := range l.m {
				v := x[l.p*i+2*r:][: 2*e : 2*e]
				for b := range e {
					z[b*ms+i] = complex(v[2*b+1], v[2*b])
				}
			}
			for b := range e {
				y := z[b*ms:][:l.m]
				l.row.run(y)
				u, v := mid[2*(r+b)*mh:][:mh], mid[(2*(r+b)+1)*mh:][:mh]
				for k := range mh {
					f, g := swap(y[l.row.pos[k]]), swap(y[l.row.pos[(l.m-k)&(l.m-1)]])
					u[k] = complex((real(f)+real(g))/2*inv, (imag(f)-imag(g))/2*inv)
					v[k] = complex((imag(f)+imag(g))/2*inv, (real(g)-real(f))/2*inv)
				}
			}
		}
	})
	parallel((mh+batch-1)/batch, func(lo, hi int) {
		ps := l.p + pad
		cols := make([]complex128, batch*ps)
		na, nb := l.p>>l.s, 1<<l.s
		for b := lo; b < hi; b++ {
			k0 := b * batch
			e := min(batch, mh-k0)
			for p := range l.p {
				v := mid[p*mh+k0:][:e]
				for c, z := range v {
					t := l.ta[(k0+c)*na+p>>l.s] * l.tb[(k0+c)*nb+p&(nb-1)]
					cols[c*ps+p] = swap(z * complex(real(t), -imag(t)))
				}
			}
			for c := range e {
				k, y := k0+c, cols[c*ps:][:l.p]
				l.col.run(y)
				for j := range h {
					l.spec[k*h+j] = swap(y[l.col.pos[j]])
				}
				switch {
				case k == 0:
					l.nyquist = imag(y[l.col.pos[h]])
				case k < l.m/2:
					for j := h; j < l.p; j++ {
						z := swap(y[l.col.pos[j]])
						l.spec[(l.m-k)*h+l.p-1-j] = complex(real(z), -imag(z))
					}
				}
			}
		}
	})
}

// MapTo sets dst, of length n, to the sequence at time t ≥ 0.
func (l *Line) MapTo(dst []float64, t float64, w *Work) {
	top := l.tail.top(t)
	live := l.tail.live(t, top)
	p := 4
	for p < l.p && (p < 2*live || l.tail.leak(t, live, p) > top*0x1p-54) {
		p *= 2
	}
	if p == l.p {
		l.columns(nil, live, t, w)
		l.rows(dst, p, w)
		return
	}
	few := laneOf(l.p / p)
	l.columns(few, live, t, w)
	coarse := w.coarse[:l.m*p+taps-1]
	l.rows(coarse[half-1:], p, w)
	few.fill(dst, coarse)
}

// rows transforms the p rows of mid and sets value r + p·i of dst to value i of row r.
func (l *Line) rows(dst []float64, p int, w *Work) {
	mh, ms := l.m/2, l.m+pad
	for r := 0; r < p; r += 2 * batch {
		e := min(2*batch, p-r)
		for b := 0; b < e; b += 2 {
			y := w.rows[b/2*ms:][:l.m]
			pair(y, w.mid[(r+b)*(mh+1):][:mh+1], w.mid[(r+b+1)*(mh+1):][:mh+1])
			l.row.run(y)
		}
		for i, at := range l.row.out {
			d := dst[int(at)*p+r:][:e]
			for b := i; len(d) >= 2; b += ms {
				z := w.rows[b]
				d[0], d[1] = real(z), imag(z)
				d = d[2:]
			}
		}
	}
}

// pair packs the half spectra a and b of two real rows as those of a + ib.
func pair(y, a, b []complex128) {
	h := len(a) - 1
	b = b[:len(a)]
	y[0] = complex(real(a[0]), real(b[0]))
	y[h] = complex(real(a[h]), real(b[h]))
	up, down := y[:h], y[h:]
	down = down[:h]
	for k := 1; k < h; k++ {
		u, v := a[k], b[k]
		up[k] = complex(real(u)-imag(v), imag(u)+real(v))
		down[h-k] = complex(real(u)+imag(v), real(v)-imag(u))
	}
}

// columns decays the modes and transforms them along the columns into mid, of the
// full length or, with a lane, of its shorter one. Modes j = −live … live−1 of a
// column stand first, shifted by live, so that the transform has few inputs when
// few modes live; the shift is undone in the twiddles.
func (l *Line) columns(few *lane, live int, t float64, w *Work) {
	mh, h, u := l.m/2+1, l.p/2, 1
	if few != nil {
		u = few.u
	}
	p, col := l.p/u, kernelOf(l.p/u)
	ps := p + pad
	na, nb := l.p>>l.s, 1<<l.s
	decayed := func(y []complex128, k int) {
		if few != nil {
			few.raise(y, l.spec[k*h:], l.rate[k*h:], t, k, l.m, l.m*p)
		} else {
			decay(y, l.spec[k*h:], l.rate[k*h:], t)
		}
	}
	for k0 := 0; k0 < mh; k0 += batch {
		e := min(batch, mh-k0)
		l.twiddles(w, k0, e, live)
		for c := range e {
			k := k0 + c
			y := w.cols[c*ps:][:p]
			clear(y[2*live:])
			decayed(y[live:2*live], k)
			if k == 0 {
				for j := 1; j < live; j++ {
					y[live-j] = complex(real(y[live+j]), -imag(y[live+j]))
				}
				y[0] = 0
				if live == h { // −n/2 and n/2 are one mode
					y[0] = complex(l.nyquist*math.Exp(-l.nyqRate*t), 0)
				}
			} else {
				// Mode −(k + m j) is the conjugate of residue m−k.
				o := y[:live]
				decayed(o, l.m-k)
				for i, j := 0, live-1; i <= j; i, j = i+1, j-1 {
					a, b := o[i], o[j]
					o[i], o[j] = complex(real(b), -imag(b)), complex(real(a), -imag(a))
				}
			}
			col.runFirst(y, 2*live)
			ta, tb := w.ta[c*na:][:na], w.tb[c*nb:][:nb]
			y = y[:len(col.out)]
			for i, at := range col.out {
				q := int(at) * u
				y[i] *= ta[q>>l.s] * tb[q&(nb-1)]
			}
		}
		scatter(w.mid, w.cols, col.out, ps, mh, k0, e)
	}
}

// scatter moves e columns, ps apart, to the places k0 … k0+e−1 of rows of length
// mh: value i of a column belongs to row out[i].
func scatter(mid, cols []complex128, out []int32, ps, mh, k0, e int) {
	for i, at := range out {
		v := mid[int(at)*mh+k0:][:e]
		c := i
		for len(v) >= 4 {
			v[0], v[1], v[2], v[3] = cols[c], cols[c+ps], cols[c+2*ps], cols[c+3*ps]
			c += 4 * ps
			v = v[4:]
		}
		for j := range v {
			v[j] = cols[c]
			c += ps
		}
	}
}

// decay sets y[i] = s[i]·exp(−r[i]·t).
func decay(y, s []complex128, r []float64, t float64) {
	s, r = s[:len(y)], r[:len(y)]
	for i := range y {
		e := math.Exp(-r[i] * t)
		y[i] = complex(real(s[i])*e, imag(s[i])*e)
	}
}

// parallel runs f over parts of 0 … n on all cores.
func parallel(n int, f func(lo, hi int)) {
	c := min(runtime.GOMAXPROCS(0), n)
	if c <= 1 {
		f(0, n)
		return
	}
	var g sync.WaitGroup
	for i := range c {
		g.Go(func() { f(i*n/c, (i+1)*n/c) })
	}
	g.Wait()
}
