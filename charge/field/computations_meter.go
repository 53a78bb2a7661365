package field

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// meterOf is a field meter with exact gain and offset.
type meterOf struct {
	Nominal      units.Length
	Guarded      bool
	Face, Sheet  units.Length
	FullScale    units.DisplayVoltage
	Gain, Offset float64
}

func (m meterOf) build() (FieldMeter, error) {
	return NewFieldMeter(FieldMeterSpec{Nominal: m.Nominal, Guarded: m.Guarded, FaceRadius: m.Face,
		SheetRadius: m.Sheet, FullScale: m.FullScale,
		Gain: known.Band{Value: m.Gain}, Offset: known.Band{Value: m.Offset}})
}

const aMeter = "nominal 1e-3…1: distance for which the display is marked; " +
	"guarded {bare face|guarded face}: kind of face; " +
	"face 1e-3…1: radius of the face; sheet 1e-3…1e3: radius of the charged sheet, for a bare face; " +
	"full_scale 1…1e6: end of the scale; " +
	"gain 1e-3…1e3: display over true display; offset [V(display)] -1e5…1e5: display without charge"

func meterComputations() []compute.Entry {
	const distance = "distance 1e-4…10: meter to web"
	const gap = "gap 1e-6…1e6: web to earthed metal"
	type sigma = units.SurfaceChargeDensity
	type display = units.DisplayVoltage
	return []compute.Entry{
		compute.Of("FieldMeter.Display", func(m meterOf, net sigma, d, h units.Length) (display, float64, float64, bool,
			error) {
			f, err := m.build()
			if err != nil {
				return 0, 0, 0, false, err
			}
			v := f.Display(net, d, h)
			return v, f.Factor(d, h), f.DistanceSensitivity(d, h), f.Saturated(v), nil
		}, electrostatics, "= Display of a field meter before a wide web, gain·d0·(σ/ε0)·factor + offset, and its "+
			"sensitivity to distance.",
			aMeter, aNet, distance, gap,
			"-> display: as shown; factor: E·ε0/σ; distance_sensitivity: −d ln display/d ln distance; "+
				"saturated: whether the scale ends below"),
		compute.Of("FieldMeter.Net", func(m meterOf, v display, d, dsd, h units.Length) (net, sd sigma,
			e units.ElectricField, at display,
			spread float64, back display, err error) {
			f, err := m.build()
			if err != nil {
				return
			}
			e = f.FieldShown(v)
			at, spread = f.Corrected(v, d, dsd, h)
			_, sd = f.NetWithSD(v, d, dsd, h, 0)
			return f.Net(v, d, h), sd, e, at, spread, f.DisplayOf(e), nil
		}, electrostatics, "= Net charge density and field that a display stands for, and the display corrected to the "+
			"nominal distance.",
			aMeter, "shown -1e6…1e6: as read", distance, "distance_spread 0…1: standard deviation of the distance", gap,
			"-> net: of both faces; net_sd: its standard deviation; field: at the meter; "+
				"at_nominal: display at the nominal distance; "+
				"spread: its relative standard deviation; display_of_field: found back from the field"),
		compute.Of52("FieldMeter.PatchSpread", func(m meterOf, rms sigma, corr, d, h units.Length) (display, error) {
			f, err := m.build()
			return f.PatchSpread(rms, corr, d, h), err
		}, electrostatics, aMeter, "rms 0…1e-2: standard deviation of the charge density", aBlur, distance, aGap,
			"-> spread: standard deviation between displays"),
		compute.Of("Voltmeter", func(f Film, near, far sigma, h units.Length, full, floor units.Voltage, gain, st,
			se float64) (shown units.Voltage,
			outer, sd, least sigma, saturated bool, err error) {
			v, err := NewVoltmeter(VoltmeterSpec{FullScale: full, Floor: floor,
				Gain: known.Band{Value: 1, Spread: gain, Kind: known.Normal}})
			if err != nil {
				return
			}
			shown = v.Shows(near, far, f, h)
			outer, sd = v.OuterFace(shown, f, st, se)
			return shown, outer, sd, v.Detectable(f), v.Saturated(shown), nil
		}, electrostatics, "= Non-contact voltmeter over a film: reading [σ_near(t/εr+h)+σ_far·h]/ε0, the outer face it "+
			"stands for on a roller, "+
			"what it can detect.",
			aFilm, aFaces, "gap 0…1e3: far face to earthed metal; full_scale 1…1e5: end of the scale",
			"floor 1e-3…100: standard deviation on bare metal; gain_spread 0…1: relative standard deviation",
			"thickness_spread 0…1: relative; permittivity_spread 0…1: relative",
			"-> reading: as shown; outer: charge density of the outer face; outer_sd: its standard deviation",
			"detectable: least charge density; saturated: whether the scale ends below"),
	}
}

func readingComputations() []compute.Entry {
	type sigma = units.SurfaceChargeDensity
	return []compute.Entry{
		compute.Of62("SeparateFaces", func(net, netSD, a, aSD, b, bSD sigma) (FaceCharges, error) {
			var obs []FaceObservation
			if netSD > 0 {
				obs = append(obs, ObservedNet(net, netSD))
			}
			if aSD > 0 {
				obs = append(obs, ObservedFaceA(a, aSD))
			}
			if bSD > 0 {
				obs = append(obs, ObservedFaceB(b, bSD))
			}
			return SeparateFaces(obs...)
		}, known.Source{Provenance: known.Computed, Cite: "weighted linear least squares (Gauss–Markov theorem)"},
			"= Both face charges from a net reading and readings of face A and face B, weighted least squares; "+
				"a standard deviation of 0 leaves a reading out.",
			aNet, "net_sd 0…1: 0 if not read; a"+density+"face A; "+
				"a_sd 0…1: 0 if not read; b"+density+"face B; b_sd 0…1: 0 if not read",
			"-> known: what is determined; a: face A; b: face B; a_sd: standard deviation; b_sd: standard deviation; "+
				"net: of both; net_sd: standard deviation; misfit: of the readings"),
		compute.Of52("Repeats", Repeats, known.Source{Provenance: known.Computed,
			Cite: "sample size for two normal means with known spread, two-sided; any textbook of statistics"},
			"a -1e6…1e6: display at one place; b -1e6…1e6: at the other; "+
				"cv 1e-6…100: coefficient of variation of single readings",
			"alpha 1e-9…0.999: chance of a false difference; "+
				"power 1e-3…0.999999: chance to see this one -> n: readings at each place"),
		compute.Of("Flaws", func(d, d0, h, w units.Length, repeats int, zeroed, earthed bool) (ReadingFlaws, bool) {
			f := ReadingConditions{Distance: d, Nominal: d0, Gap: h, Width: w, Repeats: repeats, Zeroed: zeroed,
				Earthed:   earthed,
				BothFaces: true, HumidityHere: true, Running: true, TroubleRunning: true}.Flaws()
			return f, f.Unusable()
		}, known.Source{Provenance: known.CommonPractice, Note: "limits derived from h/(d+h) and the strip formula"},
			"= Flaws of a reading as bits: distance, metal near, width, repeats.", aDistance,
			"nominal 0…1: distance that the display is marked for, 0 for not known", aGap,
			"width 0…1e3: of the charged area, 0 for wide; repeats 0…1e6: readings of the spot; zeroed: away from charge; "+
				"earthed: the meter",
			"-> flaws 0…65535: bits; unusable: whether one of them spoils the reading"),
	}
}
