package ionflow

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

type (
	sigma = units.SurfaceChargeDensity
	metre = units.Length
)

func surfaceComputations() []compute.Entry {
	robinson := derived("I' over the margin times σ·v; K. Robinson, Why static is worse at high speeds, Paper, Film " +
		"& Foil Converter (2001)")
	return []compute.Entry{
		compute.Of31("SpeedForMargin", SpeedForMargin, robinson, "source 0…1: current per width; sigma 1e-12…1: of the "+
			"web; margin 0.1…1000: over the demand",
			"-> speed: of the web"),
		compute.Of11("FacingField", FacingField, derived("Gauss's law"), aSigma, "-> field: at the face"),
		compute.Of42("Removed", func(n units.NumberDensity, u units.Speed, l metre, v units.Speed) (units.CurrentDensity,
			sigma) {
			j := CarriedCurrent(n, u)
			return j, Removed(j, l, v)
		}, derived("conservation of charge"), "= Current density e·n·u that air carries of one polarity, and what it "+
			"takes from a web along a zone.",
			aN0, aU, aZone, "web_speed 1e-6…100: speed of the web -> current: carried; removed: from the web"),
		compute.Of21("CrossingField", CrossingField, derived("definition of mobility"), aU, aMu, "-> field: u/μ"),
		compute.Of31("RecombinationLimit", RecombinationLimit, derived("n ≤ 1/(αt) with t = L/v"),
			"alpha 1e-15…1e-9: recombination coefficient", aU,
			"distance 1e-4…100: from the source -> current: most that air can bring"),
		compute.Of42("OffsetField", func(u units.Speed, p, m units.NumberDensity, i pair) (units.ElectricField, error) {
			e := OffsetField(u, p, m, i.ions())
			return e, must("field", float64(e))
		}, derived("zero net current of drift and air"), aU, aNp, aNm, aIons, "-> field: at the floating surface"),
		compute.Of31("DiffusionOffset", DiffusionOffset, derived("equal currents of both polarities through a diffusion "+
			"layer"),
			"plus 1e-18…1: conductivity by positive ions; minus 1e-18…1: by negative ions", aT, "-> voltage: of the body"),
		compute.Of54("DrivenPair", func(i units.LineCurrent, b float64, v units.Speed, near, far sigma) (Faces,
			units.LineCurrent, sigma, error) {
			p, err := NewDrivenPair(DrivenPairSpec{Current: i, Imbalance: b})
			if err != nil {
				return Faces{}, 0, 0, err
			}
			faces := Faces{Near: near, Far: far}
			need, err := PairFor(faces, v)
			return p.Act(v), need.Current, faces.Net(), err
		}, derived("conservation of charge"),
			"= What opposed sources of opposite polarity put on the two faces, and the current that clears a double layer.",
			"current -0.1…0.1: per side; imbalance -1…1: of the sides; web_speed 1e-6…100: speed of the web; "+
				"near -1…1: near face; far -1…1: far face",
			"! propagating-brush high-voltage", "-> near: deposit; far: deposit; needed: current per side; "+
				"net: of both faces, which the pair leaves"),
		compute.Of52("PowderDemand", func(m units.MassFlow, q units.ChargePerMass, part units.Charge, mu units.Mobility,
			u units.Speed) (units.Current,
			units.Area) {
			return PowderDemand(m, q), CaptureArea(part, mu, u)
		}, derived("conservation of charge; field lines that end on ions"),
			"= Ion current that a powder stream demands, and the cross-section of air from which one charge collects.",
			"mass_flow 0…1e3: of the powder; charge_per_mass -1…1: of the powder; charge -1…1: of one part", aMu,
			"speed 1e-3…1e3: of the air",
			"-> demand: current; area: cross-section"),
	}
}

func plateComputations() []compute.Entry {
	const c = "capacitance 1e-14…1: of the plate"
	return []compute.Entry{
		compute.Of22("FreeDecayTime", func(n units.NumberDensity, mu units.Mobility) (units.Time, units.Conductivity) {
			l := PolarConductivity(n, mu)
			return FreeDecayTime(l), l
		}, read("N. Jonassen, Compliance Engineering (2002), Parts I and II"),
			"= Polar conductivity e·n·μ and the time constant ε0/(e·n·μ) of a body in ionised air.",
			"density 1…1e25: of the opposite polarity", aMu, "-> time: time constant; conductivity: of the air"),
		compute.Of42("PlateDecayCurrent", func(c units.Capacitance, a, b units.Voltage, t units.Time) (units.Current,
			units.Current) {
			return MeanPlateCurrent(c, a, b, t), ExponentialPlateCurrent(c, a, b, t)
		}, derived("I = C dV/dt"), "= Mean current, and first current of an exponential fall, of a plate.",
			c, "voltage_1 1…1e6: at the start; voltage_2 1e-3…1e6: at the end; time 1e-6…1e9: between -> mean: current; "+
				"first: current"),
		compute.Of41("PlateCurrent", PlateCurrent, derived("balance of a stirred plume"), "voltage -1e6…1e6: of the plate; "+
			"exposed 0…1: capacitance that faces the air", aLambda, "supply 0…1: most that the stream brings -> current: "+
			"to the plate"),
		compute.Of11("SquarePlateCapacitance", SquarePlateCapacitance, recalled("F. H. Read, J. Comput. Phys. 133 (1997) 1"),
			"side 1e-6…1e3: of the plate -> capacitance: alone in space"),
		compute.Of52("Collect", Collect, derived("balance of a stirred plume, integrated over the dwell"),
			"charge -1…1: of the part; dwell 0…1e6: in the air",
			"exposed 0…1: share of the field that ends in the air", aLambda,
			"supply 0…1: of the plume -> taken: charge; regime: that ruled"),
	}
}

func emitterComputations() []compute.Entry {
	return []compute.Entry{
		compute.Of43("OnsetVoltage", func(law TipLaw, tip, d metre, delta float64) (units.Voltage, units.ElectricField,
			error) {
			if d <= tip {
				return 0, 0, known.Wrong("distance", d, "more than the radius of the tip")
			}
			e, _ := OnsetField(law, tip, delta)
			v, _ := OnsetVoltage(law, tip, d, delta)
			return v, e, nil
		}, recalled("F. W. Peek, Dielectric Phenomena in High-Voltage Engineering (1929); field of a hyperboloid tip"),
			"law {Peek cylinder|Peek sphere}: of the tip; tip 1e-6…2e-3: radius; distance 2e-3…1: tip to web; "+
				"delta 0.3…1.5: density of the air relative to 20 °C and 101.325 kPa",
			"! high-voltage", "-> voltage: of the start; field: at the tip"),
		compute.Of("Bunches", func(u, v units.Speed, f units.Frequency, j units.CurrentDensity, a units.Area,
			c units.Capacitance, zone metre,
			tau units.Time) (bunch, stripe metre, ripple units.Voltage, amplitude sigma, mixes bool, err error) {
			e, err := NewEmitter(EmitterSpec{Kind: AC, Current: 100 * units.MicroamperePerMetre, Switch: f})
			if err != nil {
				return
			}
			return e.BunchPitch(u), e.StripePitch(v), PlateRipple(j, a, f, c), Stripe(j, f, zone, v, tau), e.Mixes(u, zone), nil
		}, derived("kinematics; capacitor equation"),
			"= Bunches u/f in the air, stripes v/f on the web, ripple jA/(2fC) of a plate, and the amplitude of the stripes.",
			aU, "web_speed 1e-3…100: speed of the web; switch 0.01…1e5: frequency; current 0…10: amplitude; "+
				"area 1e-6…100: of the plate",
			"capacitance 1e-14…1: of the plate", aZone, "tau 1e-6…1e9: relaxation time in the plume",
			"-> bunch: length; stripe: length; ripple: of the plate; amplitude: of the stripes; "+
				"mixes: whether a plume as broad as the zone mixes them"),
		compute.Of("TimeToLimit", func(clean, now units.LineCurrent, t units.Time, limit units.LineCurrent,
			spread float64) (k units.Frequency, median,
			early, late units.Time, err error) {
			if k = AgeingRate(clean, now, t); !(k > 0) {
				return k, 0, 0, 0, known.Wrong("now", now, "less than the clean current")
			}
			median, early, late = TimeToLimit(clean, limit, known.Band{Value: float64(k), Spread: spread, Kind: known.LogNormal})
			return
		}, derived("exponential fall (an assumption)"),
			"= Time after which a source that gets dirty falls to a limit, with its rate from two readings (lognormal spread).",
			"clean 1e-12…1: current when clean; now 1e-12…1: current after some work; time 1…1e9: of work between; "+
				"limit 1e-12…1: least current",
			"spread 0…3: standard deviation of ln rate -> rate: of ageing; median: of the time; early: 5 %; late: 95 %"),
		compute.Of52("Ozone", func(i units.Current, y float64, q units.VolumeFlow, t units.Temperature,
			p units.Pressure) (units.MassFlow, units.Ratio) {
			m := OzoneRate(i, y)
			return m, OzoneConcentration(m, q, t, p)
		}, derived("mass balance of a well-mixed room"),
			"= Ozone of a corona current from a measured yield, and its steady share in a ventilated room. A caution, no "+
				"exposure assessment.",
			"! ozone", "current 0…1: of the corona; yield [kg/C] 0…1: measured; ventilation 1e-6…1e4: of the room", aT, aP,
			"-> rate: of ozone; share: volume share"),
	}
}
