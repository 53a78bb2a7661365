package main

import "math"

// uniform is number i of the stream seed in [0, 1): SplitMix64 as a counter, bit-exact in every language.
func uniform(seed uint64, i int) float64 {
	z := seed + (uint64(i)+1)*0x9E3779B97F4A7C15
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return float64((z^z>>31)>>11) * 0x1p-53
}

// normal is number i of the stream seed, by Box and Muller.
func normal(seed uint64, i int) float64 {
	return math.Sqrt(-2*math.Log1p(-uniform(seed, 2*i))) * math.Cos(2*math.Pi*uniform(seed, 2*i+1))
}

func mean(x []float64) (m float64) {
	for _, v := range x {
		m += v
	}
	return m / float64(len(x))
}

// piece is a part of the work and the programs beside it.
type piece struct {
	name    string
	scripts []string
	works   func() []work
}

var pieces = []piece{
	{"p1", []string{"p1_ion_bvp.py"}, volumes},
	{"p1b", []string{"p1b_solve_bvp.py"}, limit},
	{"p2", []string{"p2_sheet_decay.py"}, maps},
	{"p3", []string{"p3_psychro_numpy.py", "p3_psychrolib_node.js"}, states},
	{"p4", []string{"p4_line_mc.py"}, lines},
	{"p5", []string{"p5_fit.py"}, fits},
	{"p6", []string{"p6_paschen.py"}, films},
}

// must ends the program: the inputs are its own.
func must(err error) {
	if err != nil {
		panic(err)
	}
}
