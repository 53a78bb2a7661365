package ionflow

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func surfaceComputations() []compute.Entry {
	lambda := arg("conductivity", "S/m", 1e-16, 1e-3, "polar conductivity of the opposite polarity")
	supply := arg("supply", "A/m", 1e-12, 1, "most that the source brings per metre")
	zone := arg("zone", "m", 1e-4, 10, "length of the plume on the web")
	cap := arg("capacitance", "F", 1e-14, 1, "")
	v1, v2 := arg("voltage_1", "V", 1, 1e6, "at the start"), arg("voltage_2", "V", 1e-3, 1e6, "at the end")
	ionArgs := args(aPlus, aMinus, aAlpha)
	ions := func(a []float64) Ions {
		return Ions{Plus: units.Mobility(a[0]), Minus: units.Mobility(a[1]), Alpha: units.RecombinationCoefficient(a[2])}
	}
	return []compute.Entry{
		{Name: "ionflow.Demand", Doc: "Current per width that a moving charge demands, σ·v.", Args: args(aSigma, aV), Results: args(out("demand", "A/m", "")),
			Covers: names("Demand"), Source: published("K. Robinson, Why static is worse at high speeds, Paper, Film & Foil Converter (2001)"),
			Eval: func(r, a []float64) error {
				r[0] = float64(Demand(units.SurfaceChargeDensity(a[0]), units.Speed(a[1])))
				return nil
			}},
		{Name: "ionflow.SpeedForMargin", Doc: "Web speed at which a source has a margin over the demand.", Args: args(arg("source", "A/m", 0, 1, ""), arg("sigma", "C/m²", 1e-12, 1, ""), arg("margin", "1", 0.1, 1000, "")),
			Results: args(out("speed", "m/s", "")), Covers: names("SpeedForMargin"), Source: published("K. Robinson, Why static is worse at high speeds, Paper, Film & Foil Converter (2001)"),
			Eval: func(r, a []float64) error {
				r[0] = float64(SpeedForMargin(units.LineCurrent(a[0]), units.SurfaceChargeDensity(a[1]), a[2]))
				return nil
			}},
		{Name: "ionflow.FacingField", Doc: "Field σ/ε0 of a face all of whose flux goes to one side.", Args: args(aSigma), Results: args(out("field", "V/m", "")), Covers: names("FacingField"), Source: derived("Gauss's law"),
			Eval: func(r, a []float64) error {
				r[0] = float64(FacingField(units.SurfaceChargeDensity(a[0])))
				return nil
			}},
		{Name: "ionflow.ChargeAtField", Doc: "Charge density ε0·E of a field to one side.", Args: args(arg("field", "V/m", -1e9, 1e9, "")), Results: args(out("sigma", "C/m²", "")), Covers: names("ChargeAtField"), Source: derived("Gauss's law"),
			Eval: func(r, a []float64) error { r[0] = float64(ChargeAtField(units.ElectricField(a[0]))); return nil }},
		{Name: "ionflow.Removed", Doc: "Current density e·n·u that air carries of one polarity, and what it takes from a web along a zone.", Args: args(aN0, aU, zone, arg("web_speed", "m/s", 1e-6, 100, "")),
			Results: args(out("current", "A/m²", ""), out("removed", "C/m²", "")), Covers: names("CarriedCurrent", "Removed"), Source: derived("conservation of charge"),
			Eval: func(r, a []float64) error {
				j := CarriedCurrent(units.NumberDensity(a[0]), units.Speed(a[1]))
				r[0], r[1] = float64(j), float64(Removed(j, units.Length(a[2]), units.Speed(a[3])))
				return nil
			}},
		{Name: "ionflow.CrossingField", Doc: "Field u/μ at which ions drift as fast as the air.", Args: args(aU, aMu), Results: args(out("field", "V/m", "")), Covers: names("CrossingField"), Source: derived("definition of mobility"),
			Eval: func(r, a []float64) error {
				r[0] = float64(CrossingField(units.Speed(a[0]), units.Mobility(a[1])))
				return nil
			}},
		{Name: "ionflow.RecombinationLimit", Doc: "Most that air can bring at a distance, e·v²/(αL).", Args: args(arg("alpha", "m³/s", 1e-15, 1e-9, ""), aU, arg("distance", "m", 1e-4, 100, "")),
			Results: args(out("current", "A/m²", "")), Covers: names("RecombinationLimit"), Source: derived("n ≤ 1/(αt) with t = L/v"),
			Eval: func(r, a []float64) error {
				r[0] = float64(RecombinationLimit(units.RecombinationCoefficient(a[0]), units.Speed(a[1]), units.Length(a[2])))
				return nil
			}},
		{Name: "ionflow.OffsetField", Doc: "Field at which a floating surface in an imbalanced stream takes no current.", Args: args(append(args(aU, aNp, aNm), ionArgs...)...), Results: args(out("field", "V/m", "")),
			Covers: names("OffsetField"), Source: derived("zero net current of drift and air"),
			Eval: func(r, a []float64) error {
				r[0] = float64(OffsetField(units.Speed(a[0]), units.NumberDensity(a[1]), units.NumberDensity(a[2]), ions(a[3:])))
				return must("field", r[0])
			}},
		{Name: "ionflow.DiffusionOffset", Doc: "Potential (kT/e)·ln(λ+/λ−) of a body in still ionised air.", Args: args(arg("plus", "S/m", 1e-18, 1, ""), arg("minus", "S/m", 1e-18, 1, ""), aT), Results: args(out("voltage", "V", "")),
			Covers: names("DiffusionOffset"), Source: derived("equal currents of both polarities through a diffusion layer"),
			Eval: func(r, a []float64) error {
				r[0] = float64(DiffusionOffset(units.Conductivity(a[0]), units.Conductivity(a[1]), units.Temperature(a[2])))
				return nil
			}},
		{Name: "ionflow.DoubleLayerVoltage", Doc: "Voltage σd/(ε0εr) across a film with unlike faces.", Args: args(aSigma, arg("thickness", "m", 1e-7, 1, ""), arg("epsr", "1", 1, 1e4, "")), Results: args(out("voltage", "V", "")),
			Covers: names("DoubleLayerVoltage"), Source: derived("Gauss's law"),
			Eval: func(r, a []float64) error {
				r[0] = float64(DoubleLayerVoltage(units.SurfaceChargeDensity(a[0]), units.Length(a[1]), a[2]))
				return nil
			}},
		{Name: "ionflow.RollerFactor", Doc: "Field factor of a film on an earthed roller.", Args: args(arg("thickness", "m", 1e-7, 1, ""), arg("epsr", "1", 1, 1e4, ""), arg("gap", "m", 1e-5, 10, "to the source")), Results: args(out("factor", "1", "")),
			Covers: names("RollerFactor"), Source: derived("two capacitors in parallel"),
			Eval: func(r, a []float64) error {
				r[0] = float64(RollerFactor(units.Length(a[0]), a[1], units.Length(a[2])))
				return nil
			}},
		{Name: "ionflow.Neutraliser.Act", Doc: "What an ioniser adds to the near face of a web, airborne ions: (ε0/λ)ln(z1/z2) + (L/I')(z1−z2) = factor·L/v.",
			Args:    args(lambda, supply, zone, arg("offset", "C/m²", -1, 1, ""), arg("onset", "C/m²", 0, 1, ""), aSigma, aV, aF),
			Results: args(out("deposit", "C/m²", ""), out("regime", "1", "index of the regime"), out("efficiency", "1", "0 for a net of 0")),
			Covers:  names("NewNeutraliser", "Neutraliser.Act", "Neutraliser.Efficiency"), Source: derived("balance of a stirred plume, integrated along the zone"),
			Eval: func(r, a []float64) error {
				c := Carriers{Conductivity: units.Conductivity(a[0]), Supply: units.LineCurrent(a[1])}
				n, err := NewNeutraliser(NeutraliserSpec{Plus: c, Minus: c, Zone: units.Length(a[2]), Offset: units.SurfaceChargeDensity(a[3]), Onset: units.SurfaceChargeDensity(a[4])})
				if err != nil {
					return err
				}
				net, v := units.SurfaceChargeDensity(a[5]), units.Speed(a[6])
				d, g := n.Act(net, v, a[7])
				r[0], r[1], r[2] = float64(d), float64(g), 0
				if net != 0 {
					r[2] = float64(n.Efficiency(net, v, a[7]))
				}
				return nil
			}},
		{Name: "ionflow.Neutraliser.ActOn", Doc: "What an airborne source without offset leaves on the two faces of a web; it sees the net and changes the near face.",
			Args:    args(lambda, supply, zone, arg("near", "C/m²", -1, 1, ""), arg("far", "C/m²", -1, 1, ""), aV, aF),
			Results: args(out("near", "C/m²", "afterwards"), out("far", "C/m²", "afterwards"), out("net", "C/m²", "afterwards"), out("column", "C/m²", "deposit, by way of a column of one row")),
			Covers:  names("Neutraliser.ActOn", "Neutraliser.ActTo", "Faces.Net"), Source: derived("balance of a stirred plume; the other face is out of reach"),
			Eval: func(r, a []float64) error {
				c := Carriers{Conductivity: units.Conductivity(a[0]), Supply: units.LineCurrent(a[1])}
				n, err := NewNeutraliser(NeutraliserSpec{Plus: c, Minus: c, Zone: units.Length(a[2])})
				if err != nil {
					return err
				}
				f := Faces{Near: units.SurfaceChargeDensity(a[3]), Far: units.SurfaceChargeDensity(a[4])}
				column := []units.SurfaceChargeDensity{f.Net()}
				if err := n.ActTo(column, column, units.Speed(a[5]), a[6]); err != nil {
					return err
				}
				f, _ = n.ActOn(f, units.Speed(a[5]), a[6])
				r[0], r[1], r[2], r[3] = float64(f.Near), float64(f.Far), float64(f.Net()), float64(column[0])
				return nil
			}},
		{Name: "ionflow.NewUnassisted", Doc: "A powered bar without air: floor, reach, saturation current, and what it adds to a web.",
			Args: args(append(args(choice("kind", "of emitter", "DC", "AC", "pulsed"), arg("current", "A/m", 1e-9, 0.1, "emission per polarity"), arg("voltage", "V", 100, 50e3, "of the points"), arg("switch", "Hz", 0, 1e5, "0 for DC"),
				arg("distance", "m", 1e-3, 1, ""), arg("pitch", "m", 1e-3, 1, "of the points"), arg("start", "V", 0, 50e3, "corona onset of the points"), arg("crosswind", "m/s", 0, 100, ""), aSigma, aV, aF), ionArgs...)...),
			Results: args(out("deposit", "C/m²", ""), out("floor", "C/m²", ""), out("saturation", "A/m", ""), out("reach", "m", "1e308 for DC")),
			Covers:  names("NewUnassisted", "UnassistedSpec.Floor", "UnassistedSpec.Saturation", "UnassistedSpec.Reach", "NewEmitter", "Emitter.Currents"),
			Source:  fromMemory("R. S. Sigmond, J. Appl. Phys. 53 (1982) 891, for the saturation current; the rest is derived"),
			Eval: func(r, a []float64) error {
				e, err := NewEmitter(EmitterSpec{Kind: EmitterKind(a[0]), Current: units.LineCurrent(a[1]), Voltage: units.Voltage(a[2]), Switch: units.Frequency(a[3])})
				if err != nil {
					return err
				}
				s := UnassistedSpec{Emitter: e, Distance: units.Length(a[4]), Pitch: units.Length(a[5]), Start: units.Voltage(a[6]), Crosswind: units.Speed(a[7]), Ions: ions(a[11:])}
				n, err := NewUnassisted(s)
				if err != nil {
					return err
				}
				d, _ := n.Act(units.SurfaceChargeDensity(a[8]), units.Speed(a[9]), a[10])
				sat, _ := s.Saturation()
				r[0], r[1], r[2], r[3] = float64(d), float64(s.Floor()), float64(sat), min(float64(s.Reach()), 1e308)
				return nil
			}},
		{Name: "ionflow.OnsetVoltage", Doc: "Voltage at which a passive needle starts, the residual charge that goes with it, and what the needle adds to a web.",
			Args:    args(choice("law", "of the tip", "Peek, cylinder", "Peek, sphere"), arg("tip", "m", 1e-6, 2e-3, "radius"), arg("distance", "m", 2e-3, 1, "tip to web"), arg("body", "m", 2e-3, 100, "earthed plane to web"), arg("delta", "1", 0.3, 1.5, "relative air density"), aSigma, aV),
			Results: args(out("voltage", "V", ""), out("residual", "C/m²", ""), out("field", "V/m", "at the tip"), out("deposit", "C/m²", "field factor 1, mobilities 1.5e-4")),
			Covers:  names("OnsetVoltage", "OnsetField", "PassiveSpec.Onset", "NewPassive"), Source: fromMemory("F. W. Peek, Dielectric Phenomena in High-Voltage Engineering (1929); field of a hyperboloid tip"),
			Eval: func(r, a []float64) error {
				s := PassiveSpec{Law: TipLaw(a[0]), Tip: units.Length(a[1]), Distance: units.Length(a[2]), Body: units.Length(a[3]), Delta: a[4], Ions: Ions{Plus: units.Mobility(1.5e-4), Minus: units.Mobility(1.5e-4)}}
				n, err := NewPassive(s)
				if err != nil {
					return err
				}
				on, v, _ := s.Onset()
				e, _ := OnsetField(s.Law, s.Tip, s.Delta)
				d, _ := n.Act(units.SurfaceChargeDensity(a[5]), units.Speed(a[6]), 1)
				r[0], r[1], r[2], r[3] = float64(v), float64(on), float64(e), float64(d)
				return nil
			}},
		{Name: "ionflow.Bunches", Doc: "Bunches u/f in the air, stripes v/f on the web, ripple jA/(2fC) of a plate, and the amplitude of the stripes.",
			Args:    args(aU, arg("web_speed", "m/s", 1e-3, 100, ""), arg("switch", "Hz", 0.01, 1e5, ""), arg("current", "A/m²", 0, 10, "amplitude"), arg("area", "m²", 1e-6, 100, "of the plate"), cap, zone, arg("tau", "s", 1e-6, 1e9, "relaxation time in the plume")),
			Results: args(out("bunch", "m", ""), out("stripe", "m", ""), out("ripple", "V", ""), out("amplitude", "C/m²", ""), out("mixes", "1", "1 if a plume as broad as the zone mixes them")),
			Covers:  names("Emitter.BunchPitch", "Emitter.StripePitch", "Emitter.Mixes", "PlateRipple", "Stripe"), Source: derived("kinematics; capacitor equation"),
			Eval: func(r, a []float64) error {
				e, err := NewEmitter(EmitterSpec{Kind: AC, Current: 100 * units.MicroamperePerMetre, Switch: units.Frequency(a[2])})
				if err != nil {
					return err
				}
				u, v, f, j := units.Speed(a[0]), units.Speed(a[1]), units.Frequency(a[2]), units.CurrentDensity(a[3])
				r[0], r[1] = float64(e.BunchPitch(u)), float64(e.StripePitch(v))
				r[2], r[3] = float64(PlateRipple(j, units.Area(a[4]), f, units.Capacitance(a[5]))), float64(Stripe(j, f, units.Length(a[6]), v, units.Time(a[7])))
				if e.Mixes(u, units.Length(a[6])) {
					r[4] = 1
				}
				return nil
			}},
		{Name: "ionflow.TimeToLimit", Doc: "Time after which a source that gets dirty falls to a limit, with its rate from two readings (lognormal spread).",
			Args:    args(arg("clean", "A/m", 1e-12, 1, "current when clean"), arg("now", "A/m", 1e-12, 1, "current after some work"), arg("time", "s", 1, 1e9, "of work between"), arg("limit", "A/m", 1e-12, 1, "least current"), arg("spread", "1", 0, 3, "standard deviation of ln rate")),
			Results: args(out("rate", "1/s", ""), out("median", "s", ""), out("early", "s", "5 %"), out("late", "s", "95 %")), Covers: names("AgeingRate", "TimeToLimit"), Source: derived("exponential fall (an assumption)"),
			Eval: func(r, a []float64) error {
				k := AgeingRate(units.LineCurrent(a[0]), units.LineCurrent(a[1]), units.Time(a[2]))
				if !(k > 0) {
					return known.Wrong("now", units.LineCurrent(a[1]), "less than the clean current")
				}
				m, e, l := TimeToLimit(units.LineCurrent(a[0]), units.LineCurrent(a[3]), known.Band{Value: float64(k), Spread: a[4], Kind: known.LogNormal})
				r[0], r[1], r[2], r[3] = float64(k), float64(m), float64(e), float64(l)
				return nil
			}},
		{Name: "ionflow.Ozone", Doc: "Ozone of a corona current from a measured yield, and its steady share in a ventilated room. A caution, no exposure assessment.",
			Args:    args(arg("current", "A", 0, 1, ""), arg("yield", "kg/C", 0, 1, "measured"), arg("ventilation", "m³/s", 1e-6, 1e4, ""), aT, aP),
			Results: args(out("rate", "kg/s", ""), out("share", "1", "volume share")), Covers: names("OzoneRate", "OzoneConcentration"), Source: derived("mass balance of a well-mixed room"),
			Eval: func(r, a []float64) error {
				m := OzoneRate(units.Current(a[0]), a[1])
				r[0], r[1] = float64(m), float64(OzoneConcentration(m, units.VolumeFlow(a[2]), units.Temperature(a[3]), units.Pressure(a[4])))
				return nil
			}},
		{Name: "ionflow.FreeDecayTime", Doc: "Polar conductivity e·n·μ and the time constant ε0/(e·n·μ) of a body in ionised air.", Args: args(arg("density", "1/m³", 1, 1e25, "of the opposite polarity"), aMu),
			Results: args(out("time", "s", ""), out("conductivity", "S/m", "")), Covers: names("FreeDecayTime", "PolarConductivity"), Source: published("N. Jonassen, Compliance Engineering (2002), Parts I and II"),
			Eval: func(r, a []float64) error {
				l := PolarConductivity(units.NumberDensity(a[0]), units.Mobility(a[1]))
				r[0], r[1] = float64(FreeDecayTime(l)), float64(l)
				return nil
			}},
		{Name: "ionflow.PlateDecayCurrent", Doc: "Mean current, and first current of an exponential fall, of a plate.", Args: args(cap, v1, v2, arg("time", "s", 1e-6, 1e9, "")),
			Results: args(out("mean", "A", ""), out("first", "A", "")), Covers: names("MeanPlateCurrent", "ExponentialPlateCurrent"), Source: derived("I = C dV/dt"),
			Eval: func(r, a []float64) error {
				c, a1, a2, t := units.Capacitance(a[0]), units.Voltage(a[1]), units.Voltage(a[2]), units.Time(a[3])
				r[0], r[1] = float64(MeanPlateCurrent(c, a1, a2, t)), float64(ExponentialPlateCurrent(c, a1, a2, t))
				return nil
			}},
		{Name: "ionflow.PlateCurrent", Doc: "Current of a stream to a plate at a voltage, 1/I = 1/I0 + 1/I_s.", Args: args(arg("voltage", "V", -1e6, 1e6, ""), arg("exposed", "F", 0, 1, "capacitance that faces the air"), lambda, arg("supply", "A", 0, 1, "")),
			Results: args(out("current", "A", "")), Covers: names("PlateCurrent"), Source: derived("balance of a stirred plume"),
			Eval: func(r, a []float64) error {
				r[0] = float64(PlateCurrent(units.Voltage(a[0]), units.Capacitance(a[1]), units.Conductivity(a[2]), units.Current(a[3])))
				return nil
			}},
		{Name: "ionflow.SquarePlateCapacitance", Doc: "Capacitance of a thin square plate alone in space.", Args: args(arg("side", "m", 1e-6, 1e3, "")), Results: args(out("capacitance", "F", "")),
			Covers: names("SquarePlateCapacitance"), Source: fromMemory("F. H. Read, J. Comput. Phys. 133 (1997) 1"),
			Eval: func(r, a []float64) error { r[0] = float64(SquarePlateCapacitance(units.Length(a[0]))); return nil }},
		{Name: "ionflow.Collect", Doc: "Charge that ionised air takes from a part in its dwell.", Args: args(arg("charge", "C", -1, 1, ""), arg("dwell", "s", 0, 1e6, ""), arg("exposed", "1", 0, 1, "share of the field that ends in the air"), lambda, arg("supply", "A", 0, 1, "of the plume")),
			Results: args(out("taken", "C", ""), out("regime", "1", "index of the regime")), Covers: names("Collect"), Source: derived("balance of a stirred plume, integrated over the dwell"),
			Eval: func(r, a []float64) error {
				q, g := Collect(units.Charge(a[0]), units.Time(a[1]), a[2], units.Conductivity(a[3]), units.Current(a[4]))
				r[0], r[1] = float64(q), float64(g)
				return nil
			}},
		{Name: "ionflow.PowderDemand", Doc: "Ion current that a powder stream demands, and the cross-section of air from which one charge collects.", Args: args(arg("mass_flow", "kg/s", 0, 1e3, ""), arg("charge_per_mass", "C/kg", -1, 1, ""), arg("charge", "C", -1, 1, "of one part"), aMu, arg("speed", "m/s", 1e-3, 1e3, "of the air")),
			Results: args(out("demand", "A", ""), out("area", "m²", "")), Covers: names("PowderDemand", "CaptureArea"), Source: derived("conservation of charge; field lines that end on ions"),
			Eval: func(r, a []float64) error {
				r[0] = float64(PowderDemand(units.MassFlow(a[0]), units.ChargePerMass(a[1])))
				r[1] = float64(CaptureArea(units.Charge(a[2]), units.Mobility(a[3]), units.Speed(a[4])))
				return nil
			}},
		{Name: "ionflow.DrivenPair", Doc: "What opposed sources of opposite polarity put on the two faces, and the current that clears a double layer.", Args: args(arg("current", "A/m", -0.1, 0.1, "per side"), arg("imbalance", "1", -1, 1, ""), arg("web_speed", "m/s", 1e-6, 100, ""), arg("near", "C/m²", -1, 1, ""), arg("far", "C/m²", -1, 1, "")),
			Results: args(out("near", "C/m²", "deposit"), out("far", "C/m²", "deposit"), out("needed", "A/m", "")), Covers: names("NewDrivenPair", "DrivenPair.Act", "PairFor"), Source: derived("conservation of charge"),
			Eval: func(r, a []float64) error {
				p, err := NewDrivenPair(DrivenPairSpec{Current: units.LineCurrent(a[0]), Imbalance: a[1]})
				if err != nil {
					return err
				}
				f := p.Act(units.Speed(a[2]))
				need, err := PairFor(Faces{Near: units.SurfaceChargeDensity(a[3]), Far: units.SurfaceChargeDensity(a[4])}, units.Speed(a[2]))
				r[0], r[1], r[2] = float64(f.Near), float64(f.Far), float64(need.Current)
				return err
			}},
		airBarComputation(), searchComputation(), farthestComputation(),
	}
}
