package main

import (
	"math"
	"sync"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
)

// eps2018 is the ε0 of the definition [F/m], CODATA 2018: the rate is as the inverse of ε0·ρ.
const eps2018 = 8.8541878128e-12

// maps is work p2: 20 full maps of a decaying charge, on a line and on a plane, with extremes and four values of each.
func maps() (list []work) {
	law, err := sheet.NewSheet(sheet.SheetSpec{Thickness: 1e-3, RelativePermittivity: 3,
		SurfaceResistivity: 1e12 * eps2018 / units.Epsilon0})
	must(err)
	return append(mapsOf(law, 1<<20, 1, "p2_sheet_decay/1d_2^20"),
		mapsOf(law, 1<<20, 1024, "p2_sheet_decay/2d_1024x1024")...)
}

func mapsOf(law *sheet.Sheet, n, rows int, name string) (list []work) {
	q := make([]float64, n)
	for i := range q {
		q[i] = 1e-5 * (2*uniform(201, i) - 1)
	}
	for cores, suffix := range []string{"/1core", "/2cores"} {
		cores++
		dst := make([][]float64, cores)
		for i := range dst {
			dst[i] = make([]float64, n)
		}
		list = append(list, work{name + suffix, n, cores, func() any {
			r := decayed(law, q, rows, dst)
			return map[string][6]float64{"t0": r[0], "t10": r[10], "t19": r[19]}
		}})
	}
	return list
}

// decayed takes the map at 20 times from 0.1 to 100 s, on as many goroutines as there are buffers.
func decayed(law *sheet.Sheet, q []float64, rows int, dst [][]float64) (out [20][6]float64) {
	m, err := sheet.NewChargeMap(sheet.MapSpec{Charge: q, Rows: rows, Pixel: 1e-4, Law: law})
	must(err)
	var g sync.WaitGroup
	for w := range dst {
		g.Go(func() {
			b := dst[w]
			for j := w; j < len(out); j += len(dst) {
				must(m.MapTo(b, units.Time(0.1*math.Pow(10, 3*float64(j)/19))))
				hi, lo := math.Inf(-1), math.Inf(1)
				for _, x := range b {
					if x > hi {
						hi = x
					}
					if x < lo {
						lo = x
					}
				}
				out[j] = [6]float64{hi, lo}
				for k, at := range [4]int{0, 12345, 524288, 1048575} {
					out[j][2+k] = b[at%len(b)]
				}
			}
		})
	}
	g.Wait()
	return out
}
