package sheet

import (
	"math"
	"sync"
	"testing"

	"example.org/pithball/units"
)

// benchMap is a map of 2^20 values between −1e-5 and 1e-5 C/m² from the SplitMix64
// counter rule.
func benchMap() []float64 {
	v := make([]float64, 1<<20)
	for i := range v {
		z := uint64(201) + uint64(i+1)*0x9E3779B97F4A7C15
		z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
		z = (z ^ (z >> 27)) * 0x94D049BB133111EB
		z ^= z >> 31
		v[i] = 1e-5 * (2*(float64(z>>11)*0x1p-53) - 1)
	}
	return v
}

var benchAt = [4]int{0, 12345, 524288, 1048575}

// benchTimes are 20 times from 0.1 s to 100 s.
func benchTimes() (t [20]units.Time) {
	for j := range t {
		t[j] = units.Time(0.1 * math.Pow(10, 3*float64(j)/19))
	}
	return t
}

// benchRun transforms the map and takes the full map at 20 times on the given
// number of goroutines, with its extremes and four values.
func benchRun(tb testing.TB, v []float64, rows, workers int, sheet *Sheet, bufs [][]float64) (out [20][6]float64) {
	m, err := NewChargeMap(MapSpec{Charge: v, Rows: rows, Pixel: 1e-4, Law: sheet})
	if err != nil {
		tb.Fatal(err)
	}
	times := benchTimes()
	var g sync.WaitGroup
	for w := range workers {
		g.Go(func() {
			dst := bufs[w]
			for j := w; j < len(times); j += workers {
				if err := m.MapTo(dst, times[j]); err != nil {
					tb.Error(err)
					return
				}
				hi, lo := math.Inf(-1), math.Inf(1)
				for _, x := range dst {
					if x > hi {
						hi = x
					}
					if x < lo {
						lo = x
					}
				}
				out[j] = [6]float64{hi, lo}
				for i, at := range benchAt {
					out[j][2+i] = dst[at]
				}
			}
		})
	}
	g.Wait()
	return out
}

func benchSheet(tb testing.TB) *Sheet {
	return mustSheet(tb, SheetSpec{Thickness: 1e-3, RelativePermittivity: 3, SurfaceResistivity: 1e12})
}

// 2^20 values, 20 times, full maps, transform and rates included: 1-D and
// 1024 × 1024, on one and on two goroutines (the transform itself uses all
// cores).
func BenchmarkChargeMap(b *testing.B) {
	v, sheet := benchMap(), benchSheet(b)
	bufs := [][]float64{make([]float64, len(v)), make([]float64, len(v))}
	for _, c := range []struct {
		name          string
		rows, workers int
	}{{"line/1", 1, 1}, {"line/2", 1, 2}, {"square/1", 1024, 1}, {"square/2", 1024, 2}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				benchRun(b, v, c.rows, c.workers, sheet, bufs)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(20*len(v)), "ns/value")
		})
	}
}
