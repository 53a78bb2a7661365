package survey

import (
	"sync"

	"gonum.org/v1/gonum/floats"
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

// times writes q·h into dst, r×n: q is r×r, h r×n with the runs of its rows.
func times(dst, q, h []float64, runs [][]run, r, n int) {
	tiles(n, r*r*n, func(from, to int) {
		for i := range r {
			out := dst[i*n : (i+1)*n]
			clear(out[from:to])
			for k, f := range q[i*r : (i+1)*r] {
				for _, p := range runs[k] {
					if a, b := max(p.from, from), min(p.to, to); a < b {
						floats.AddScaled(out[a:b], f, h[k*n+a:k*n+b])
					}
				}
			}
		}
	})
}

// square adds f·hᵀ·z to the first n rows and columns of dst, which is symmetric, as hᵀ·z
// must be; h and z are r×n.
func square(dst []float64, stride int, f float64, h, z []float64, r, n int) {
	tiles(n, r*n*n, func(from, to int) {
		for c := range to {
			a := max(from, c)
			out := dst[c*stride+a : c*stride+to]
			for i := range r {
				if x := h[i*n+c]; x != 0 {
					floats.AddScaled(out, f*x, z[i*n+a:i*n+to])
				}
			}
		}
	})
	for c := range n {
		for j := c + 1; j < n; j++ {
			dst[j*stride+c] = dst[c*stride+j]
		}
	}
}
