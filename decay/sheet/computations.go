package sheet

import (
	"context"
	_ "embed" // for the sentences
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// derived is the source of what follows from Gauss's and Ohm's law as the doc
// comment shows.
func derived(how string) known.Source { return known.Source{Provenance: known.Computed, Cite: how} }

// Items that many declarations share.
const (
	aRho  = "rho_s 1…1e20: surface resistivity"
	aTime = "t 0…1e12: time"
	share = "fraction 1e-9…0.999999999: "
)

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	crank := derived("separation of variables, checked against the differential equation (J. Crank, The Mathematics of " +
		"Diffusion, 2nd ed. 1975, ch. 4 and 5, not read)")
	const diffusivity = "diffusivity 1e-12…1e6: of the charge"
	return compute.List("sheet", sentences, append([]compute.Entry{
		compute.Of11("SpreadingSpeed", SpreadingSpeed,
			derived("Gauss's law on both faces, Ohm's law in the sheet, continuity"), aRho, "-> speed: v_s"),
		compute.Of21("UpWebShare", UpWebShare, derived("integral of the moving Lorentzian"),
			"v_s 0…1e9: spreading speed; u 0…1e3: speed of the web -> share: up-web"),
		compute.Of31("SheetDiffusivity", SheetDiffusivity, derived("plate capacitor per area, Ohm's law, continuity"),
			"d 1e-9…1: thickness", aRho, "eps_r 1…1e4: relative permittivity of the film -> diffusivity: D"),
		compute.Of("Sheet", sheetAt, derived("quasi-static solution in uniform layers"),
			"= Decay rate of a charge wave on a resistive sheet, [k²/ρ_s + (k/ρ_v) coth kd + γ k coth kh]/{ε0 k [coth kh + "+
				"ε_r coth kd]}; "+
				"zero resistivity, plate distance or conductivity means none.",
			"support {on earth|free span|thick dielectric}: what is behind the charged face; d 0…1: thickness; "+
				"eps_r 1…1e4: relative permittivity",
			"rho_s 0…1e20: surface resistivity, 0 none; rho_v 0…1e24: volume resistivity, 0 none; "+
				"h 0…100: distance of an earthed plate, 0 none",
			"air 0…1e-6: conductivity of the air; wavelength 1e-9…1e6: of the charge wave",
			"-> rate: decay rate; time_constant: 1/rate, 1e308 if it does not decay; "+
				"near_earth_d: diffusivity of the near-earth limit, −1 off earth",
			"free_over_this: rate of a thin free sheet of the same ρ_s over this rate, 0 if either does not decay"),
		compute.Of("EarthedStrip", func(s StripSpec, t units.Time, x units.Length, f float64) (tau units.Time, mean,
			at float64,
			meanTime, farTime units.Time, square float64, err error) {
			e, err := NewEarthedStrip(s)
			if err != nil {
				return
			}
			if at = e.At(x, t); math.IsNaN(at) {
				err = known.Wrong("x", x, "0 … width, and with a contact resistance D t/b² of 2e-4 or more")
			}
			return e.TimeConstant(), e.MeanAt(t), at, e.MeanTime(f), e.FarTime(f), RectangleMean(e, e, t), err
		}, crank, "= Uniform charge on a strip close to earth, earthed at its edges: series of Crank.",
			"width 1e-6…1e4: across", diffusivity, "edges {both|one}: which edges are earthed; "+
				"contact_length 0…1e6: contact resistance times edge over ρ_s", aTime, "x 0…1e4: from an earthed edge",
			share+"for the times",
			"-> time_constant: of the slowest mode; mean: share left; at_x: σ/σ0 at x; mean_time: until the share is fraction",
			"far_time: until the furthest point is at fraction; square_mean: share left on a square of this width"),
		compute.Of("EarthedDisc", func(r units.Length, d units.Diffusivity, t units.Time, f float64) (units.Time, float64,
			float64, units.Time,
			units.Time, error) {
			s, err := NewEarthedDisc(r, d)
			if err != nil {
				return 0, 0, 0, 0, 0, err
			}
			return s.TimeConstant(), s.MeanAt(t), s.CentreAt(t), s.MeanTime(f), s.CentreTime(f), nil
		}, crank, "= Uniform charge on a disc close to earth, earthed at its rim: series of Crank.",
			"radius 1e-6…1e4: of the disc", diffusivity, aTime, share+"for the times",
			"-> time_constant: of the slowest mode; mean: share left; centre: σ/σ0 at the centre; "+
				"mean_time: until the share is fraction",
			"centre_time: until the centre is at fraction"),
	}, append(closedComputations(), webComputations()...)...))
}

func sheetAt(spec SheetSpec, wave units.Length) (rate units.Frequency, tau units.Time, near units.Diffusivity,
	over float64, err error) {
	s, err := NewSheet(spec)
	if err != nil {
		return
	}
	k := 2 * math.Pi / float64(wave)
	rate, tau = s.Rate(k), units.Time(math.Min(float64(s.TimeConstant(wave)), 1e308))
	if near, _ = s.NearEarth(wave); math.IsNaN(float64(near)) {
		near = units.Diffusivity(-1)
	}
	if spec.SurfaceResistivity > 0 && rate > 0 {
		over = k * float64(SpreadingSpeed(spec.SurfaceResistivity)) / float64(rate)
	}
	return rate, tau, near, over, nil
}

func closedComputations() []compute.Entry {
	type m = units.Length
	return []compute.Entry{
		compute.Of42("FreeSheet", closedAt, derived("receding image of the charge, and its integrals"),
			"= Closed forms of charge on a sheet far from earth after it has receded by v_s t.",
			"x -1e4…1e4: distance from the middle; a 1e-9…1e4: half-width, radius, width of the Gaussian or height of the probe",
			"receded 1e-12…1e9: v_s t; period 1e-9…1e6: of equal lines or stripes, at least 2a",
			"-> line [1/m]: σ/λ of a line; point [1/m²]: σ/q of a point; step: σ/σ0; stripe: σ/σ0; disc_centre: σ/σ0",
			"gaussian_stripe: σ/σ0 at the middle; gaussian_spot: σ/σ0 at the middle; probe_line: reading over the first",
			"probe_spot: reading over the first; lines [1/m]: σ/λ of periodic lines; stripes: σ/σ0 of periodic stripes"),
		compute.Of33("FreeSheetTime", func(a m, f float64,
			rho units.SheetResistance) (t struct{ stripe, disc, line, spot units.Time }, s, d float64) {
			v := float64(SpreadingSpeed(rho))
			after := func(d m) units.Time { return units.Time(float64(d) / v) }
			t.stripe, t.disc = after(StripeReceded(a, f)), after(DiscReceded(a, f))
			t.line, t.spot = after(ProbeReceded(a, f, false)), after(ProbeReceded(a, f, true))
			return t, float64(StripeReceded(a, f)) / float64(a), float64(DiscReceded(a, f)) / float64(a)
		}, derived("inverse of the closed forms"),
			"= Time until charge on a free sheet has fallen to a share, (v_s t)/v_s.",
			"a 1e-9…1e4: half-width, radius or height of the probe; "+share+"left", aRho,
			"-> stripe: middle of a stripe; disc: middle of a disc; probe_line: probe over a line; "+
				"probe_spot: probe over a spot",
			"stripe_receded: v_s t/a of the stripe; disc_receded: v_s t/a of the disc"),
		compute.Of("Slot", func(w m, rho units.SheetResistance, mode int, t units.Time) (mu float64, tau units.Time, mean,
			centre, dmu float64,
			dtau units.Time, dmean float64, err error) {
			s, err := NewSlotStrip(w, rho)
			if err != nil {
				return
			}
			d, err := NewSlotDisc(w/2, rho)
			if err != nil {
				return
			}
			return s.Eigenvalue(mode), s.TimeConstant(), s.MeanAt(t), s.CentreAt(t), d.Eigenvalue(mode), d.TimeConstant(),
				d.MeanAt(t), nil
		}, derived("eigenvalue problem of the slot, computed here (the same as of P. Henrici, B. A. Troesch, L. Wuytack, "+
			"Z. angew. Math. Phys. 21 (1970) 285, not read)"),
			"= Decay of a sheet that fills a slot or a round hole of an earthed plane, air on both faces: −∇²φ = μ(−∇²)^{1/2}φ.",
			"width 1e-6…1e4: of the slot, diameter of the hole", aRho, "mode {0|1|2|3|4|5|6|7|8|9}: 0 is the slowest", aTime,
			"-> strip_mu: eigenvalue on the half-width; strip_time: time constant of the slowest mode; "+
				"strip_mean: share of a uniform charge left",
			"strip_centre: σ/σ0 at the centre; disc_mu: axisymmetric eigenvalue on the radius; "+
				"disc_time: time constant of the slowest mode",
			"disc_mean: share of a uniform charge left"),
		compute.Of64("ChargeMap", chargeMap, derived("each wave decays at its own rate; against periodised closed forms"),
			"= Spectral evolution of a Gaussian ridge or spot on a periodic free sheet, σ_k(t) = σ_k(0) e^{−k v_s t}.",
			"shape {ridge|spot}: of the charge; width 1e-6…1: standard deviation of the Gaussian; "+
				"side 1e-5…100: period of the sheet, 20 … 100 widths",
			aRho, aTime, "probe 0…10: height of the probe of the view",
			"-> peak: σ at the middle over its start; mean: mean over that of the start; "+
				"probe_peak: field at the probe over the middle, in σ0/2ε0"),
	}
}

// closed are the closed forms of the free sheet, in the order of their items.
type closed struct {
	line, point, step, stripe, disc, gaussStripe, gaussSpot, probeLine, probeSpot, lines,
	stripes float64
}

func closedAt(x, w, h, l units.Length) (closed, error) {
	if !(l >= 2*w) {
		return closed{}, known.Wrong("period", l, "at least 2a")
	}
	return closed{float64(LineOnFreeSheet(units.LineChargeDensity(1), x, h)),
		float64(PointOnFreeSheet(units.Charge(1), x, h)),
		StepOnFreeSheet(x, h), StripeOnFreeSheet(x, w, h), DiscCentreOnFreeSheet(w, h), GaussianStripeCentre(w, h),
		GaussianSpotCentre(w, h),
		ProbeOverLine(w, h), ProbeOverSpot(w, h), float64(LinesOnFreeSheet(units.LineChargeDensity(1), x, h, l)),
		StripesOnFreeSheet(x, w, h, l)}, nil
}

func chargeMap(spot bool, width, side units.Length, rho units.SheetResistance, t units.Time,
	probe units.Length) (peak, mean, seen float64, err error) {
	if !(side >= 20*width && side <= 100*width) {
		return 0, 0, 0, known.Wrong("side", side, "20 … 100 widths")
	}
	// Waves beyond this mesh are below e^{−(π·width/pixel)²/2} < 1e-14.
	const n = 256
	rows := 1
	if spot {
		rows = n
	}
	v := make([]float64, n*rows)
	x := func(i int) float64 { return float64(side) / n * float64(i-n/2) / float64(width) }
	for i := range v {
		v[i] = math.Exp(-x(i%n) * x(i%n) / 2)
		if rows > 1 {
			v[i] *= math.Exp(-x(i/n) * x(i/n) / 2)
		}
	}
	vs := float64(SpreadingSpeed(rho))
	law := RateFunc(func(k float64) units.Frequency { return units.Frequency(k * vs) })
	at := func(view func(float64) float64) (middle, mean float64, err error) {
		m, err := NewChargeMap(MapSpec{Charge: v, Rows: rows, Pixel: side / n, Law: law, View: view})
		if err != nil {
			return 0, 0, err
		}
		dst := make([]float64, m.Len())
		if err := m.MapTo(dst, t); err != nil {
			return 0, 0, err
		}
		for _, s := range dst {
			mean += s
		}
		middle = dst[len(dst)/2]
		if rows > 1 {
			middle = dst[n/2*n+n/2]
		}
		return middle, mean / float64(len(dst)) / m.Mean(), nil
	}
	if peak, mean, err = at(nil); err == nil {
		seen, _, err = at(ProbeView(probe))
	}
	return peak, mean, seen, err
}

func webComputations() []compute.Entry {
	const web = "length 1e-6…1e4: between the rollers; u 0…1e3: speed of the web; diffusivity 1e-15…1e6: of the charge"
	return []compute.Entry{
		compute.Of31("WebRemaining", func(u units.Speed, l units.Length, tau units.Time) float64 {
			return WebRemaining(u, WebStretch{l, tau})
		},
			derived("U dσ/dx = −σ/τ"), "u 1e-6…1e3: speed of the web; length 0…1e5: of the path; "+
				"tau 1e-12…1e15: relaxation time -> share: left"),
		compute.Of("NearEarthWeb", func(s NearEarthSpec, x units.Length) (float64, float64, float64, units.Frequency, error) {
			w, err := NewNearEarthWeb(s)
			if err == nil && !(x <= s.Length) {
				err = known.Wrong("x", x, "0 … length")
			}
			if err != nil {
				return 0, 0, 0, 0, err
			}
			return w.Peclet(), w.DownstreamShare(x), w.ProfileAt(x), w.SlowestRate(), nil
		}, derived("exit probability of Brownian motion with drift"),
			"= Charge carried and diffusing on a web close to earth between two earthed rollers, Dσ″ − Uσ′ + source = 0.",
			web, "x 0…1e4: place",
			"-> peclet: UL/D; downstream: share of a deposit at x that leaves at the outlet; "+
				"profile: steady σ/σ0 at x from the inlet",
			"slowest_rate: of the last mode"),
		compute.Of("FreeSpanWeb", func(ctx context.Context, s FreeSpanSpec, x units.Length) (down, inlet, mid float64,
			flags known.Validity, err error) {
			w, err := NewFreeSpanWebContext(ctx, s, nil)
			if err != nil {
				return
			}
			if down = w.DownstreamShare(x); math.IsNaN(down) {
				err = known.Wrong("x", x, "0 … length")
			}
			inlet = 1
			if s.Speed > 0 {
				c := w.FromInlet(units.SurfaceChargeDensity(1))
				inlet, mid = c.DownstreamShare, float64(c.MidSpan)
			}
			return down, inlet, mid, w.Validity(), err
		}, derived(tangent),
			"= Steady charge on a web between two earthed rollers with air on both faces, d/dx[Uσ − φ′/ρ_s] = source with "+
				"the opening gaps "+
				"in the operator.",
			"length 1e-3…100: between the tangent lines; u 0…1e3: speed of the web; rho_s 0…1e20: surface resistivity, 0 none",
			"inlet_radius 0…10: of the roller behind; outlet_radius 0…10: of the roller ahead",
			"contact_gap 0…1e-3: from charge to roller at the contact; _; x 0…100: place of the deposit",
			"-> downstream: share of a deposit at x that reaches the outlet; "+
				"inlet_downstream: share of the charge that leaves the inlet contact, "+
				"1 at rest; mid_span: charge at mid-span over that at the inlet, 0 at rest; validity: flags"),
		compute.Of62("AntistatOnSpan", antistat, derived(tangent),
			"length 1e-3…100: between the tangent lines; u 1e-6…1e3: speed of the web; _",
			"inlet_radius 1e-4…10: of the roller behind; outlet_radius 1e-4…10: of the roller ahead",
			"contact_gap 1e-9…1e-3: from charge to roller at the contact; _",
			"rho_s 1…1e20: median surface resistivity of the face in the air at the web; "+
				"decades 0…6: of which 90 % of samples lie within, either way",
			"at 0…100: place that matters, 0 the middle; "+
				"enough 0.01…0.99: share of the charge at which the finish has done its work",
			"-> left: share left there; least: at the 5 % end of the resistivity; most: at the 95 % end; "+
				"needed: resistivity at which enough is left",
			"slow_to: speed at which the median leaves enough; dwell: from the inlet to the place; "+
				"verdict {helps|does not help|open}: over the band of the resistivity",
			"! chemicals", "at_rest: slowest time constant of the web at rest; validity: flags"),
	}
}

const tangent = "inversion of plane and tangent cylinder to a strip; " +
	"Galerkin elements with the logarithmic energy as second discretisation"

// antistatAnswer is what is told about a finish on a span.
type antistatAnswer struct {
	left, least, most float64
	needed            units.SheetResistance
	slowTo            units.Speed
	dwell             units.Time
	verdict           float64
	atRest            units.Time
	validity          known.Validity
}

func antistat(ctx context.Context, s FreeSpanSpec, rho units.SheetResistance, decades float64, at units.Length,
	enough float64) (antistatAnswer, error) {
	b := known.Band{Value: float64(rho)}
	if decades > 0 {
		b.Spread, b.Kind = decades*math.Ln10/known.Z95, known.LogNormal
	}
	a, err := AntistatOnSpanContext(ctx, AntistatSpec{Span: s, Resistivity: b, At: at, Enough: enough})
	return antistatAnswer{a.Left, a.Least, a.Most, a.Needed, a.SlowTo, a.Dwell, float64(a.Verdict) - 1,
		units.Time(a.AtRest.Value), a.Validity}, err
}
