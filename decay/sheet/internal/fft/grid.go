package fft

import "math"

// Grid is the spectrum of a real map, periodic both ways, of rows × cols values
// in row-major order, and the decay rate of each of its modes. After [NewGrid]
// it is read-only.
type Grid struct {
	rows, cols int
	row, col   *kernel
	spec       []complex128 // mode (x, y) at [x·rows + y], x = 0 … cols/2, over rows·cols
	rate       []float64    // of mode (x, ±y) at [x·(rows/2+1) + y], y = 0 … rows/2
	tailX      tail         // by x
	tailY      tail         // by |y|
}

// MinGrid is the least number of rows and of columns of a Grid.
const MinGrid = 4

// NewGrid transforms v, with rows and cols powers of two of [MinGrid] or more, and
// asks rate for the decay rate of the mode with x waves along a row and y along a
// column, x = 0 … cols/2, y = 0 … rows/2, and gain, unless nil, for a factor on it,
// both from several goroutines. Modes ±y are treated alike.
func NewGrid(v []float64, rows, cols int, rate, gain func(x, y int) float64) *Grid {
	if !isPow2(rows) || !isPow2(cols) || rows < MinGrid || cols < MinGrid || len(v) != rows*cols {
		panic("fft: sides are not powers of two of 4 or more, or do not fit the map")
	}
	g := &Grid{rows: rows, cols: cols, row: kernelOf(cols), col: kernelOf(rows)}
	w := cols/2 + 1
	h := rows/2 + 1
	g.spec = make([]complex128, w*rows)
	g.rate = make([]float64, w*h)
	g.forward(v)
	parallel(w, func(lo, hi int) {
		for x := lo; x < hi; x++ {
			for y := range h {
				g.rate[x*h+y] = rate(x, y)
				if gain != nil {
					f := gain(x, y)
					g.spec[x*rows+y] = scale(g.spec[x*rows+y], f)
					if o := (rows - y) % rows; o != y {
						g.spec[x*rows+o] = scale(g.spec[x*rows+o], f)
					}
				}
			}
		}
	})
	g.tailX, g.tailY = newTail(w), newTail(h)
	for x := range w {
		for y := range rows {
			a := min(y, rows-y)
			z, r := g.spec[x*rows+y], g.rate[x*h+a]
			g.tailX.add(x, z, r)
			g.tailY.add(a, z, r)
			if x < 16 && a < 16 {
				g.tailX.low(z, r)
				g.tailY.low(z, r)
			}
		}
	}
	g.tailX.close()
	g.tailY.close()
	return g
}

// NewWork returns scratch for MapTo.
func (g *Grid) NewWork() *Work {
	return &Work{
		mid:  make([]complex128, g.rows*(g.cols/2+1)),
		cols: make([]complex128, batch*(g.rows+pad)),
		rows: make([]complex128, g.cols),
	}
}

func (g *Grid) forward(v []float64) {
	w := g.cols/2 + 1
	mid := make([]complex128, g.rows*w)
	inv := 1 / float64(g.rows*g.cols)
	parallel(g.rows/2, func(lo, hi int) {
		z := make([]complex128, g.cols)
		for r := 2 * lo; r < 2*hi; r += 2 {
			a, b := v[r*g.cols:][:g.cols], v[(r+1)*g.cols:][:g.cols]
			for i := range z {
				z[i] = complex(b[i], a[i]) // exchanged for the sign −
			}
			g.row.run(z)
			p, q := mid[r*w:][:w], mid[(r+1)*w:][:w]
			for k := range w {
				e, f := swap(z[g.row.pos[k]]), swap(z[g.row.pos[(g.cols-k)&(g.cols-1)]])
				p[k] = complex((real(e)+real(f))/2*inv, (imag(e)-imag(f))/2*inv)
				q[k] = complex((imag(e)+imag(f))/2*inv, (real(f)-real(e))/2*inv)
			}
		}
	})
	parallel((w+batch-1)/batch, func(lo, hi int) {
		ps := g.rows + pad
		cols := make([]complex128, batch*ps)
		for b := lo; b < hi; b++ {
			k0 := b * batch
			e := min(batch, w-k0)
			for r := range g.rows {
				for c, z := range mid[r*w+k0:][:e] {
					cols[c*ps+r] = swap(z)
				}
			}
			for c := range e {
				y := cols[c*ps:][:g.rows]
				g.col.run(y)
				s := g.spec[(k0+c)*g.rows:][:g.rows]
				for i, at := range g.col.out {
					s[at] = swap(y[i])
				}
			}
		}
	})
}

// MapTo sets dst, of rows·cols values, to the map at time t ≥ 0.
func (g *Grid) MapTo(dst []float64, t float64, w *Work) {
	wx, ps := g.cols/2+1, g.rows+pad
	liveX, liveY := g.tailX.live(t, g.tailX.top(t)), g.tailY.live(t, g.tailY.top(t))
	for k0 := 0; k0 < liveX; k0 += batch {
		e := min(batch, liveX-k0)
		for c := range e {
			y := w.cols[c*ps:][:g.rows]
			g.column(y, k0+c, liveY, t)
			g.col.run(y)
		}
		scatter(w.mid, w.cols, g.col.out, ps, wx, k0, e)
	}
	y := w.rows
	for r := 0; r < g.rows; r += 2 {
		pairFirst(y, w.mid[r*wx:][:wx], w.mid[(r+1)*wx:][:wx], liveX)
		g.row.run(y)
		a, b := dst[r*g.cols:][:g.cols], dst[(r+1)*g.cols:][:g.cols]
		for i, at := range g.row.out {
			z := y[i]
			a[at], b[at] = real(z), imag(z)
		}
	}
}

// column decays the modes of column x into y; those of |y| ≥ live are zero.
func (g *Grid) column(y []complex128, x, live int, t float64) {
	h := g.rows/2 + 1
	s, r := g.spec[x*g.rows:][:g.rows], g.rate[x*h:][:h]
	y[0] = scale(s[0], math.Exp(-r[0]*t))
	top := min(live, g.rows/2)
	for i := 1; i < top; i++ {
		e := math.Exp(-r[i] * t)
		y[i] = scale(s[i], e)
		y[g.rows-i] = scale(s[g.rows-i], e)
	}
	clear(y[top : g.rows-top+1])
	if live == h {
		y[h-1] = scale(s[h-1], math.Exp(-r[h-1]*t))
	}
}

func scale(z complex128, e float64) complex128 { return complex(real(z)*e, imag(z)*e) }

// pairFirst is pair with only the first live modes not zero.
func pairFirst(y, a, b []complex128, live int) {
	h := len(a) - 1
	if live > h {
		pair(y, a, b)
		return
	}
	pair2 := func(k int) {
		u, v := a[k], b[k]
		y[k] = complex(real(u)-imag(v), imag(u)+real(v))
		y[2*h-k] = complex(real(u)+imag(v), real(v)-imag(u))
	}
	y[0] = complex(real(a[0]), real(b[0]))
	for k := 1; k < live; k++ {
		pair2(k)
	}
	clear(y[live : 2*h-live+1])
}
