package main

import (
	"fmt"
	"math"

	"example.org/pithball/line"
	"example.org/pithball/line/ensemble"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func pow(x, y float64) float64 { return math.Pow(x, y) }

// twenty are the twenty steps of work p4: contacts on either face in turn, ways, ionisers on the other face.
func twenty() *ensemble.Lines {
	s := ensemble.Spec{Humidity: known.Band{Value: 0.45, Spread: 0.08, Kind: known.Normal}, Driest: 0.05, Dampest: 0.95,
		Leak: &ensemble.Leak{Time: 2000 * units.Second, Decades: 0.12 / math.Ln10}}
	strength := []float64{20, -15, 30, -10, 25, -20, 15} // µC/m²
	exposure := []float64{0.8, 1.2, 0.5, 1, 0.7, 1.5, 0.9}
	ways := []units.Time{0.5, 1, 0.2, 2, 0.3, 1, 0.5}
	most := []float64{10, 5, 20, 10, 15, 8} // µC/m²
	for j := range 20 {
		m := j / 3
		face := line.FaceA
		if m%2 == 1 {
			face = line.FaceB
		}
		switch j % 3 {
		case 0:
			s.Steps = append(s.Steps, ensemble.Step{Contact: &ensemble.Contact{Face: face, Cap: 25e-6,
				Saturation: known.Band{Value: 1e-6 * strength[m], Spread: 0.4, Kind: known.LogNormal},
				Exposure:   known.Band{Value: exposure[m], Spread: 0.5, Kind: known.LogNormal}}})
		case 1:
			s.Steps = append(s.Steps, ensemble.Step{Way: ways[m]})
		default:
			s.Steps = append(s.Steps, ensemble.Step{Ioniser: &ensemble.Ioniser{Face: face.Other(), Share: 0.8,
				Most: units.SurfaceChargeDensity(1e-6 * most[m])}})
		}
	}
	l, err := ensemble.New(&s)
	must(err)
	return l
}

// lines is work p4: exact quantiles of the net charge behind each of twenty steps of a million lines.
func lines() (list []work) {
	const n = 1_000_000
	l := twenty()
	for cores, suffix := range []string{"/1core", "/2cores"} {
		list = append(list, work{"p4_line_mc" + suffix, n, cores + 1, func() any {
			r, err := l.Run(n, 401, 0, 0.05, 0.5, 0.95)
			must(err)
			out := map[string][]float64{}
			for _, j := range []int{0, 2, 9, 19} {
				out[fmt.Sprintf("q_station_%d", j)] = r.Quantiles[j]
			}
			return out
		}})
	}
	return list
}

const noise = 0.5e-6 // [C/m²] of a reading of work p5

// six is the problem of work p5.
func six() *ensemble.Fit {
	s := ensemble.Spec{Leak: &ensemble.Leak{Time: 2 * units.Second}}
	for c, n := range []float64{0.8, 1.2, 0.5, 1, 0.7, 1.5} {
		s.Steps = append(s.Steps, ensemble.Step{Read: true, Contact: &ensemble.Contact{Face: line.FaceA + line.Face(c%2),
			Exposure: known.Band{Value: n}}}, ensemble.Step{Read: true, Way: 0.4 * units.Second})
		if c == 2 {
			s.Steps = append(s.Steps, ensemble.Step{Ioniser: &ensemble.Ioniser{Face: line.FaceA, Share: 0.5}})
		}
	}
	l, err := ensemble.New(&s)
	must(err)
	f, err := l.Fit()
	must(err)
	return f
}

// nets are the readings that strengths theta [C/m²] give without noise when the faces leak with tau [s].
func nets(theta []float64, tau float64) (y []float64) {
	var a, b float64
	f := math.Exp(-0.4 / tau)
	for c, n := range []float64{0.8, 1.2, 0.5, 1, 0.7, 1.5} {
		s := &a
		if c%2 == 1 {
			s = &b
		}
		*s = theta[c] + (*s-theta[c])*math.Exp(-n)
		y = append(y, a+b, (a+b)*f)
		a, b = a*f, b*f
		if c == 2 {
			a -= 0.5 * (a + b)
		}
	}
	return y
}

// surveys are the inputs of work p5: what is true, and the readings with leak times of their own, or with 2 s.
func surveys(n int) (truth, each, shared []float64, tau []units.Time) {
	for d := range n {
		var theta []float64
		for c := range 6 {
			theta = append(theta, 1e-6*(-20+40*uniform(501, 6*d+c)))
		}
		truth = append(truth, theta...)
		t := 2 * (0.5 + uniform(503, d))
		tau = append(tau, units.Time(t))
		one, two := nets(theta, t), nets(theta, 2)
		for i := range one {
			z := noise * normal(502, 12*d+i)
			each, shared = append(each, one[i]+z), append(shared, two[i]+z)
		}
	}
	return truth, each, shared, tau
}

// fits is work p5: strengths of six contacts and their standard errors from twelve readings, a thousand times.
func fits() []work {
	const n = 1000
	truth, each, shared, tau := surveys(n)
	f := six()
	got, sd := make([]float64, 6*n), make([]float64, 6*n)
	digest := func() any {
		var sq, chi float64
		for i := range got {
			e := got[i] - truth[i]
			sq += e * e
			chi += e * e / (sd[i] * sd[i])
		}
		return map[string]any{"rms_error": math.Sqrt(sq / float64(len(got))), "mean_chi": chi / float64(len(got)),
			"set0": got[:6], "se0": sd[:6]}
	}
	return []work{
		{"p5_fit/each", n, 1, func() any { must(f.All(got, sd, each, noise, tau)); return digest() }},
		{"p5_fit/shared", n, 1, func() any { must(f.All(got, sd, shared, noise, nil)); return digest() }},
	}
}
