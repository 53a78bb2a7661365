package decay

import (
	"math"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func layerComputations() []compute.Entry {
	laplace := derived("Laplace's equation with charge conservation at each face")
	layer := func(n string) string { return "d" + n + size + "thickness; epsr" + n + eps + "; rho" + n + rho }
	const face = " 0…1e24: surface resistivity of the face, 0 for none"
	film := layer("") + "; face_a" + face + "; face_b" + face + "; wavelength" + size + "of the charge along the film"
	const both = "sigma_a -1…1: amplitude on face A; sigma_b -1…1: amplitude on face B; t" + age + "time"
	type sigma = units.SurfaceChargeDensity
	return []compute.Entry{
		compute.Of11("Layer.Tau", Layer.Tau, derived("charge conservation with J = E/ρ and div D = q"), layer(""),
			"-> tau: relaxation time"),
		compute.Of22("InterfaceTime", InterfaceTime, laplace, layer("1"), layer("2"), "-> tau: relaxation time"),
		compute.Of22("ProbeTime", ProbeTime, laplace, layer(""), "gap"+size+"air gap to the probe -> tau: relaxation time"),
		compute.Of44("Stack.Voltage", func(a, b Layer, s sigma, t units.Time) (units.Voltage, float64, units.Time, error) {
			st, err := NewStack(a, b)
			if err != nil {
				return 0, 0, 0, err
			}
			w, tau := st.Law().Term(0)
			return st.Voltage(s, t), w, tau, nil
		}, laplace, "= Surface voltage of two layers on earth, (σ/ε0)·Σ (d/εr)·e^(−t/τ).",
			layer("1"), layer("2"), "sigma -1…1: charge density; t"+age+"time",
			"-> v: voltage of the top face; weight1: share of the first layer at the start; tau1: its relaxation time"),
		compute.Of("FilmModes", func(l Layer, wave units.Length) (even, odd units.Time, e, o float64, err error) {
			even, odd, err = FilmModes(l, wave)
			return even, odd, float64(even) / float64(l.Tau()), float64(odd) / float64(l.Tau()), err
		}, laplace, layer(""), "wavelength"+size+"of the charge along the film",
			"-> even: net charge; odd: faces opposite; even_over_bulk: in bulk relaxation times; "+
				"odd_over_bulk: in bulk relaxation times"),
		compute.Of("FloatingFilm", func(f ConductingFilm, wave units.Length, a, b sigma, t units.Time) (slow,
			fast units.Time, x, y sigma, err error) {
			ff, err := NewFloatingFilm(f, wave)
			if err != nil {
				return
			}
			x, y = ff.At(t, a, b)
			return ff.Slow().Tau, ff.Fast().Tau, x, y, nil
		}, laplace, "= Charge of both faces of a film in a free span, bulk and unequal surface conduction.", film, both,
			"-> slow: time of the slower mode; fast: time of the faster mode; sigma_a: left on face A; sigma_b: left on face B"),
		compute.Of52("FloatingFilm.Net", func(f ConductingFilm, wave units.Length, a, b sigma, t units.Time) (float64,
			error) {
			ff, err := NewFloatingFilm(f, wave)
			if err != nil {
				return 0, err
			}
			net, err := ff.Net(a, b)
			if err != nil {
				return 0, err
			}
			return net(t), nil
		}, laplace, "= Net charge of a film in a free span, as a field meter sees it, after a charge on both faces.", film,
			both,
			"-> fraction: of the net charge at the start"),
	}
}

func geometryComputations() []compute.Entry {
	plane := derived("current flow in a uniform thin sheet")
	const diameters = "d1" + size + "inner diameter; d2" + size + "outer diameter, greater"
	const factor = "-> factor: squares, ρs = factor·R"
	return []compute.Entry{
		compute.Of("NewRing", compute.Made(NewRing, Electrode.Factor), plane,
			"= Factor of a concentric ring electrode, 2π/ln(d2/d1).",
			diameters, factor),
		compute.Of("NewRingMeanDiameter", compute.Made(NewRingMeanDiameter, Electrode.Factor),
			known.Source{Provenance: known.Memory, Cite: "IEC 60093, ASTM D257", Note: "form not compared with the standards"},
			"= Mean-diameter factor of a ring electrode, π(d1+d2)/(d2−d1).", diameters, factor),
		compute.Of("NewBars", compute.Made(NewBars, Electrode.Factor), plane,
			"= Factor of parallel blades or bars, length/gap.",
			"length"+size+"of the bars; gap"+size+"between them", factor),
		compute.Of("GuardedElectrode.Resistivity",
			compute.Made(NewGuardedElectrode, GuardedElectrode.Area, GuardedElectrode.Resistivity), plane,
			diameters, "r 1e-3…1e24: resistance through the specimen; thickness"+size+"of the specimen",
			"-> area: effective area; rho: volume resistivity"),
		compute.Of42("PlateDecayTime", PlateDecayTime, derived("solution of dV/dt = −(V − Vb)/τ"),
			"tau"+times+"time constant; v0"+volts+"start; v1"+volts+"end; vb -1e9…1e9: balance -> t: decay time"),
		compute.Of31("LeastLeakage", LeastLeakage, derived("e^(−t/RC)"),
			"c 1e-15…1: capacitance; loss 1e-9…0.999999999: greatest fraction lost; t"+times+"time -> r: least leakage "+
				"resistance"),
		compute.Of("PlateMonitor", func(c units.Capacitance, r units.Resistance, measured units.Time, g float64, vs, v0,
			v1 units.Voltage) (self,
			corrected, fall units.Time, err error) {
			p, err := NewPlateMonitor(c, r)
			if err != nil {
				return
			}
			if corrected, err = p.Corrected(measured); err != nil {
				return
			}
			fall, err = p.DischargeTime(func(v units.Voltage) units.Current {
				return units.Current(g * float64(v) / (1 + math.Abs(float64(v))/float64(vs)))
			}, v0, v1)
			return p.SelfTime(), corrected, fall, err
		}, derived("charge balance of the plate, C·dV/dt = −i(V) − V/R"),
			"= Charged plate: own time constant, time constant corrected for it, and fall under an ion current that "+
				"saturates, i = g·V/(1 + V/vs).",
			"c 1e-15…1: capacitance; r 1…1e20: leakage; measured"+times+"measured time constant, less than RC",
			"g [S] 1e-18…1: conductance of the air at low voltage; vs"+volts+"voltage of saturation",
			"v0"+volts+"start; v1"+volts+"end, less than the start -> self: RC; corrected: without the own leakage; "+
				"fall: v0 to v1"),
		compute.Of31("Swing", Swing, derived("first-order low pass"), "amplitude 0…1e9: at rest; f 0…1e9: frequency; tau"+age+
			"time constant of the discharge -> v: half of peak to peak"),
		compute.Of21("LimitTau", LimitTau, derived("e^(−t/τ) = f"),
			"fraction 1e-12…0.999999999999: to be reached; t"+times+"within -> tau: relaxation time"),
		compute.Of12("OffsetSwing", func(v [4]units.Voltage) (offset, swing units.Voltage) { return OffsetSwing(v[:]) },
			derived("mean and range"),
			"v# -1e9…1e9: reading -> offset: mean; swing: peak to peak"),
	}
}

// classes is the classification by the schemes of one quantity.
func classes[Q ~float64](method, doc string, of func(*ClassScheme, Q) (ResistanceClass, error),
	schemes ...*ClassScheme) compute.Entry {
	names := make([]string, len(schemes))
	for i, s := range schemes {
		names[i] = s.Name()
	}
	return compute.Of("ClassScheme."+method, func(scheme int, v Q) (ResistanceClass, float64, error) {
		c, err := of(schemes[scheme], v)
		_, from := schemes[scheme].Limits()
		return c, from, err
	}, schemes[0].source, "= Class of "+doc+" by a standard, and the upper end of dissipative.",
		"scheme {"+strings.Join(names, "|")+"}: standard and edition; value 1e-3…1e24: "+doc,
		"-> class: index of the class; insulating [as value]: insulating from here on")
}

func standardComputations() []compute.Entry {
	electrodes, limits := NamedElectrodes(), PassLimits()
	electrodeNames, limitNames := make([]string, len(electrodes)), make([]string, len(limits))
	for i, e := range electrodes {
		electrodeNames[i] = e.Name
	}
	for i, l := range limits {
		limitNames[i] = l.Name
	}
	return []compute.Entry{
		classes("OfSheet", "surface resistivity", (*ClassScheme).OfSheet, &ClassEIA541),
		classes("OfRing", "ring resistance", (*ClassScheme).OfRing, &ClassIEC61340_5_3, &ClassIEC60079_32_1Surface),
		classes("OfVolume", "volume resistivity", (*ClassScheme).OfVolume, &ClassEIA541Volume, &ClassIEC60079_32_1),
		compute.Of23("NamedElectrodes", func(i int, r units.Resistance) (float64, units.SheetResistance, units.Resistance) {
			e := electrodes[i].Electrode
			s := e.SheetResistance(r)
			return e.Factor(), s, e.Resistance(s)
		}, known.Source{Provenance: known.Memory, Cite: "the standards named",
			Note: "see the source of each electrode"},
			"= Surface resistivity by the electrode of a standard, ρs = K·R, and back.",
			"electrode {"+strings.Join(electrodeNames, "|")+"}: standard and form; r 1e-3…1e24: resistance between the "+
				"electrodes",
			"-> factor: K; rho_s: surface resistivity; r: the resistance again"),
		compute.Of24("PassLimits", func(i int, tau units.Time) (bool, units.Time, units.Time, error) {
			l, err := NewExponential(tau)
			if err != nil {
				return false, 0, 0, err
			}
			ok, t, err := limits[i].Passes(l)
			return ok, t, limits[i].Tau(), err
		}, known.Source{Provenance: known.Memory, Cite: "the standards named",
			Note: "none was compared with its standard"},
			"= Does an exponential of relaxation time τ pass the decay limit of a standard, and which τ just passes.",
			"limit {"+strings.Join(limitNames, "|")+"}: standard and edition; tau"+times+"relaxation time of the sample",
			"-> passes: whether it does; t: when the sample reaches the fraction; tau_limit: relaxation time that just passes"),
	}
}
