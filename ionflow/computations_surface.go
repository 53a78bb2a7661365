package ionflow

import (
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

type (
	sigma = units.SurfaceChargeDensity
	metre = units.Length
)

func surfaceComputations() []compute.Entry {
	plume := derived("balance of a stirred plume, integrated along the zone")
	robinson := derived("σ·v; K. Robinson, Why static is worse at high speeds, Paper, Film & Foil Converter (2001)")
	const act = aLambda + "; _; supply 1e-12…1: most that the source brings per metre; " + aZone
	return []compute.Entry{
		compute.Of("Demand", Demand, robinson, aSigma, aV, "-> demand: current per width"),
		compute.Of("SpeedForMargin", SpeedForMargin, robinson, "source 0…1: current per width; sigma 1e-12…1: of the "+
			"web; margin 0.1…1000: over the demand",
			"-> speed: of the web"),
		compute.Of("FacingField", FacingField, derived("Gauss's law"), aSigma, "-> field: at the face"),
		compute.Of("Removed", func(n units.NumberDensity, u units.Speed, l metre, v units.Speed) (units.CurrentDensity,
			sigma) {
			j := CarriedCurrent(n, u)
			return j, Removed(j, l, v)
		}, derived("conservation of charge"), "= Current density e·n·u that air carries of one polarity, and what it "+
			"takes from a web along a zone.",
			aN0, aU, aZone, "web_speed 1e-6…100: speed of the web -> current: carried; removed: from the web"),
		compute.Of("CrossingField", CrossingField, derived("definition of mobility"), aU, aMu, "-> field: u/μ"),
		compute.Of("RecombinationLimit", RecombinationLimit, derived("n ≤ 1/(αt) with t = L/v"),
			"alpha 1e-15…1e-9: recombination coefficient", aU,
			"distance 1e-4…100: from the source -> current: most that air can bring"),
		compute.Of("OffsetField", func(u units.Speed, p, m units.NumberDensity, i pair) (units.ElectricField, error) {
			e := OffsetField(u, p, m, i.ions())
			return e, must("field", float64(e))
		}, derived("zero net current of drift and air"), aU, aNp, aNm, aIons, "-> field: at the floating surface"),
		compute.Of("DiffusionOffset", DiffusionOffset, derived("equal currents of both polarities through a diffusion layer"),
			"plus 1e-18…1: conductivity by positive ions; minus 1e-18…1: by negative ions", aT, "-> voltage: of the body"),
		compute.Of("Neutraliser.Act", func(c Carriers, zone metre, offset, onset, net sigma, v units.Speed,
			f float64) (d sigma, g Regime,
			e units.Ratio, err error) {
			n, err := NewNeutraliser(NeutraliserSpec{Plus: c, Minus: c, Zone: zone, Offset: offset, Onset: onset})
			if err != nil {
				return
			}
			d, g = n.Act(net, v, f)
			if net != 0 {
				e = n.Efficiency(net, v, f)
			}
			return d, g, e, nil
		}, plume, "= What an ioniser adds to the near face of a web, airborne ions: (ε0/λ)ln(z1/z2) + (L/I')(z1−z2) = "+
			"factor·L/v.",
			act, "offset -1…1: net that it leaves; onset 0…1: net below which it does nothing", aSigma, aV, aFactor,
			"-> deposit: on the near face; regime: that ruled; efficiency: 0 for a net of 0"),
		compute.Of("Neutraliser.ActOn", func(c Carriers, zone metre, near, far sigma, v units.Speed, f float64) (Faces,
			sigma, sigma, error) {
			n, err := NewNeutraliser(NeutraliserSpec{Plus: c, Minus: c, Zone: zone})
			if err != nil {
				return Faces{}, 0, 0, err
			}
			faces := Faces{Near: near, Far: far}
			column := []sigma{faces.Net()}
			if err := n.ActTo(column, column, v, f); err != nil {
				return Faces{}, 0, 0, err
			}
			faces, _ = n.ActOn(faces, v, f)
			return faces, faces.Net(), column[0], nil
		}, plume, "= What an airborne source without offset leaves on the two faces of a web; "+
			"it sees the net and changes the near face.",
			act, "near -1…1: near face; far -1…1: far face", aV, aFactor,
			"-> near: afterwards; far: afterwards; net: afterwards; column: deposit, by way of a column of one row"),
		compute.Of("DrivenPair", func(i units.LineCurrent, b float64, v units.Speed, near, far sigma) (Faces,
			units.LineCurrent, error) {
			p, err := NewDrivenPair(DrivenPairSpec{Current: i, Imbalance: b})
			if err != nil {
				return Faces{}, 0, err
			}
			need, err := PairFor(Faces{Near: near, Far: far}, v)
			return p.Act(v), need.Current, err
		}, derived("conservation of charge"),
			"= What opposed sources of opposite polarity put on the two faces, and the current that clears a double layer.",
			"current -0.1…0.1: per side; imbalance -1…1: of the sides; web_speed 1e-6…100: speed of the web; "+
				"near -1…1: near face; far -1…1: far face",
			"-> near: deposit; far: deposit; needed: current per side"),
		compute.Of("PowderDemand", func(m units.MassFlow, q units.ChargePerMass, part units.Charge, mu units.Mobility,
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
		compute.Of("FreeDecayTime", func(n units.NumberDensity, mu units.Mobility) (units.Time, units.Conductivity) {
			l := PolarConductivity(n, mu)
			return FreeDecayTime(l), l
		}, read("N. Jonassen, Compliance Engineering (2002), Parts I and II"),
			"= Polar conductivity e·n·μ and the time constant ε0/(e·n·μ) of a body in ionised air.",
			"density 1…1e25: of the opposite polarity", aMu, "-> time: time constant; conductivity: of the air"),
		compute.Of("PlateDecayCurrent", func(c units.Capacitance, a, b units.Voltage, t units.Time) (units.Current,
			units.Current) {
			return MeanPlateCurrent(c, a, b, t), ExponentialPlateCurrent(c, a, b, t)
		}, derived("I = C dV/dt"), "= Mean current, and first current of an exponential fall, of a plate.",
			c, "voltage_1 1…1e6: at the start; voltage_2 1e-3…1e6: at the end; time 1e-6…1e9: between -> mean: current; "+
				"first: current"),
		compute.Of("PlateCurrent", PlateCurrent, derived("balance of a stirred plume"), "voltage -1e6…1e6: of the plate; "+
			"exposed 0…1: capacitance that faces the air", aLambda, "supply 0…1: most that the stream brings -> current: "+
			"to the plate"),
		compute.Of("SquarePlateCapacitance", SquarePlateCapacitance, recalled("F. H. Read, J. Comput. Phys. 133 (1997) 1"),
			"side 1e-6…1e3: of the plate -> capacitance: alone in space"),
		compute.Of("Collect", Collect, derived("balance of a stirred plume, integrated over the dwell"),
			"charge -1…1: of the part; dwell 0…1e6: in the air",
			"exposed 0…1: share of the field that ends in the air", aLambda,
			"supply 0…1: of the plume -> taken: charge; regime: that ruled"),
	}
}

func emitterComputations() []compute.Entry {
	return []compute.Entry{
		compute.Of("OnsetVoltage", func(law int, tip, d, body metre, delta float64, net sigma,
			v units.Speed) (units.Voltage, sigma,
			units.ElectricField, sigma, error) {
			s := PassiveSpec{Law: TipLaw(law), Tip: tip, Distance: d, Body: body, Delta: delta,
				Ions: Ions{Plus: units.Mobility(1.5e-4), Minus: units.Mobility(1.5e-4)}}
			n, err := NewPassive(s)
			if err != nil {
				return 0, 0, 0, 0, err
			}
			on, start, _ := s.Onset()
			e, _ := OnsetField(s.Law, s.Tip, s.Delta)
			deposit, _ := n.Act(net, v, 1)
			return start, on, e, deposit, nil
		}, recalled("F. W. Peek, Dielectric Phenomena in High-Voltage Engineering (1929); field of a hyperboloid tip"),
			"= Voltage at which a passive needle starts, the residual charge that goes with it, and what the needle adds "+
				"to a web.",
			"law {Peek, cylinder|Peek, sphere}: of the tip; tip 1e-6…2e-3: radius; distance 2e-3…1: tip to web; "+
				"body 2e-3…100: earthed plane to web",
			"delta 0.3…1.5: relative air density", aSigma, aV,
			"-> voltage: of the start; residual: charge of the web; field: at the tip; "+
				"deposit: field factor 1, mobilities 1.5e-4"),
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
		compute.Of("Ozone", func(i units.Current, y float64, q units.VolumeFlow, t units.Temperature,
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

// row is an air-assisted bar with a row of holes, and what it meets.
type row struct {
	Current           units.LineCurrent
	Captured, Balance float64
	Hole, Pitch       metre
	Discharge         float64
	Gauge             units.GaugePressure
	Ambient           units.Pressure
	Temperature       units.Temperature
	Distance          metre
	Sigma             sigma
	Speed             units.Speed
	Factor            float64
	Plus, Minus       units.Mobility
	Alpha             units.RecombinationCoefficient
}

const aRow = "current 1e-9…0.1: emission per polarity; captured 1e-4…1: share that the air takes along; " +
	"balance -1…1: of the polarities; " +
	"hole 1e-4…1e-2: diameter; pitch 1e-3…1: of the holes; discharge 0.3…1: coefficient; gauge 10…20e5: pressure; " +
	"ambient 2e4…1.1e5: ambient pressure; temperature 200…400: of the supply; distance 1e-3…10: to the web; " + aSigma +
	"; " + aV + "; " +
	aFactor + "; " + aPlus + "; " + aMinus + "; alpha 1e-15…1e-9: recombination coefficient"

func (r row) spec() (AirBarSpec, Blow, error) {
	e, err := NewEmitter(EmitterSpec{Kind: DC, Current: r.Current, Balance: r.Balance})
	return AirBarSpec{Emitter: e, Captured: r.Captured, Jet: jet.JetSpec{Kind: jet.Row, Width: r.Hole, Pitch: r.Pitch},
			Distance: r.Distance,
			Ions:     Ions{Plus: r.Plus, Minus: r.Minus, Alpha: r.Alpha}},
		Blow{Gauge: r.Gauge, Ambient: r.Ambient, Temperature: r.Temperature, Discharge: r.Discharge}, err
}

// blown is what an air-assisted bar brings and leaves.
type blown struct {
	plus, minus, recombination, repulsion units.LineCurrent
	speed                                 units.Speed
	breadth                               metre
	residual                              sigma
	mass                                  float64
	efficiency                            units.Ratio
	source                                units.NumberDensity
}

func airBar(r row) (out blown, err error) {
	spec, air, err := r.spec()
	if err != nil {
		return out, err
	}
	b, m, err := spec.Blown(air)
	if err != nil {
		return out, err
	}
	if _, err := b.Neutraliser(); err != nil {
		return out, err
	}
	d := b.At(r.Distance)
	p, _ := b.Source()
	out = blown{d.PlusCurrent, d.MinusCurrent, d.Recombination, d.Repulsion, d.Speed, d.Breadth,
		b.Residual(r.Sigma, r.Speed, r.Factor), m, 0, p}
	if r.Sigma != 0 {
		out.efficiency = b.Efficiency(r.Sigma, r.Speed, r.Factor)
	}
	return out, nil
}

// needed looks backwards: what a bar needs for a wanted residual.
func needed(r row, want sigma, search int) (x metre, i units.LineCurrent, g units.GaugePressure, err error) {
	spec, air, err := r.spec()
	if err != nil {
		return
	}
	if search == 2 {
		g, err = LeastGaugeFor(spec, air, want, r.Sigma, r.Speed, r.Factor, units.GaugePressure(100), 10*units.BarGauge)
		return
	}
	b, _, err := spec.Blown(air)
	if err != nil {
		return
	}
	if search == 1 {
		i, err = b.LeastCurrentFor(want, r.Sigma, r.Speed, r.Factor, units.LineCurrent(1e-9), units.LineCurrent(0.1))
		return
	}
	x, err = b.FarthestFor(want, r.Sigma, r.Speed, r.Factor, 5*units.Millimetre, 3*units.Metre)
	return
}

func barComputations() []compute.Entry {
	return []compute.Entry{
		compute.Of("AirBar", airBar, derived("nozzle, jet and closed-form population of this package"),
			"= An air-assisted bar with a row of holes: what its stream carries to the web, both ceilings, and what it leaves.",
			"! high-voltage compressed-air", aRow,
			"-> plus: carried; minus: carried; recombination: ceiling; repulsion: ceiling; speed: of the plume; "+
				"breadth: of the plume",
			"residual: magnitude; mass [kg/(s·m)]: air; efficiency: share removed; source_plus: density at the source"),
		compute.Of("AirBar.FarthestFor", needed, derived("scan and bisection over the bar of ionflow.AirBar"),
			"= What an air-assisted bar needs to leave a wanted residual: the farthest distance, or at its distance the "+
				"least emission or pressure, "+
				"the rest as given.", "! high-voltage compressed-air", aRow, "want 1e-12…1: magnitude of the residual",
			"search {distance 5 mm … 3 m|emission 1 nA/m … 0.1 A/m|gauge pressure 100 Pa … 10 bar}: which quantity",
			"-> distance: 0 if not searched; emission: 0 if not searched; gauge: 0 if not searched"),
		compute.Of("NewUnassisted", func(es EmitterSpec, d, pitch metre, start units.Voltage, wind units.Speed, net sigma,
			v units.Speed, f float64,
			i pair) (deposit, floor sigma, saturation units.LineCurrent, reach metre, err error) {
			e, err := NewEmitter(es)
			if err != nil {
				return
			}
			s := UnassistedSpec{Emitter: e, Distance: d, Pitch: pitch, Start: start, Crosswind: wind, Ions: i.ions()}
			n, err := NewUnassisted(s)
			if err != nil {
				return
			}
			deposit, _ = n.Act(net, v, f)
			saturation, _ = s.Saturation()
			return deposit, s.Floor(), saturation, metre(min(float64(s.Reach()), 1e308)), nil
		}, recalled("R. S. Sigmond, J. Appl. Phys. 53 (1982) 891, for the saturation current; the rest is derived"),
			"= A powered bar without air: floor, reach, saturation current, and what it adds to a web.", "! high-voltage",
			"kind {DC|AC|pulsed}: of emitter; current 1e-9…0.1: emission per polarity; _; voltage 100…50e3: of the points; "+
				"switch 0…1e5: 0 for DC; _", "distance 1e-3…1: to the web; pitch 1e-3…1: of the points; "+
				"start 0…50e3: corona onset of the points; crosswind 0…100: of the air",
			aSigma, aV, aFactor, aIons, "-> deposit: on the web; floor: least that stays; saturation: current; "+
				"reach: 1e308 for DC"),
		compute.Of("FarthestUnassisted", func(i units.LineCurrent, u units.Voltage, f units.Frequency, want, net sigma,
			v units.Speed, factor float64,
			p, m units.Mobility) (metre, error) {
			e, err := NewEmitter(EmitterSpec{Kind: AC, Current: i, Voltage: u, Switch: f})
			if err != nil {
				return 0, err
			}
			s := UnassistedSpec{Emitter: e, Pitch: 10 * units.Millimetre, Start: 3 * units.Kilovolt,
				Ions: Ions{Plus: p, Minus: m}}
			return FarthestUnassisted(s, want, net, v, factor, 5*units.Millimetre, 1*units.Metre)
		}, derived("scan and bisection over the bar of ionflow.NewUnassisted"),
			"= The farthest distance, 5 mm … 1 m, at which an AC bar without air leaves a wanted residual (points 10 mm "+
				"apart that start at 3 kV, "+
				"no crosswind).", "! high-voltage", "current 1e-9…0.1: emission per polarity; "+
				"voltage 3.1e3…50e3: of the points; switch 0.01…1e5: frequency",
			"want 1e-12…1: magnitude of the residual", aSigma, aV, aFactor, aPlus, aMinus, "-> distance: farthest"),
	}
}
