package survey

import (
	"sync"

	"example.org/pithball/internal/numeric"
)

// A contact acts on what lies behind it and on one face, so that a row of the model is
// empty from its own place on in each block of unknowns. A run is a stretch of a row
// outside of which it is zero.
type run struct{ from, to int }

// runGap is how many zeros in a row a run may hold: less than a new run costs.
const runGap = 24

// runsOf appends the runs of x to dst.
func runsOf(dst []run, x []float64) []run {
	first := len(dst)
	for j, v := range x {
		switch {
		case v == 0:
		case len(dst) > first && j-dst[len(dst)-1].to < runGap:
			dst[len(dst)-1].to = j + 1
		default:
			dst = append(dst, run{j, j + 1})
		}
	}
	return dst
}

// runsOfFour appends the runs of four rows of length n together.
func runsOfFour(dst []run, x []float64, n int) []run {
	a, b, c, d := x[:n], x[n:2*n], x[2*n:3*n], x[3*n:4*n]
	first := len(dst)
	for j := range n {
		switch {
		case a[j] == 0 && b[j] == 0 && c[j] == 0 && d[j] == 0:
		case len(dst) > first && j-dst[len(dst)-1].to < runGap:
			dst[len(dst)-1].to = j + 1
		default:
			dst = append(dst, run{j, j + 1})
		}
	}
	return dst
}

// meet is the scalar product of two rows with their runs.
func meet(x, y []float64, a, b []run) float64 {
	var sum float64
	for len(a) > 0 && len(b) > 0 {
		if from, to := max(a[0].from, b[0].from), min(a[0].to, b[0].to); from < to {
			sum += dot(x[from:to], y[from:to])
		}
		if a[0].to < b[0].to {
			a = a[1:]
		} else {
			b = b[1:]
		}
	}
	return sum
}

// tile is the number of columns of a product that are worked out at a time, so that
// they stay close to the processor.
const tile = 256

// tiles calls work with the tiles of n columns, those of a large product side by side:
// they share nothing but what they read.
func tiles(n, size int, work func(from, to int)) {
	const large = 1 << 24 // products, some milliseconds
	var wait sync.WaitGroup
	for from := 0; from < n; from += tile {
		to := min(from+tile, n)
		if size < large {
			work(from, to)
			continue
		}
		wait.Add(1)
		go func() {
			defer wait.Done()
			work(from, to)
		}()
	}
	wait.Wait()
}

// times writes q·h into dst, r×n: q is r×r, h r×n, with many zeros. Each element is summed
// in the order of the rows of h.
func times(dst, q, h []float64, r, n int) {
	var four [][]run // of four rows of h together: the next ones of those before see much the same
	for k := 0; k+4 <= r; k += 4 {
		four = append(four, runsOfFour(nil, h[k*n:(k+4)*n], n))
	}
	tiles(n, r*r*n, func(from, to int) {
		for i := range r {
			out, w := dst[i*n:(i+1)*n], q[i*r:(i+1)*r]
			clear(out[from:to])
			for k, runs := range four {
				f, x := [4]float64(w[4*k:]), h[4*k*n:]
				for _, p := range runs {
					if a, b := max(p.from, from), min(p.to, to); a < b {
						numeric.AddFour(out[a:b], f, x[a:], x[n+a:], x[2*n+a:], x[3*n+a:])
					}
				}
			}
			for k := 4 * len(four); k < r; k++ {
				numeric.AddScaled(out[from:to], w[k], h[k*n+from:])
			}
		}
	})
}

// square adds f·hᵀ·z to the first n rows and columns of dst, which is symmetric, as hᵀ·z
// must be; h and z are r×n. Each element is summed in the order of the rows.
func square(dst []float64, stride int, f float64, h, z []float64, r, n int) {
	tiles(n, r*n*n, func(from, to int) {
		for c := range to {
			a := max(from, c)
			out := dst[c*stride+a : c*stride+to]
			var x [4]float64
			var rows [4]int
			k := 0
			for i := range r {
				if v := h[i*n+c]; v != 0 {
					x[k], rows[k] = f*v, i*n+a
					if k++; k == 4 {
						numeric.AddFour(out, x, z[rows[0]:], z[rows[1]:], z[rows[2]:], z[rows[3]:])
						k = 0
					}
				}
			}
			for j := range k {
				numeric.AddScaled(out, x[j], z[rows[j]:])
			}
		}
	})
	for c := range n {
		for j := c + 1; j < n; j++ {
			dst[j*stride+c] = dst[c*stride+j]
		}
	}
}
