package decay

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// lawOf describes a law for the registry: its parameters, and how to build it.
type lawOf struct {
	name, doc string
	args      []compute.Arg
	covers    []string // constructors and methods besides Fraction, Rate and TimeTo
	source    known.Source
	build     func(a []float64) (Law, error)
	checked   bool // the law is a Checker
}

// entries returns the two computations of a law: its value and rate at a time,
// and its time to a fraction.
func (l lawOf) entries() []compute.Entry {
	results := []compute.Arg{resRatio("fraction", "V(t)/V(0)"), {Name: "rate", Unit: "1/s", Doc: "its derivative", Low: -1e308, High: 1e308}}
	if l.checked {
		results = append(results, compute.Arg{Name: "validity", Unit: "1", Doc: "0 inside the range of the law, else the flags of known.Validity", Low: 0, High: 255})
	}
	at := append(append([]compute.Arg(nil), l.args...), argTime("t", "time since the start"))
	to := append(append([]compute.Arg(nil), l.args...), argFraction())
	n := len(l.args)
	return []compute.Entry{
		{
			Name: "decay." + l.name + ".Fraction", Doc: l.doc, Args: at, Source: l.source,
			Results: results,
			Covers:  append([]string{l.name + ".Fraction", l.name + ".Rate", "New" + l.name, "Rate"}, l.covers...),
			Eval: func(dst, a []float64) error {
				law, err := l.build(a)
				if err != nil {
					return err
				}
				t := units.Time(a[n])
				dst[0], dst[1] = law.Fraction(t), Rate(law, t)
				if c, ok := law.(Checker); ok && l.checked {
					dst[2] = float64(c.Validity(t))
				}
				return nil
			},
		},
		{
			Name: "decay." + l.name + ".TimeTo", Doc: "Time to a fraction of: " + l.doc, Args: to, Source: l.source,
			Results: []compute.Arg{resTime("t", "time to the fraction")},
			Covers:  []string{l.name + ".TimeTo", "New" + l.name, "TimeTo"},
			Eval: func(dst, a []float64) error {
				law, err := l.build(a)
				if err != nil {
					return err
				}
				t, err := TimeTo(law, a[n])
				if err == nil && math.IsInf(float64(t), 1) {
					err = known.Wrong("fraction", a[n], "one that is left within 1e308 s")
				}
				dst[0] = float64(t)
				return err
			},
		},
	}
}

// law drops the concrete type, so that a failed constructor gives a nil Law.
func law[T Law](l T, err error) (Law, error) {
	if err != nil {
		return nil, err
	}
	return l, nil
}

func argSpread() []compute.Arg {
	return []compute.Arg{argLength("size", "half-width, radius or probe height"),
		{Name: "speed", Unit: "m/s", Doc: "spreading speed 1/(2·ε0·ρs)", Low: 1e-15, High: 1e9}}
}

func lawEntries() []compute.Entry {
	freeSheet := derived("charge of a free resistive sheet spreads at 1/(2·ε0·ρs): images receding at that speed")
	var list []compute.Entry
	for _, l := range []lawOf{
		{"Exponential", "Exponential decay e^(−t/τ).", []compute.Arg{argTime("tau", "relaxation time")},
			[]string{"Exponential.Tau"}, derived("solution of dV/dt = −V/τ"),
			func(a []float64) (Law, error) { return law(NewExponential(units.Time(a[0]))) }, false},
		{"OffsetExponential", "Exponential decay towards a balance voltage.",
			[]compute.Arg{argTime("tau", "relaxation time"), argVolts("v0", "start voltage"), {Name: "vb", Unit: "V", Doc: "balance voltage", Low: -1e9, High: 1e9}},
			[]string{"OffsetExponential.Floor"}, derived("solution of dV/dt = −(V − Vb)/τ"),
			func(a []float64) (Law, error) {
				return law(NewOffsetExponential(units.Time(a[0]), units.Voltage(a[1]), units.Voltage(a[2])))
			}, false},
		{"Exponentials", "Sum of two exponentials Σ a·e^(−t/τ); the weights are divided by their sum.",
			[]compute.Arg{{Name: "a1", Unit: "1", Doc: "weight", Low: 1e-12, High: 1e12}, argTime("tau1", "relaxation time"),
				{Name: "a2", Unit: "1", Doc: "weight", Low: 1e-12, High: 1e12}, argTime("tau2", "relaxation time")},
			nil, derived("superposition of linear leaks"),
			func(a []float64) (Law, error) {
				return law(NewExponentials([]float64{a[0], a[2]}, []units.Time{units.Time(a[1]), units.Time(a[3])}))
			}, false},
		{"Stretched", "Stretched exponential exp[−(t/τ)^β].",
			[]compute.Arg{argTime("tau", "time of the law"), {Name: "beta", Unit: "1", Doc: "exponent", Low: 0.01, High: 1}}, nil,
			known.Source{Provenance: known.Published, Cite: "G. Williams and D. C. Watts, Trans. Faraday Soc. 66 (1970) 80, doi:10.1039/tf9706600080"},
			func(a []float64) (Law, error) { return law(NewStretched(units.Time(a[0]), a[1])) }, false},
		{"PowerLaw", "Power law (1 + t/t0)^(−n).",
			[]compute.Arg{argTime("t0", "time of the law"), {Name: "n", Unit: "1", Doc: "exponent", Low: 1e-3, High: 100}}, nil,
			derived("definition"),
			func(a []float64) (Law, error) { return law(NewPowerLaw(units.Time(a[0]), a[1])) }, false},
		{"Hyperbolic", "Second-order loss 1/(1 + kV0·t).",
			[]compute.Arg{{Name: "k_v0", Unit: "1/s", Doc: "rate constant k·V0", Low: 1e-15, High: 1e15}}, nil,
			derived("solution of dV/dt = −k·V²"),
			func(a []float64) (Law, error) { return law(NewHyperbolic(a[0])) }, false},
		{"OhmicMobility", "Ohmic leak with mobile charge, e^(−t/τ)/[1 + a(1 − e^(−t/τ))].",
			[]compute.Arg{argTime("tau", "ohmic relaxation time"), {Name: "a", Unit: "1", Doc: "k·V0·τ", Low: 0, High: 1e12}}, nil,
			derived("solution of dV/dt = −V/τ − k·V²"),
			func(a []float64) (Law, error) { return law(NewOhmicMobility(units.Time(a[0]), a[1])) }, false},
		{"CurieSchweidler", "Absorption current ∝ t^(−n): 1 − A·t^(1−n)/((1−n)V0), small drops only.",
			[]compute.Arg{{Name: "n", Unit: "1", Doc: "exponent of the current", Low: 0, High: 0.99}, {Name: "a", Unit: "V·s^(n−1)", Doc: "constant of the current over capacitance", Low: 1e-12, High: 1e9}, argVolts("v0", "start voltage")},
			[]string{"CurieSchweidler.Validity"}, derived("integral of the current law"),
			func(a []float64) (Law, error) { return law(NewCurieSchweidler(a[0], a[1], units.Voltage(a[2]))) }, true},
		{"Logarithmic", "Logarithmic fall 1 − (B/V0)·ln(1 + t/t0), small drops only.",
			[]compute.Arg{argVolts("b", "voltage lost per factor e of time"), argVolts("v0", "start voltage"), argTime("t0", "time of the law")},
			[]string{"Logarithmic.Validity"}, derived("definition"),
			func(a []float64) (Law, error) {
				return law(NewLogarithmic(units.Voltage(a[0]), units.Voltage(a[1]), units.Time(a[2])))
			}, true},
		{"Transit", "Charge crossing a film on earth with a velocity ∝ E^m.",
			[]compute.Arg{argTime("t_tr", "transit time"), {Name: "m", Unit: "1", Doc: "exponent of the velocity", Low: 0.1, High: 10}}, nil,
			derived("fan solution of ∂E/∂t + v(E)·∂E/∂x = 0"),
			func(a []float64) (Law, error) { return law(NewTransit(units.Time(a[0]), a[1])) }, false},
		{"FreeStripe", "Centre of a stripe on a free sheet, (2/π)·atan(a/vt).", argSpread(), nil, freeSheet,
			func(a []float64) (Law, error) { return law(NewFreeStripe(units.Length(a[0]), units.Speed(a[1]))) }, false},
		{"FreeDisc", "Centre of a disc on a free sheet, 1 − vt/√(a² + v²t²).", argSpread(), nil, freeSheet,
			func(a []float64) (Law, error) { return law(NewFreeDisc(units.Length(a[0]), units.Speed(a[1]))) }, false},
		{"LineUnderProbe", "Probe over a line of charge on a free sheet, 1/(1 + vt/h).", argSpread(), nil, freeSheet,
			func(a []float64) (Law, error) { return law(NewLineUnderProbe(units.Length(a[0]), units.Speed(a[1]))) }, false},
		{"SpotUnderProbe", "Probe over a spot of charge on a free sheet, 1/(1 + vt/h)².", argSpread(), nil, freeSheet,
			func(a []float64) (Law, error) { return law(NewSpotUnderProbe(units.Length(a[0]), units.Speed(a[1]))) }, false},
	} {
		list = append(list, l.entries()...)
	}
	return append(list,
		compute.Entry{
			Name: "decay.Stretched.MeanTime", Doc: "Area under the stretched exponential, (τ/β)·Γ(1/β).",
			Args:    []compute.Arg{argTime("tau", "time of the law"), {Name: "beta", Unit: "1", Doc: "exponent", Low: 0.01, High: 1}},
			Results: []compute.Arg{resTime("t", "mean time")},
			Covers:  []string{"Stretched.MeanTime"},
			Source:  derived("integral of exp[−(t/τ)^β] over t"),
			Eval: func(dst, a []float64) error {
				l, err := NewStretched(units.Time(a[0]), a[1])
				dst[0] = float64(l.MeanTime())
				return err
			},
		},
		compute.Entry{
			Name: "decay.HyperbolicThrough", Doc: "Rate constant kV0 of the hyperbola that leaves a fraction after a time, (1/f − 1)/t.",
			Args:    []compute.Arg{{Name: "fraction", Unit: "1", Doc: "left", Low: 1e-12, High: 1 - 1e-12}, argTime("t", "time")},
			Results: []compute.Arg{{Name: "k_v0", Unit: "1/s", Doc: "rate constant", Low: 0, High: 1e308}},
			Covers:  []string{"HyperbolicThrough", "Hyperbolic.RateConstant"},
			Source:  derived("inverse of 1/(1 + kV0·t)"),
			Eval: func(dst, a []float64) error {
				l, err := HyperbolicThrough(a[0], units.Time(a[1]))
				dst[0] = l.RateConstant()
				return err
			},
		},
		compute.Entry{
			Name: "decay.TransitVoltage", Doc: "Voltage of a corona-charged film on earth while its charge crosses with constant mobility.",
			Args: []compute.Arg{argLength("thickness", "of the film"), {Name: "mobility", Unit: "m²/(V·s)", Doc: "in the film", Low: 1e-22, High: 1}, argVolts("v0", "start voltage"), argAge("t", "time")},
			Results: []compute.Arg{{Name: "t_tr", Unit: "s", Doc: "transit time L²/(µV0)", Low: 0, High: 1e308},
				{Name: "v", Unit: "V", Doc: "voltage", Low: 0, High: 1e9}},
			Covers: []string{"TransitTime", "NewTransit", "Transit.Fraction"},
			Source: derived("fan solution of ∂E/∂t + µE·∂E/∂x = 0"),
			Eval: func(dst, a []float64) error {
				tt := TransitTime(units.Length(a[0]), units.Mobility(a[1]), units.Voltage(a[2]))
				l, err := NewTransit(tt, 1)
				if err != nil {
					return err
				}
				dst[0], dst[1] = float64(tt), a[2]*l.Fraction(units.Time(a[3]))
				return nil
			},
		},
		compute.Entry{
			Name: "decay.After", Doc: "Stretched exponential seen by somebody who begins to measure at an age, f(age + t)/f(age).",
			Args:    []compute.Arg{argTime("tau", "time of the law"), {Name: "beta", Unit: "1", Doc: "exponent", Low: 0.01, High: 1}, argAge("age", "at the first reading"), argTime("t", "since the first reading")},
			Results: []compute.Arg{resRatio("fraction", "of the first reading"), {Name: "rate", Unit: "1/s", Doc: "its derivative", Low: -1e308, High: 1e308}},
			Covers:  []string{"After", "Later.Fraction", "Later.Rate"},
			Source:  derived("quotient of two values of the law"),
			Eval: func(dst, a []float64) error {
				l, err := NewStretched(units.Time(a[0]), a[1])
				if err != nil {
					return err
				}
				later, err := After(l, units.Time(a[2]))
				if err != nil {
					return err
				}
				dst[0], dst[1] = later.Fraction(units.Time(a[3])), later.Rate(units.Time(a[3]))
				return nil
			},
		},
		compute.Entry{
			Name: "decay.Compose", Doc: "Two exponentials: both at once (Parallel), side by side half and half (Mixture), the second after the first (Then).",
			Args: []compute.Arg{argTime("tau1", "first"), argTime("tau2", "second"), argAge("until", "time of the first in the sequence"), argAge("t", "time")},
			Results: []compute.Arg{resRatio("parallel", "product"), resRatio("mixture", "mean"), resRatio("sequence", "one after the other"),
				{Name: "rate_parallel", Unit: "1/s", Doc: "derivative", Low: -1e308, High: 1e308}, {Name: "rate_mixture", Unit: "1/s", Doc: "derivative", Low: -1e308, High: 1e308}, {Name: "rate_sequence", Unit: "1/s", Doc: "derivative", Low: -1e308, High: 1e308}},
			Covers: []string{"NewParallel", "Parallel.Fraction", "Parallel.Rate", "NewMixture", "Mixture.Fraction", "Mixture.Rate", "Then",
				"Sequence.Fraction", "Sequence.Rate", "Function.Fraction"},
			Source: derived("product, mean and sequence of exponentials"),
			Eval: func(dst, a []float64) error {
				x, err := NewExponential(units.Time(a[0]))
				if err != nil {
					return err
				}
				y, err := NewExponential(units.Time(a[1]))
				if err != nil {
					return err
				}
				p, _ := NewParallel(x, y)
				m, _ := NewMixture([]float64{1, 1}, x, y)
				s, err := Then(x, units.Time(a[2]), y)
				t := units.Time(a[3])
				dst[0], dst[1], dst[2] = p.Fraction(t), m.Fraction(t), s.Fraction(t)
				dst[3], dst[4], dst[5] = p.Rate(t), m.Rate(t), s.Rate(t)
				return err
			},
		})
}
