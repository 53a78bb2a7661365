package sheet

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// derivedSource is the provenance of laws that follow from Gauss's and Ohm's
// law as the doc comment shows.
func derivedSource(how string) known.Source {
	return known.Source{Provenance: known.Computed, Cite: how}
}

func sheetArg(name, unit, doc string, low, high float64) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: low, High: high}
}

func sheetResult(name, unit, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: -1e308, High: 1e308}
}

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	rhoS := sheetArg("rho_s", "Ω", "surface resistivity per square", 1, 1e20)
	eps := sheetArg("eps_r", "1", "relative permittivity of the film", 1, 1e4)
	crank := known.Source{Provenance: known.Memory, Cite: "J. Crank, The Mathematics of Diffusion, 2nd ed., Oxford 1975, ch. 4 and 5",
		Note: "the series are derived by separation and checked against the differential equation"}
	return []compute.Entry{
		{
			Name: "decay.SpreadingSpeed", Doc: "speed at which charge spreads on a free sheet, 1/(2 ε0 ρ_s)",
			Args: []compute.Arg{rhoS}, Results: []compute.Arg{sheetResult("speed", "m/s", "v_s")},
			Covers: []string{"SpreadingSpeed"}, Source: derivedSource("Gauss's law on both faces, Ohm's law in the sheet, continuity"),
			Eval: func(r, a []float64) error {
				r[0] = float64(SpreadingSpeed(units.SheetResistance(a[0])))
				return nil
			},
		},
		{
			Name: "decay.UpWebShare", Doc: "share of a deposit up-web of its place on an endless free web, (1/π)·atan(v_s/U)",
			Args:    []compute.Arg{sheetArg("v_s", "m/s", "spreading speed", 0, 1e9), sheetArg("u", "m/s", "speed of the web", 0, 1e3)},
			Results: []compute.Arg{sheetResult("share", "1", "share up-web")},
			Covers:  []string{"UpWebShare"}, Source: derivedSource("integral of the moving Lorentzian"),
			Eval: func(r, a []float64) error {
				r[0] = UpWebShare(units.Speed(a[0]), units.Speed(a[1]))
				return nil
			},
		},
		{
			Name: "decay.SheetDiffusivity", Doc: "diffusivity of charge on a film on earth, D = d/(ρ_s ε0 ε_r)",
			Args:    []compute.Arg{sheetArg("d", "m", "thickness", 1e-9, 1), rhoS, eps},
			Results: []compute.Arg{sheetResult("diffusivity", "m2/s", "D")},
			Covers:  []string{"SheetDiffusivity"}, Source: derivedSource("plate capacitor per area, Ohm's law, continuity"),
			Eval: func(r, a []float64) error {
				r[0] = float64(SheetDiffusivity(units.Length(a[0]), units.SheetResistance(a[1]), a[2]))
				return nil
			},
		},
		{
			Name: "decay.Sheet", Doc: "decay rate of a charge wave on a resistive sheet, [k²/ρ_s + (k/ρ_v) coth kd + γ k coth kh]/{ε0 k [coth kh + ε_r coth kd]}; zero resistivity, plate distance or conductivity means none",
			Args: []compute.Arg{
				{Name: "support", Unit: "1", Doc: "what is behind the charged face", Low: 0, High: 2, Choices: []string{"on earth", "free span", "thick dielectric"}},
				sheetArg("d", "m", "thickness", 0, 1), eps,
				sheetArg("rho_s", "Ω", "surface resistivity, 0 none", 0, 1e20), sheetArg("rho_v", "Ω·m", "volume resistivity, 0 none", 0, 1e24),
				sheetArg("h", "m", "distance of an earthed plate, 0 none", 0, 100), sheetArg("air", "S/m", "conductivity of the air", 0, 1e-6),
				sheetArg("wavelength", "m", "of the charge wave", 1e-9, 1e6),
			},
			Results: []compute.Arg{sheetResult("rate", "1/s", "decay rate"), sheetResult("time_constant", "s", "1/rate, 1e308 if it does not decay"), sheetResult("near_earth_d", "m2/s", "diffusivity of the near-earth limit, -1 off earth"), sheetResult("free_over_this", "1", "rate of a thin free sheet of the same ρ_s over this rate, 0 if either does not decay")},
			Covers:  []string{"NewSheet", "Sheet.Rate", "Sheet.RatesTo", "Sheet.TimeConstant", "Sheet.NearEarth", "Sheet.Spec", "Sheet.Decays"},
			Source:  derivedSource("quasi-static solution in uniform layers"),
			Eval: func(r, a []float64) error {
				s, err := NewSheet(SheetSpec{Support: Support(a[0]), Thickness: units.Length(a[1]), RelativePermittivity: a[2],
					SurfaceResistivity: units.SheetResistance(a[3]), VolumeResistivity: units.VolumeResistivity(a[4]),
					PlateDistance: units.Length(a[5]), AirConductivity: units.Conductivity(a[6])})
				if err != nil {
					return err
				}
				r[0] = float64(s.Rate(2 * math.Pi / a[7]))
				r[1] = math.Min(float64(s.TimeConstant(units.Length(a[7]))), 1e308)
				d, _ := s.NearEarth(units.Length(a[7]))
				if r[2] = float64(d); math.IsNaN(r[2]) {
					r[2] = -1
				}
				if r[3] = 0; a[3] > 0 && r[0] > 0 {
					r[3] = 2 * math.Pi / a[7] * float64(SpreadingSpeed(units.SheetResistance(a[3]))) / r[0]
				}
				return nil
			},
		},
		{
			Name: "decay.EarthedStrip", Doc: "uniform charge on a strip close to earth, earthed at its edges: series of Crank",
			Args: []compute.Arg{sheetArg("width", "m", "across", 1e-6, 1e4), sheetArg("diffusivity", "m2/s", "of the charge", 1e-12, 1e6),
				{Name: "edges", Unit: "1", Doc: "which edges are earthed", Low: 0, High: 1, Choices: []string{"both", "one"}},
				sheetArg("contact_length", "m", "contact resistance times edge over ρ_s", 0, 1e6),
				sheetArg("t", "s", "time", 0, 1e12), sheetArg("x", "m", "from an earthed edge", 0, 1e4), sheetArg("fraction", "1", "for the times", 1e-9, 1-1e-9)},
			Results: []compute.Arg{sheetResult("time_constant", "s", "of the slowest mode"), sheetResult("mean", "1", "share left"), sheetResult("at_x", "1", "σ/σ0 at x"),
				sheetResult("mean_time", "s", "until the share is fraction"), sheetResult("far_time", "s", "until the furthest point is at fraction"), sheetResult("square_mean", "1", "share left on a square of this width")},
			Covers: []string{"NewEarthedStrip", "EarthedStrip.TimeConstant", "EarthedStrip.MeanAt", "EarthedStrip.At", "EarthedStrip.MeanTime", "EarthedStrip.FarTime", "EarthedStrip.Biot", "RectangleMean"},
			Source: crank,
			Eval: func(r, a []float64) error {
				s, err := NewEarthedStrip(StripSpec{Width: units.Length(a[0]), Diffusivity: units.Diffusivity(a[1]), OneEdge: a[2] == 1, ContactLength: units.Length(a[3])})
				if err != nil {
					return err
				}
				t := units.Time(a[4])
				r[0], r[1], r[2] = float64(s.TimeConstant()), s.MeanAt(t), s.At(units.Length(a[5]), t)
				r[3], r[4], r[5] = float64(s.MeanTime(a[6])), float64(s.FarTime(a[6])), RectangleMean(s, s, t)
				if math.IsNaN(r[2]) {
					return known.Wrong("x", a[5], "0 … width, and with a contact resistance D t/b² of 2e-4 or more")
				}
				return nil
			},
		},
		{
			Name: "decay.EarthedDisc", Doc: "uniform charge on a disc close to earth, earthed at its rim: series of Crank",
			Args:    []compute.Arg{sheetArg("radius", "m", "of the disc", 1e-6, 1e4), sheetArg("diffusivity", "m2/s", "of the charge", 1e-12, 1e6), sheetArg("t", "s", "time", 0, 1e12), sheetArg("fraction", "1", "for the times", 1e-9, 1-1e-9)},
			Results: []compute.Arg{sheetResult("time_constant", "s", "of the slowest mode"), sheetResult("mean", "1", "share left"), sheetResult("centre", "1", "σ/σ0 at the centre"), sheetResult("mean_time", "s", "until the share is fraction"), sheetResult("centre_time", "s", "until the centre is at fraction")},
			Covers:  []string{"NewEarthedDisc", "EarthedDisc.TimeConstant", "EarthedDisc.MeanAt", "EarthedDisc.CentreAt", "EarthedDisc.MeanTime", "EarthedDisc.CentreTime"},
			Source:  crank,
			Eval: func(r, a []float64) error {
				s, err := NewEarthedDisc(units.Length(a[0]), units.Diffusivity(a[1]))
				if err != nil {
					return err
				}
				t := units.Time(a[2])
				r[0], r[1], r[2] = float64(s.TimeConstant()), s.MeanAt(t), s.CentreAt(t)
				r[3], r[4] = float64(s.MeanTime(a[3])), float64(s.CentreTime(a[3]))
				return nil
			},
		},
		freeSheetEntry(), recededEntry(), slotEntry(), chargeMapEntry(), localWebEntry(), nearEarthEntry(), freeSpanEntry(),
	}
}

func freeSheetEntry() compute.Entry {
	return compute.Entry{
		Name: "decay.FreeSheet", Doc: "closed forms of charge on a sheet far from earth after it has receded by v_s t",
		Args: []compute.Arg{sheetArg("x", "m", "distance from the middle", -1e4, 1e4), sheetArg("a", "m", "half-width, radius, width of the Gaussian or height of the probe", 1e-9, 1e4),
			sheetArg("receded", "m", "v_s t", 1e-12, 1e9), sheetArg("period", "m", "of equal lines or stripes, at least 2a", 1e-9, 1e6)},
		Results: []compute.Arg{sheetResult("line", "1/m", "σ/λ of a line"), sheetResult("point", "1/m2", "σ/q of a point"), sheetResult("step", "1", "σ/σ0"), sheetResult("stripe", "1", "σ/σ0"),
			sheetResult("disc_centre", "1", "σ/σ0"), sheetResult("gaussian_stripe", "1", "σ/σ0 at the middle"), sheetResult("gaussian_spot", "1", "σ/σ0 at the middle"),
			sheetResult("probe_line", "1", "reading over the first"), sheetResult("probe_spot", "1", "reading over the first"), sheetResult("lines", "1/m", "σ/λ of periodic lines"), sheetResult("stripes", "1", "σ/σ0 of periodic stripes")},
		Covers: []string{"LineOnFreeSheet", "PointOnFreeSheet", "StepOnFreeSheet", "StripeOnFreeSheet", "DiscCentreOnFreeSheet", "GaussianStripeCentre", "GaussianSpotCentre",
			"ProbeOverLine", "ProbeOverSpot", "LinesOnFreeSheet", "StripesOnFreeSheet"},
		Source: derivedSource("receding image of the charge, and its integrals"),
		Eval: func(r, a []float64) error {
			x, w, h, l := units.Length(a[0]), units.Length(a[1]), units.Length(a[2]), units.Length(a[3])
			if !(l >= 2*w) {
				return known.Wrong("period", l, "at least 2a")
			}
			r[0], r[1] = float64(LineOnFreeSheet(units.LineChargeDensity(1), x, h)), float64(PointOnFreeSheet(units.Charge(1), x, h))
			r[2], r[3], r[4] = StepOnFreeSheet(x, h), StripeOnFreeSheet(x, w, h), DiscCentreOnFreeSheet(w, h)
			r[5], r[6] = GaussianStripeCentre(w, h), GaussianSpotCentre(w, h)
			r[7], r[8] = ProbeOverLine(w, h), ProbeOverSpot(w, h)
			r[9], r[10] = float64(LinesOnFreeSheet(units.LineChargeDensity(1), x, h, l)), StripesOnFreeSheet(x, w, h, l)
			return nil
		},
	}
}

func recededEntry() compute.Entry {
	return compute.Entry{
		Name: "decay.FreeSheetTime", Doc: "time until charge on a free sheet has fallen to a share, (v_s t)/v_s",
		Args: []compute.Arg{sheetArg("a", "m", "half-width, radius or height of the probe", 1e-9, 1e4), sheetArg("fraction", "1", "share left", 1e-9, 1-1e-9), sheetArg("rho_s", "Ω", "surface resistivity", 1, 1e20)},
		Results: []compute.Arg{sheetResult("stripe", "s", "middle of a stripe"), sheetResult("disc", "s", "middle of a disc"), sheetResult("probe_line", "s", "probe over a line"), sheetResult("probe_spot", "s", "probe over a spot"),
			sheetResult("stripe_receded", "1", "v_s t/a of the stripe"), sheetResult("disc_receded", "1", "v_s t/a of the disc")},
		Covers: []string{"StripeReceded", "DiscReceded", "ProbeReceded"}, Source: derivedSource("inverse of the closed forms"),
		Eval: func(r, a []float64) error {
			l, v := units.Length(a[0]), float64(SpreadingSpeed(units.SheetResistance(a[2])))
			r[0], r[1] = float64(StripeReceded(l, a[1]))/v, float64(DiscReceded(l, a[1]))/v
			r[2], r[3] = float64(ProbeReceded(l, a[1], false))/v, float64(ProbeReceded(l, a[1], true))/v
			r[4], r[5] = float64(StripeReceded(l, a[1]))/a[0], float64(DiscReceded(l, a[1]))/a[0]
			return nil
		},
	}
}

func slotEntry() compute.Entry {
	return compute.Entry{
		Name: "decay.Slot", Doc: "decay of a sheet that fills a slot or a round hole of an earthed plane, air on both faces: −∇²φ = μ(−∇²)^{1/2}φ",
		Args: []compute.Arg{sheetArg("width", "m", "of the slot, diameter of the hole", 1e-6, 1e4), sheetArg("rho_s", "Ω", "surface resistivity", 1, 1e20),
			{Name: "mode", Unit: "1", Doc: "0 is the slowest", Low: 0, High: 9, Choices: []string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9"}}, sheetArg("t", "s", "time", 0, 1e12)},
		Results: []compute.Arg{sheetResult("strip_mu", "1", "eigenvalue on the half-width"), sheetResult("strip_time", "s", "time constant of the slowest mode"), sheetResult("strip_mean", "1", "share of a uniform charge left"), sheetResult("strip_centre", "1", "σ/σ0 at the centre"),
			sheetResult("disc_mu", "1", "axisymmetric eigenvalue on the radius"), sheetResult("disc_time", "s", "time constant of the slowest mode"), sheetResult("disc_mean", "1", "share of a uniform charge left")},
		Covers: []string{"NewSlotStrip", "SlotStrip.Eigenvalue", "SlotStrip.Rate", "SlotStrip.TimeConstant", "SlotStrip.MeanAt", "SlotStrip.CentreAt",
			"NewSlotDisc", "SlotDisc.Eigenvalue", "SlotDisc.Rate", "SlotDisc.TimeConstant", "SlotDisc.MeanAt"},
		Source: known.Source{Provenance: known.Memory, Cite: "P. Henrici, B. A. Troesch, L. Wuytack, Z. angew. Math. Phys. 21 (1970) 285", Note: "the same eigenvalue problem; computed here"},
		Eval: func(r, a []float64) error {
			s, err := NewSlotStrip(units.Length(a[0]), units.SheetResistance(a[1]))
			if err != nil {
				return err
			}
			d, err := NewSlotDisc(units.Length(a[0]/2), units.SheetResistance(a[1]))
			if err != nil {
				return err
			}
			t := units.Time(a[3])
			r[0], r[1], r[2], r[3] = s.Eigenvalue(int(a[2])), float64(s.TimeConstant()), s.MeanAt(t), s.CentreAt(t)
			r[4], r[5], r[6] = d.Eigenvalue(int(a[2])), float64(d.TimeConstant()), d.MeanAt(t)
			return nil
		},
	}
}

func chargeMapEntry() compute.Entry {
	return compute.Entry{
		Name: "decay.ChargeMap", Doc: "spectral evolution of a Gaussian ridge or spot on a periodic free sheet, σ_k(t) = σ_k(0) e^{−k v_s t}",
		Args: []compute.Arg{{Name: "shape", Unit: "1", Doc: "of the charge", Low: 0, High: 1, Choices: []string{"ridge", "spot"}},
			sheetArg("width", "m", "standard deviation of the Gaussian", 1e-6, 1), sheetArg("side", "m", "period of the sheet, 20 … 100 widths", 1e-5, 100),
			sheetArg("rho_s", "Ω", "surface resistivity", 1, 1e20), sheetArg("t", "s", "time", 0, 1e12), sheetArg("probe", "m", "height of the probe of the view", 0, 10)},
		Results: []compute.Arg{sheetResult("peak", "1", "σ at the middle over its start"), sheetResult("mean", "1", "mean over that of the start"), sheetResult("probe_peak", "1", "field at the probe over the middle, in σ0/2ε0")},
		Covers:  []string{"NewChargeMap", "ChargeMap.MapTo", "ChargeMap.Mean", "ChargeMap.Len", "ProbeView", "RateFunc.Rate"},
		Source:  derivedSource("each wave decays at its own rate; against periodised closed forms"),
		Eval: func(r, a []float64) error {
			if !(a[2] >= 20*a[1] && a[2] <= 100*a[1]) {
				return known.Wrong("side", a[2], "20 … 100 widths")
			}
			// Waves beyond this mesh are below e^{−(π·width/pixel)²/2} < 1e-14.
			const n = 256
			rows := 1
			if a[0] == 1 {
				rows = n
			}
			v := make([]float64, n*rows)
			x := func(i int) float64 { return a[2] / n * float64(i-n/2) / a[1] }
			for i := range v {
				v[i] = math.Exp(-x(i%n) * x(i%n) / 2)
				if rows > 1 {
					v[i] *= math.Exp(-x(i/n) * x(i/n) / 2)
				}
			}
			vs := float64(SpreadingSpeed(units.SheetResistance(a[3])))
			spec := MapSpec{Charge: v, Rows: rows, Pixel: units.Length(a[2] / n), Law: RateFunc(func(k float64) units.Frequency { return units.Frequency(k * vs) })}
			for i, view := range []func(float64) float64{nil, ProbeView(units.Length(a[5]))} {
				spec.View = view
				m, err := NewChargeMap(spec)
				if err != nil {
					return err
				}
				dst := make([]float64, m.Len())
				if err := m.MapTo(dst, units.Time(a[4])); err != nil {
					return err
				}
				r[2*i] = dst[len(dst)/2]
				if rows > 1 {
					r[2*i] = dst[n/2*n+n/2]
				}
				if i == 0 {
					sum := 0.0
					for _, s := range dst {
						sum += s
					}
					r[1] = sum / float64(len(dst)) / m.Mean()
				}
			}
			return nil
		},
	}
}

func localWebEntry() compute.Entry {
	return compute.Entry{
		Name: "decay.WebRemaining", Doc: "share of its charge that a web still carries when charge leaks locally, exp(−L/(Uτ))",
		Args:    []compute.Arg{sheetArg("u", "m/s", "speed of the web", 1e-6, 1e3), sheetArg("length", "m", "of the path", 0, 1e5), sheetArg("tau", "s", "relaxation time", 1e-12, 1e15)},
		Results: []compute.Arg{sheetResult("share", "1", "left")}, Covers: []string{"WebRemaining"}, Source: derivedSource("U dσ/dx = −σ/τ"),
		Eval: func(r, a []float64) error {
			r[0] = WebRemaining(units.Speed(a[0]), WebStretch{units.Length(a[1]), units.Time(a[2])})
			return nil
		},
	}
}

func nearEarthEntry() compute.Entry {
	return compute.Entry{
		Name: "decay.NearEarthWeb", Doc: "charge carried and diffusing on a web close to earth between two earthed rollers, Dσ″ − Uσ′ + source = 0",
		Args:    []compute.Arg{sheetArg("length", "m", "between the rollers", 1e-6, 1e4), sheetArg("u", "m/s", "speed of the web", 0, 1e3), sheetArg("diffusivity", "m2/s", "of the charge", 1e-15, 1e6), sheetArg("x", "m", "place", 0, 1e4)},
		Results: []compute.Arg{sheetResult("peclet", "1", "UL/D"), sheetResult("downstream", "1", "share of a deposit at x that leaves at the outlet"), sheetResult("profile", "1", "steady σ/σ0 at x from the inlet"), sheetResult("slowest_rate", "1/s", "of the last mode")},
		Covers:  []string{"NewNearEarthWeb", "NearEarthWeb.Peclet", "NearEarthWeb.DownstreamShare", "NearEarthWeb.ProfileAt", "NearEarthWeb.SlowestRate"},
		Source:  derivedSource("exit probability of Brownian motion with drift"),
		Eval: func(r, a []float64) error {
			w, err := NewNearEarthWeb(NearEarthSpec{Length: units.Length(a[0]), Speed: units.Speed(a[1]), Diffusivity: units.Diffusivity(a[2])})
			if err != nil {
				return err
			}
			if !(a[3] <= a[0]) {
				return known.Wrong("x", a[3], "0 … length")
			}
			x := units.Length(a[3])
			r[0], r[1], r[2], r[3] = w.Peclet(), w.DownstreamShare(x), w.ProfileAt(x), float64(w.SlowestRate())
			return nil
		},
	}
}

func freeSpanEntry() compute.Entry {
	return compute.Entry{
		Name: "decay.FreeSpanWeb", Doc: "steady charge on a web between two earthed rollers with air on both faces, d/dx[Uσ − φ′/ρ_s] = source with the opening gaps in the operator",
		Args: []compute.Arg{sheetArg("length", "m", "between the tangent lines", 1e-3, 100), sheetArg("u", "m/s", "speed of the web", 0, 1e3), sheetArg("rho_s", "Ω", "surface resistivity, 0 none", 0, 1e20),
			sheetArg("inlet_radius", "m", "of the roller behind", 0, 10), sheetArg("outlet_radius", "m", "of the roller ahead", 0, 10), sheetArg("contact_gap", "m", "from charge to roller at the contact", 0, 1e-3),
			sheetArg("x", "m", "place of the deposit", 0, 100)},
		Results: []compute.Arg{sheetResult("downstream", "1", "share of a deposit at x that reaches the outlet"), sheetResult("inlet_downstream", "1", "share of the charge that leaves the inlet contact, 1 at rest"),
			sheetResult("mid_span", "1", "charge at mid-span over that at the inlet, 0 at rest")},
		Covers: []string{"NewFreeSpanWeb", "FreeSpanWeb.DownstreamShare", "FreeSpanWeb.FromInlet", "FreeSpanWeb.FromDeposit", "FreeSpanWeb.Spec", "FreeSpanWeb.Validity"},
		Source: derivedSource("inversion of plane and tangent cylinder to a strip; Galerkin elements with the logarithmic energy as second discretisation"),
		Eval: func(r, a []float64) error {
			w, err := NewFreeSpanWeb(FreeSpanSpec{Length: units.Length(a[0]), Speed: units.Speed(a[1]), SurfaceResistivity: units.SheetResistance(a[2]),
				InletRadius: units.Length(a[3]), OutletRadius: units.Length(a[4]), ContactGap: units.Length(a[5])}, nil)
			if err != nil {
				return err
			}
			if r[0] = w.DownstreamShare(units.Length(a[6])); math.IsNaN(r[0]) {
				return known.Wrong("x", a[6], "0 … length")
			}
			r[1], r[2] = 1, 0
			if a[1] > 0 {
				c := w.FromInlet(units.SurfaceChargeDensity(1))
				r[1], r[2] = c.DownstreamShare, float64(c.MidSpan)
			}
			return nil
		},
	}
}
