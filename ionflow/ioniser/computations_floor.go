package ioniser

import (
	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func searchEntries() []compute.Entry {
	return []compute.Entry{
		compute.Of("BlownSearch", func(b blown, what int, want, net units.SurfaceChargeDensity, v units.Speed,
			gap units.Length, lo, hi float64) (float64, units.SurfaceChargeDensity, known.Validity, error) {
			s, err := b.spec()
			if err != nil {
				return 0, 0, 0, err
			}
			w := Web{net, v, gap}
			switch what {
			case 0:
				f, err := s.Farthest(want, w, units.Length(lo), units.Length(hi))
				return float64(f.Value), f.Left, f.Validity, err
			case 1:
				f, err := s.LeastCurrent(want, w, units.LineCurrent(lo), units.LineCurrent(hi))
				return float64(f.Value), f.Left, f.Validity, err
			}
			f, err := LeastAir(s, func(u units.Speed) (Stream, error) {
				return Plume{Speed: u, Width: b.Width, Core: b.Core, Row: b.Row}, nil
			}, want, w, units.Speed(lo), units.Speed(hi))
			return float64(f.Value), f.Left, f.Validity, err
		}, marched, "= What a blown bar needs to leave a wanted residual: the farthest distance, the least "+
			"emission or the least air speed within a range.", itemBlown,
			"quantity {distance|emission|air}: which; want 1e-12…1e-3: residual; net -1e-3…1e-3: of the web; "+
				"speed 1e-6…1e3: of the web; gap 1e-6…1e9: to metal behind it; "+
				"low [SI unit of the quantity] 1e-9…1e3: of the range; "+
				"high [SI unit of the quantity] 1e-9…1e3: of the range",
			itemCorona, "-> value [SI unit of the quantity]: found; left: there; validity: flags"),
		compute.Of("PointSearch", func(a powered, what int, want, net units.SurfaceChargeDensity,
			v units.Speed, gap units.Length, lo, hi float64) (float64, units.SurfaceChargeDensity, error) {
			s, err := a.spec()
			if err != nil {
				return 0, 0, err
			}
			w := Web{net, v, gap}
			if what == 0 {
				f, err := s.Farthest(want, w, units.Length(lo), units.Length(hi))
				return float64(f.Value), f.Left, err
			}
			f, err := s.LeastVoltage(want, w, units.Voltage(lo), units.Voltage(hi))
			return float64(f.Value), f.Left, err
		}, ownField, "= What a powered bar without air needs to leave a wanted residual: the farthest distance "+
			"or the least voltage within a range.", itemPowered,
			"quantity {distance|voltage}: which; want 1e-12…1e-3: residual; net -1e-3…1e-3: of the web; "+
				"speed 1e-6…1e3: of the web; gap 1e-6…1e9: to metal behind it; "+
				"low [SI unit of the quantity] 1e-3…1e5: of the range; "+
				"high [SI unit of the quantity] 1e-3…1e5: of the range",
			itemCorona, "-> value [SI unit of the quantity]: found; left: there"),
		compute.Of("CleanAfter", func(b blown, want, net units.SurfaceChargeDensity, v units.Speed,
			gap units.Length, rate units.Frequency, spread float64) ([3]units.Time, error) {
			s, err := b.spec()
			if err != nil {
				return [3]units.Time{}, err
			}
			m, early, late, err := s.CleanAfter(want, Web{net, v, gap}, known.Band{Value: float64(rate),
				Spread: spread, Kind: known.LogNormal})
			return [3]units.Time{m, early, late}, err
		}, marched, "= Time of work after which the points of a blown bar must have been cleaned, if their "+
			"emission falls exponentially.", itemBlown,
			"want 1e-12…1e-3: residual; net -1e-3…1e-3: of the web; speed 1e-6…1e3: of the web; "+
				"gap 1e-6…1e9: to metal behind it; rate 1e-12…1: at which the emission falls; "+
				"spread 0…3 = 0: standard deviation of its logarithm",
			itemCorona, "-> time_#: median, early end and late end"),
	}
}

func floorEntries() []compute.Entry {
	return []compute.Entry{
		compute.Of32("PlateOffset", PlateOffset, derived("the web comes to the voltage of the plate"),
			"voltage -50e3…50e3: that the plate monitor shows; distance 1e-4…10: of its plate and of the web; "+
				"gap 1e-6…1e9: to metal behind the web", itemCorona, "-> low: without space charge; high: with full space charge"),
		compute.Of31("Shown", Shown, derived("Gauss' law between two earthed planes"),
			"net -1e-3…1e-3: of the web; distance 1e-4…10: of the meter, for which it is calibrated; "+
				"gap 1e-6…1e9: to metal behind the web", "-> display: of the meter"),
		compute.Of21("GapOf", GapOf, derived("inverse of the field factor"),
			"distance 1e-6…100: of the earthed face; factor [1] 0…0.999999: field factor of the place",
			"-> gap: to metal behind the web"),
		compute.Of24("Sheet", MakerSheet.Totals, derived("per metre times length"),
			"power [W/m] 0…1e5: of the maker's sheet; ozone [kg/(s·m)] 0…1: of it; air [kg/(s·m)] 0…100: of it; "+
				"length 1e-3…100: of the bar", "-> power: in all; ozone: in all; air: in all",
			itemCorona, "= Power, ozone and air of a bar from what its maker states per metre."),
		compute.Of("Spot", func(i units.Current, captured float64, hole units.Length, u units.Speed,
			d units.Length, plus, minus units.Mobility, alpha units.RecombinationCoefficient, q units.Charge,
			dwell units.Time, exposed float64, want units.Charge) (units.Charge, units.Charge, units.Current,
			units.Current, units.Time, units.Current, units.Current, error) {
			em, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.DC, Current: units.MicroamperePerMetre})
			if err != nil {
				return 0, 0, 0, 0, 0, 0, 0, err
			}
			j, err := jet.NewJet(jet.JetSpec{Kind: jet.Round, Width: hole, Speed: u})
			if err != nil {
				return 0, 0, 0, 0, 0, 0, 0, err
			}
			s, err := NewSpot(SpotSpec{Emitter: em, Points: i, Captured: captured, Jet: j, Distance: d,
				Ions: ionsOf(plus, minus, alpha)})
			if err != nil {
				return 0, 0, 0, 0, 0, 0, 0, err
			}
			t := s.Act(q, dwell, exposed)
			p, m := s.Carried(d)
			return t.Left, t.Least, t.Supply, t.Most, min(s.DwellFor(want, q, exposed), 1e9*units.Second), p, m, nil
		}, derived("population of a round jet and conduction to a part"),
			"= An ionising nozzle on a part: what it leaves within a dwell, what the plume brings, and the "+
				"dwell for a wanted residual.",
			"current 1e-12…1: ion current of each polarity; captured 1e-6…1: share that leaves with the air; "+
				"hole 1e-4…0.1: diameter; speed 0.1…700: of the jet at the hole; distance 1e-3…10: of the part; "+
				""+itemIons+"; charge -1e-3…1e-3: of the part; dwell 0…1e4: in the plume; "+
				"exposed 0…1 = 1: share of its field that ends in the air; want 1e-15…1e-3: residual",
			itemCorona, "-> left: after the dwell, by the smaller supply; least: by the greater; "+
				"supply: of the polarity needed, smaller; most: greater; "+
				"dwell_for: dwell for the wanted residual; carried_plus: by the plume at the part; "+
				"carried_minus: the same"),
	}
}
