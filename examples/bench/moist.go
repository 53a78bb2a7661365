package main

import (
	"sync"

	"example.org/pithball/charge/gas"
	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// inParts runs f on equal parts of 0 … n, one for each core.
func inParts(n, cores int, f func(lo, hi int)) {
	var g sync.WaitGroup
	for p := range cores {
		g.Go(func() { f(p*n/cores, (p+1)*n/cores) })
	}
	g.Wait()
}

func floats[T ~float64](x []T, shift float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = float64(v) + shift
	}
	return out
}

// air are inputs and results of work p3.
type air struct {
	t   []units.Temperature
	rh  []units.Ratio
	p   []units.Pressure
	dst humidity.States
}

func newAir(n int) *air {
	a := &air{make([]units.Temperature, n), make([]units.Ratio, n), make([]units.Pressure, n),
		humidity.States{HumidityRatio: make([]units.HumidityRatio, n), CondensationPoint: make([]units.Temperature, n),
			WetBulb: make([]units.Temperature, n), Enthalpy: make([]units.EnergyPerMass, n)}}
	for i := range n {
		a.t[i] = units.Celsius(-20 + 70*uniform(301, i))
		a.rh[i] = units.Ratio(0.05 + 0.95*uniform(302, i))
		a.p[i] = units.Pressure(70000 + 35000*uniform(303, i))
	}
	return a
}

// compute fills the results.
func (a *air) compute(m humidity.AirModel, cores int) {
	inParts(len(a.t), cores, func(lo, hi int) {
		d := humidity.States{HumidityRatio: a.dst.HumidityRatio[lo:hi], CondensationPoint: a.dst.CondensationPoint[lo:hi],
			WetBulb: a.dst.WetBulb[lo:hi], Enthalpy: a.dst.Enthalpy[lo:hi]}
		must(m.StatesTo(&d, a.t[lo:hi], a.rh[lo:hi], a.p[lo:hi], humidity.Mixed))
	})
}

func (a *air) digest() any {
	const zero = 273.15 // K
	w, td := floats(a.dst.HumidityRatio, 0), floats(a.dst.CondensationPoint, -zero)
	tw, h := floats(a.dst.WetBulb, -zero), floats(a.dst.Enthalpy, 0)
	return map[string]any{"mean_W": mean(w), "mean_td": mean(td), "mean_tw": mean(tw), "mean_h": mean(h),
		"first3": [][]float64{w[:3], td[:3], tw[:3], h[:3]}}
}

// states is work p3: humidity ratio, dew or frost point, wet or ice bulb and enthalpy of 100,000 states by the
// equations of ASHRAE for ideal gases. A further line, which nobody else has, is the same with the enhancement factor.
func states() []work {
	const n = 100000
	a, real := newAir(n), newAir(n)
	return []work{
		{"p3_psychro/1core", n, 1, func() any { a.compute(humidity.ASHRAEIdeal, 1); return a.digest() }},
		{"p3_psychro/2cores", n, 2, func() any { a.compute(humidity.ASHRAEIdeal, 2); return a.digest() }},
		{"p3_psychro/enhanced", n, 1, func() any { real.compute(humidity.IAPWS, 1); return real.digest() }},
	}
}

// backed are inputs and results of work p6.
type backed struct {
	thick, gap    []units.Length
	epsr          []float64
	q, most, kept []units.SurfaceChargeDensity
}

func newBacked(n int) *backed {
	b := &backed{make([]units.Length, n), make([]units.Length, n), make([]float64, n),
		make([]units.SurfaceChargeDensity, n),
		make([]units.SurfaceChargeDensity, n), make([]units.SurfaceChargeDensity, n)}
	for i := range n {
		b.thick[i] = units.Length(10e-6 * pow(50, uniform(601, i)))
		b.epsr[i] = 2 + 2*uniform(602, i)
		b.q[i] = units.SurfaceChargeDensity(1e-6 * pow(1000, uniform(603, i)))
	}
	return b
}

func (b *backed) compute(cores int) {
	inParts(len(b.q), cores, func(lo, hi int) {
		must(gas.CapBackedTo(b.most[lo:hi], b.gap[lo:hi], b.thick[lo:hi], b.epsr[lo:hi], 1))
		for i := lo; i < hi; i++ {
			b.kept[i] = min(b.q[i], b.most[i])
		}
	})
}

func (b *backed) digest() any {
	limited := 0
	for i := range b.q {
		if b.kept[i] == b.most[i] {
			limited++
		}
	}
	most, gap := floats(b.most, 0), floats(b.gap, 0)
	return map[string]any{"mean_sigma_max": mean(most), "mean_z": mean(gap), "mean_kept": mean(floats(b.kept, 0)),
		"first3_sigma_max": most[:3], "first3_z": gap[:3], "limited": limited}
}

// films is work p6: the greatest charge that 100,000 films over earthed metal keep, and its gap.
func films() []work {
	const n = 100000
	b := newBacked(n)
	return []work{
		{"p6_paschen/1core", n, 1, func() any { b.compute(1); return b.digest() }},
		{"p6_paschen/2cores", n, 2, func() any { b.compute(2); return b.digest() }},
	}
}
