package decay

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func argsLayer(n string) []compute.Arg {
	return []compute.Arg{argLength("d"+n, "thickness"), argEps("epsr" + n), argRho("rho" + n)}
}

func layerOf(a []float64) Layer {
	return Layer{units.Length(a[0]), a[1], units.VolumeResistivity(a[2])}
}

func args(lists ...[]compute.Arg) []compute.Arg {
	var all []compute.Arg
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

func argSigma() compute.Arg {
	return compute.Arg{Name: "sigma", Unit: "C/m²", Doc: "charge density", Low: -1, High: 1}
}

func argSheet(name string) compute.Arg {
	return compute.Arg{Name: name, Unit: "Ω", Doc: "surface resistivity of the face, per square; 0 for none", Low: 0, High: 1e24}
}

func layerEntries() []compute.Entry {
	laplace := derived("Laplace's equation with charge conservation at each face")
	return []compute.Entry{
		{
			Name: "decay.InterfaceTime", Doc: "Relaxation time of charge on the interface of two layers with earthed outer faces.",
			Args:    args(argsLayer("1"), argsLayer("2")),
			Results: []compute.Arg{resTime("tau", "relaxation time")},
			Covers:  []string{"InterfaceTime", "Layer.Check"}, Source: laplace,
			Eval: func(dst, a []float64) error {
				t, err := InterfaceTime(layerOf(a), layerOf(a[3:]))
				dst[0] = float64(t)
				return err
			},
		},
		{
			Name: "decay.ProbeTime", Doc: "Relaxation time of charge on a film on earth under an earthed probe, ρ·ε0·(εr + d/g).",
			Args:    append(argsLayer(""), argLength("gap", "air gap to the probe")),
			Results: []compute.Arg{resTime("tau", "relaxation time")},
			Covers:  []string{"ProbeTime"}, Source: laplace,
			Eval: func(dst, a []float64) error {
				t, err := ProbeTime(layerOf(a), units.Length(a[3]))
				dst[0] = float64(t)
				return err
			},
		},
		{
			Name: "decay.Stack.Voltage", Doc: "Surface voltage of two layers on earth, (σ/ε0)·Σ (d/εr)·e^(−t/τ).",
			Args:    args(argsLayer("1"), argsLayer("2"), []compute.Arg{argSigma(), argAge("t", "time")}),
			Results: []compute.Arg{{Name: "v", Unit: "V", Doc: "voltage of the top face", Low: -1e308, High: 1e308}, resRatio("weight1", "share of the first layer at the start"), resTime("tau1", "its relaxation time")},
			Covers:  []string{"NewStack", "Stack.Voltage", "Stack.Law", "Exponentials.Term"}, Source: laplace,
			Eval: func(dst, a []float64) error {
				s, err := NewStack(layerOf(a), layerOf(a[3:]))
				if err != nil {
					return err
				}
				dst[0] = float64(s.Voltage(units.SurfaceChargeDensity(a[6]), units.Time(a[7])))
				w, tau := s.Law().Term(0)
				dst[1], dst[2] = w, float64(tau)
				return nil
			},
		},
		{
			Name: "decay.FilmModes", Doc: "Net-charge and opposite-faces relaxation times of a film in a free span, bulk conduction only.",
			Args: append(argsLayer(""), argLength("wavelength", "of the charge along the film")),
			Results: []compute.Arg{resTime("even", "net charge"), resTime("odd", "faces opposite"),
				resRatio("even_over_bulk", "in bulk relaxation times"), resRatio("odd_over_bulk", "in bulk relaxation times")},
			Covers: []string{"FilmModes"}, Source: laplace,
			Eval: func(dst, a []float64) error {
				l := layerOf(a)
				e, o, err := FilmModes(l, units.Length(a[3]))
				dst[0], dst[1] = float64(e), float64(o)
				dst[2], dst[3] = dst[0]/float64(l.Tau()), dst[1]/float64(l.Tau())
				return err
			},
		},
		{
			Name: "decay.FloatingFilm", Doc: "Charge of both faces of a film in a free span, bulk and unequal surface conduction.",
			Args: args(argsLayer(""), []compute.Arg{argSheet("face_a"), argSheet("face_b"), argLength("wavelength", "of the charge along the film"),
				{Name: "sigma_a", Unit: "C/m²", Doc: "amplitude on face A", Low: -1, High: 1}, {Name: "sigma_b", Unit: "C/m²", Doc: "amplitude on face B", Low: -1, High: 1}, argAge("t", "time")}),
			Results: []compute.Arg{resTime("slow", "time of the slower mode"), resTime("fast", "time of the faster mode"),
				{Name: "sigma_a", Unit: "C/m²", Doc: "left on face A", Low: -10, High: 10}, {Name: "sigma_b", Unit: "C/m²", Doc: "left on face B", Low: -10, High: 10}},
			Covers: []string{"NewFloatingFilm", "FloatingFilm.Slow", "FloatingFilm.Fast", "FloatingFilm.At"}, Source: laplace,
			Eval: func(dst, a []float64) error {
				f, err := NewFloatingFilm(Film{layerOf(a), units.SheetResistance(a[3]), units.SheetResistance(a[4])}, units.Length(a[5]))
				if err != nil {
					return err
				}
				x, y := f.At(units.Time(a[8]), units.SurfaceChargeDensity(a[6]), units.SurfaceChargeDensity(a[7]))
				dst[0], dst[1], dst[2], dst[3] = float64(f.Slow().Tau), float64(f.Fast().Tau), float64(x), float64(y)
				return nil
			},
		},
	}
}

func liquidEntries() []compute.Entry {
	return []compute.Entry{
		{
			Name: "decay.Liquid", Doc: "Ohmic relaxation time of a liquid, τ = ε0·εr/κ, refused below 2 pS/m.",
			Args:    []compute.Arg{{Name: "kappa", Unit: "S/m", Doc: "rest conductivity", Low: 2e-12, High: 100}, {Name: "epsr", Unit: "1", Doc: "relative permittivity", Low: 1, High: 200}},
			Results: []compute.Arg{resTime("tau", "relaxation time"), resTime("slowed_least", "3τ"), resTime("slowed_most", "4τ")},
			Covers:  []string{"NewLiquid", "Liquid.Tau", "Liquid.Law", "Liquid.SlowedTime"},
			Source:  derived("charge conservation with J = κE"),
			Eval: func(dst, a []float64) error {
				l, err := NewLiquid(units.Conductivity(a[0]), a[1])
				lo, hi := l.SlowedTime()
				dst[0], dst[1], dst[2] = float64(l.Law().Tau()), float64(lo), float64(hi)
				return err
			},
		},
		{
			Name: "decay.NewLowConductivityLiquid", Doc: "Rate constant µ·q0/(ε0·εr) of the hyperbolic loss of a charged liquid below 2 pS/m.",
			Args: []compute.Arg{{Name: "mobility", Unit: "m²/(V·s)", Doc: "of the carriers", Low: 1e-15, High: 1e-3}, {Name: "q0", Unit: "C/m³", Doc: "start charge density", Low: 1e-15, High: 1e3},
				{Name: "epsr", Unit: "1", Doc: "relative permittivity", Low: 1, High: 200}},
			Results: []compute.Arg{{Name: "k_q0", Unit: "1/s", Doc: "rate constant", Low: 0, High: 1e308}},
			Covers:  []string{"NewLowConductivityLiquid"},
			Source:  derived("dq/dt = −µq²/ε from div E = q/ε and J = µqE"),
			Eval: func(dst, a []float64) error {
				l, err := NewLowConductivityLiquid(units.Mobility(a[0]), units.VolumeChargeDensity(a[1]), a[2])
				dst[0] = l.RateConstant()
				return err
			},
		},
	}
}

func methodEntries() []compute.Entry {
	return append(geometryEntries(), standardEntries()...)
}

func geometryEntries() []compute.Entry {
	plane := derived("current flow in a uniform thin sheet")
	diameters := []compute.Arg{argLength("d1", "inner diameter"), argLength("d2", "outer diameter, greater")}
	factor := []compute.Arg{resRatio("factor", "squares, ρs = factor·R")}
	electrode := func(dst []float64, e Electrode, err error) error {
		dst[0] = e.Factor()
		return err
	}
	return []compute.Entry{
		{
			Name: "decay.NewRing", Doc: "Factor of a concentric ring electrode, 2π/ln(d2/d1).", Args: diameters, Results: factor,
			Covers: []string{"NewRing", "Electrode.Factor"}, Source: plane,
			Eval: func(dst, a []float64) error {
				e, err := NewRing(units.Length(a[0]), units.Length(a[1]))
				return electrode(dst, e, err)
			},
		},
		{
			Name: "decay.NewRingMeanDiameter", Doc: "Mean-diameter factor of a ring electrode, π(d1+d2)/(d2−d1).", Args: diameters, Results: factor,
			Covers: []string{"NewRingMeanDiameter"}, Source: known.Source{Provenance: known.Memory, Cite: "IEC 60093, ASTM D257", Note: "form from memory"},
			Eval: func(dst, a []float64) error {
				e, err := NewRingMeanDiameter(units.Length(a[0]), units.Length(a[1]))
				return electrode(dst, e, err)
			},
		},
		{
			Name: "decay.NewBars", Doc: "Factor of parallel blades or bars, length/gap.",
			Args: []compute.Arg{argLength("length", "of the bars"), argLength("gap", "between them")}, Results: factor,
			Covers: []string{"NewBars"}, Source: plane,
			Eval: func(dst, a []float64) error {
				e, err := NewBars(units.Length(a[0]), units.Length(a[1]))
				return electrode(dst, e, err)
			},
		},
		{
			Name: "decay.GuardedElectrode.Resistivity", Doc: "Volume resistivity by a guarded electrode, R·A/d with the area of the mean diameter.",
			Args:    append(diameters[:2:2], compute.Arg{Name: "r", Unit: "Ω", Doc: "resistance through the specimen", Low: 1e-3, High: 1e24}, argLength("thickness", "of the specimen")),
			Results: []compute.Arg{{Name: "area", Unit: "m²", Doc: "effective area", Low: 0, High: 1e308}, {Name: "rho", Unit: "Ω·m", Doc: "volume resistivity", Low: 0, High: 1e308}},
			Covers:  []string{"NewGuardedElectrode", "GuardedElectrode.Area", "GuardedElectrode.Resistivity"}, Source: plane,
			Eval: func(dst, a []float64) error {
				e, err := NewGuardedElectrode(units.Length(a[0]), units.Length(a[1]))
				if err != nil {
					return err
				}
				dst[0], dst[1] = float64(e.Area()), float64(e.Resistivity(units.Resistance(a[2]), units.Length(a[3])))
				return nil
			},
		},
		{
			Name: "decay.PlateDecayTime", Doc: "Fall of a charged plate towards a balance voltage, τ·ln[(v0−vb)/(v1−vb)].",
			Args:    []compute.Arg{argTime("tau", "time constant"), argVolts("v0", "start"), argVolts("v1", "end"), {Name: "vb", Unit: "V", Doc: "balance", Low: -1e9, High: 1e9}},
			Results: []compute.Arg{resTime("t", "decay time")},
			Covers:  []string{"PlateDecayTime"}, Source: derived("solution of dV/dt = −(V − Vb)/τ"),
			Eval: func(dst, a []float64) error {
				t, err := PlateDecayTime(units.Time(a[0]), units.Voltage(a[1]), units.Voltage(a[2]), units.Voltage(a[3]))
				dst[0] = float64(t)
				return err
			},
		},
		{
			Name: "decay.LeastLeakage", Doc: "Least leakage of a plate for a loss in a time, t/(C·ln(1/(1−loss))).",
			Args:    []compute.Arg{{Name: "c", Unit: "F", Doc: "capacitance", Low: 1e-15, High: 1}, {Name: "loss", Unit: "1", Doc: "greatest fraction lost", Low: 1e-9, High: 1 - 1e-9}, argTime("t", "time")},
			Results: []compute.Arg{{Name: "r", Unit: "Ω", Doc: "least leakage resistance", Low: 0, High: 1e308}},
			Covers:  []string{"LeastLeakage"}, Source: derived("e^(−t/RC)"),
			Eval: func(dst, a []float64) error {
				dst[0] = float64(LeastLeakage(units.Capacitance(a[0]), a[1], units.Time(a[2])))
				return nil
			},
		},
		{
			Name: "decay.PlateMonitor", Doc: "Charged plate: own time constant, time constant corrected for it, and fall under an ion current that saturates, i = g·V/(1 + V/vs).",
			Args: []compute.Arg{{Name: "c", Unit: "F", Doc: "capacitance", Low: 1e-15, High: 1}, {Name: "r", Unit: "Ω", Doc: "leakage", Low: 1, High: 1e20},
				argTime("measured", "measured time constant, less than RC"), {Name: "g", Unit: "S", Doc: "conductance of the air at low voltage", Low: 1e-18, High: 1}, argVolts("vs", "voltage of saturation"),
				argVolts("v0", "start"), argVolts("v1", "end, less than the start")},
			Results: []compute.Arg{resTime("self", "RC"), resTime("corrected", "without the own leakage"), resTime("fall", "v0 to v1")},
			Covers:  []string{"NewPlateMonitor", "PlateMonitor.SelfTime", "PlateMonitor.Corrected", "PlateMonitor.DischargeTime"},
			Source:  derived("charge balance of the plate, C·dV/dt = −i(V) − V/R"),
			Eval: func(dst, a []float64) error {
				p, err := NewPlateMonitor(units.Capacitance(a[0]), units.Resistance(a[1]))
				if err != nil {
					return err
				}
				c, err := p.Corrected(units.Time(a[2]))
				if err != nil {
					return err
				}
				t, err := p.DischargeTime(func(v units.Voltage) units.Current {
					return units.Current(a[3] * float64(v) / (1 + math.Abs(float64(v))/a[4]))
				}, units.Voltage(a[5]), units.Voltage(a[6]))
				dst[0], dst[1], dst[2] = float64(p.SelfTime()), float64(c), float64(t)
				return err
			},
		},
		{
			Name: "decay.Swing", Doc: "Swing of a plate under an alternating source, amplitude/√(1 + (2πfτ)²).",
			Args:    []compute.Arg{{Name: "amplitude", Unit: "V", Doc: "at rest", Low: 0, High: 1e9}, {Name: "f", Unit: "1/s", Doc: "frequency", Low: 0, High: 1e9}, argAge("tau", "time constant of the discharge")},
			Results: []compute.Arg{{Name: "v", Unit: "V", Doc: "half of peak to peak", Low: 0, High: 1e9}},
			Covers:  []string{"Swing"}, Source: derived("first-order low pass"),
			Eval: func(dst, a []float64) error {
				dst[0] = float64(Swing(units.Voltage(a[0]), units.Frequency(a[1]), units.Time(a[2])))
				return nil
			},
		},
		{
			Name: "decay.PlateGapCapacitance", Doc: "Square plate over an earthed plane without fringes, ε0·side²/gap.",
			Args:    []compute.Arg{argLength("side", "of the plate"), argLength("gap", "to earth")},
			Results: []compute.Arg{{Name: "c", Unit: "F", Doc: "capacitance", Low: 0, High: 1e308}},
			Covers:  []string{"PlateGapCapacitance"}, Source: derived("uniform field"),
			Eval: func(dst, a []float64) error {
				dst[0] = float64(PlateGapCapacitance(units.Length(a[0]), units.Length(a[1])))
				return nil
			},
		},
		{
			Name: "decay.LimitTau", Doc: "Relaxation time that just passes a decay limit, t/ln(1/f).",
			Args:    []compute.Arg{{Name: "fraction", Unit: "1", Doc: "to be reached", Low: 1e-12, High: 1 - 1e-12}, argTime("t", "within")},
			Results: []compute.Arg{resTime("tau", "relaxation time")},
			Covers:  []string{"LimitTau"}, Source: derived("e^(−t/τ) = f"),
			Eval: func(dst, a []float64) error {
				dst[0] = float64(LimitTau(a[0], units.Time(a[1])))
				return nil
			},
		},
	}
}
