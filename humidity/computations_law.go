package humidity

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// lawTold is what is told about a law in given air.
type lawTold[Q Value] struct {
	value   Q
	decades float64
	flags   known.Validity
}

func tellLaw[Q Value](l Law[Q], a Air) lawTold[Q] {
	return lawTold[Q]{l.Value(a), l.Decades(a), l.Validity(a)}
}

const lawResults = "-> value: median; decades: spread of log10; flags: validity flags"

// climate is the air of an entry.
type climate struct {
	T  units.Temperature
	RH units.RelativeHumidity
	P  units.Pressure
}

func (p climate) air() (Air, error) { return NewAir(p.T, p.RH, p.P) }

func lawComputations() []compute.Entry {
	type ohm = units.SheetResistance
	type rhs = units.RelativeHumidity
	type content = MoistureContent
	const value = " 1e-12…1e25: value there"
	const evaluate = "temperature" + anyT + ": air; rh 0…1: relative humidity to evaluate at; " + aPressure
	const stated = "decades 0…4: standard deviation of log10 stated; low 0…1: least RH it holds for; high 0…1: greatest"
	straight := known.Source{Provenance: known.Computed,
		Cite: "straight line of log x over RH, least squares in closed form"}
	film := known.Source{Provenance: known.Computed, Cite: "straight line of log x over (1 − h)², least squares in " +
		"closed form"}
	arrhenius := known.Source{Provenance: known.Computed, Cite: "Arrhenius' law, least squares in closed form"}
	hearle := known.Source{Provenance: known.Memory, Cite: "J. W. S. Hearle, J. Text. Inst. 44 (1953) T117",
		Note: "not compared with the source"}
	return []compute.Entry{
		compute.Of("LogLinear", func(points [2]Point[ohm], scatter float64, at climate, limit ohm) (told lawTold[ohm],
			perPercent float64, reach rhs, low, high rhs, err error) {
			l, err := FitLogLinear(points[:], &FitSettings{Scatter: scatter})
			if err != nil {
				return
			}
			air, err := at.air()
			low, high = l.Range()
			return tellLaw(l, air), l.DecadesPerPercent(), l.RelativeHumidity(limit), low, high, err
		}, straight, "= log10 x = log10 x_0 − b(RH − RH_0) through two measured points, its spread, and the humidity at "+
			"which it reaches a value.",
			"rh# 0…1: relative humidity of the point; value#"+value, "scatter 0…3: known standard deviation of log10 "+
				"of a test, 0 if none is",
			evaluate, "limit 1e-12…1e25: value to reach",
			lawResults, "per_percent [1/%RH]: decades per %RH; rh_limit: humidity at the limit; low: least humidity of the "+
				"points; high: greatest"),
		compute.Of64("NewLogLinear", func(p Point[ohm], slope, decades float64, low, high, rh rhs) (ohm, float64, known.Band,
			error) {
			l, err := NewLogLinear(p, slope, decades, low, high)
			return l.At(rh), l.DecadesAt(rh), l.BandAt(rh), err
		}, straight, "rh1 0…1: relative humidity of the point; value1"+value+"; slope [1/%RH] -10…10: decades per %RH",
			stated,
			"rh 0…1: relative humidity to evaluate at",
			"-> value: median; decades: spread of log10; band: median; spread: standard deviation of the natural logarithm; "+
				"kind: of the band"),
		compute.Of52("ThresholdFor", func(points [2]Point[ohm], scatter float64, limit ohm, t units.Temperature,
			p units.Pressure) (Threshold, error) {
			l, err := FitLogLinear(points[:], &FitSettings{Scatter: scatter})
			if err != nil {
				return Threshold{}, err
			}
			return ThresholdFor(l, limit, t, p)
		}, straight, "= Humidity and dew point from which a log-linear law through two measured points stays below a "+
			"limit, with their bands.",
			"rh# 0…1: relative humidity of the point; value#"+value, "scatter 0…3: known standard deviation of log10 "+
				"of a test, 0 if none is",
			"limit 1e-12…1e25: value to reach; temperature"+anyT+": of the place", aPressure,
			"-> rh: humidity from which the median is below; rh_low: 5 % limit; rh_high: 95 % limit; "+
				"dew_point: dew point of rh; "+
				"dew_point_low: of rh_low; dew_point_high: of rh_high; unreached: more than 5 % of samples stay above at 100 %RH; "+
				"flags: validity flags"),
		compute.Of("NewSourced", func(p Point[ohm], slope, decades float64, lo, hi units.Temperature, recalled bool,
			at climate) (told lawTold[ohm],
			low, high units.Temperature, err error) {
			l, err := NewLogLinear(p, slope, decades, rhs(0), rhs(1))
			if err != nil {
				return
			}
			src := known.Source{Provenance: known.Published}
			if recalled {
				src.Provenance = known.Memory
			}
			s, err := NewSourced(l, src, lo, hi)
			if err != nil {
				return
			}
			air, err := at.air()
			low, high = s.Temperatures()
			return tellLaw(s, air), low, high, err
		}, known.Source{Provenance: known.CommonPractice, Note: "an unknown activation energy of up to 1 eV"},
			"= A law stated between two temperatures, in air of any temperature: its spread grows outside them.",
			"rh1 0…1: relative humidity of the point; value1"+value+"; slope [1/%RH] 0…1: decades per %RH; decades 0…3: "+
				"spread of log10 stated; "+
				"low"+anyT+": least temperature it holds for; high"+anyT+": greatest; memory: whether it rests on memory",
			evaluate, lawResults, "low: least temperature; high: greatest"),
		compute.Of("NewAtLeast", func(limit ohm, at climate) (ohm, float64, known.Band, known.Validity, error) {
			l, err := NewAtLeast(limit)
			if err != nil {
				return 0, 0, known.Band{}, 0, err
			}
			air, err := at.air()
			return l.Value(air), l.Decades(air), Band(l, air), l.Validity(air), err
		}, known.Source{Provenance: known.Definition, Cite: "a lower limit"}, "limit"+value, evaluate,
			"-> value: the limit; decades: its spread, 0; band: the limit; spread: 0; kind: at least; flags: a lower limit"),
		compute.Of33("AdsorbedFilm", func(points [2]Point[ohm], scatter float64, at climate) (told lawTold[ohm], k float64,
			err error) {
			l, err := FitAdsorbedFilm(points[:], &FitSettings{Scatter: scatter})
			if err != nil {
				return
			}
			air, err := at.air()
			return tellLaw(l, air), l.K(), err
		}, film, "= ρ_s = ρ_d·exp[k(1 − h)²] through two measured points.",
			"rh# 0…1: relative humidity of the point; value#"+value, "scatter 0…3: known standard deviation of log10 "+
				"of a test, 0 if none is",
			evaluate, lawResults, "k: k"),
		compute.Of62("NewAdsorbedFilm", func(wet ohm, k, decades float64, low, high, rh rhs) (ohm, error) {
			l, err := NewAdsorbedFilm(wet, k, decades, low, high)
			return l.At(rh), err
		}, film, "wet 1e-12…1e25: value at 100 %RH; k 0…200: k", stated, "rh 0…1: relative humidity to "+
			"evaluate at -> value: median"),
		compute.Of("MoisturePower", func(p WetPoint[units.MassResistivity, content], n float64, m content, monolayer Regain,
			c, k float64, rh rhs,
			mismatch float64) (value units.MassResistivity, log10 float64, chained lawTold[units.MassResistivity], err error) {
			l, err := NewMoisturePower(p, n, SampleDecades, content(0.01), content(0.5))
			if err != nil {
				return
			}
			g, err := NewGAB(monolayer, c, k, 0, rhs(1))
			if err != nil {
				return
			}
			ch, err := Chain(l, g, mismatch)
			if err != nil {
				return
			}
			air, err := NewAir(units.Celsius(20), rh, units.Atmosphere)
			return l.At(m), math.Log10(float64(l.At(m))), tellLaw(ch, air), err
		}, hearle, "= Hearle's law log10 x = log10 x_0 − n log10(M/M_0) in moisture content, and chained through a "+
			"GAB isotherm in regain.",
			"m0 1e-6…0.999: moisture content of the known value; value0"+value+"; n 0…30: exponent; m "+
				"1e-6…0.999: moisture content",
			"monolayer 1e-4…1: R_0 of the isotherm, regain; c 1e-3…1000: C; k 1e-3…0.999: K; rh 0…1: of the air; "+
				"mismatch 0…4: decades between isotherm and law",
			"-> value: at m; log10: of value; chained: in the air; decades: spread of the chain; flags: "+
				"validity flags of the chain"),
		compute.Of24("FitMoisturePower", func(points [2]WetPoint[units.MassResistivity, content],
			m content) (units.MassResistivity, float64, float64, error) {
			l, err := FitMoisturePower(points[:], nil)
			return l.At(m), l.Exponent(), l.DecadesAt(m), err
		}, hearle, "m# 1e-6…0.999: moisture content of the point; value#"+value,
			"m 1e-6…0.999: moisture content to evaluate at",
			"-> value: at m; n: exponent; decades: spread of log10"),
		compute.Of("Arrhenius", func(t0 units.Temperature, value0 units.VolumeResistivity, activation, doubt float64,
			t units.Temperature, rh rhs,
			p units.Pressure) (told lawTold[units.VolumeResistivity], ratio float64, constant, warmed units.VolumeResistivity,
			err error) {
			l, err := NewArrhenius(ArrheniusSpec[units.VolumeResistivity]{At: HotPoint[units.VolumeResistivity]{t0, value0},
				Activation: activation, Error: doubt, Decades: SampleDecades, Low: lowestT, High: highestT, Held: HeldHumidity})
			if err != nil {
				return
			}
			air, err := NewAir(t, rh, p)
			if err != nil {
				return
			}
			c, err := NewConstant(value0, SampleDecades)
			if err != nil {
				return
			}
			w, err := NewWarmed(c, l, t0)
			told = tellLaw(l, air)
			return told, float64(told.value) / float64(value0), tellLaw(c, air).value, tellLaw(w, air).value, err
		}, arrhenius, "= x = x_0·exp[(E_a/R)(1/T − 1/T_0)], and a law in humidity carried to that temperature.",
			"t0"+anyT+": of the known value; value0"+value+"; activation [J/mol] 0…400e3: E_a; error [J/mol] 0…200e3=0: its "+
				"standard deviation; temperature"+anyT+": to evaluate at",
			"rh 0…1: of the air", aPressure, lawResults,
			"ratio: value over value0; constant: an inert material in the same air; warmed: the inert value "+
				"carried to the temperature"),
		compute.Of("FitArrhenius", func(points [2]HotPoint[units.VolumeResistivity],
			t units.Temperature) (v units.VolumeResistivity, e, doubt float64, h Held,
			err error) {
			l, err := FitArrhenius(points[:], HeldHumidity, nil)
			e, doubt = l.Activation()
			return l.At(t), e, doubt, l.Held(), err
		}, arrhenius, "t#"+anyT+": of the point; value#"+value, "t"+anyT+": temperature to evaluate at",
			"-> value: at t; activation [J/mol]: E_a; error [J/mol]: its spread; held: what was held while it was measured"),
	}
}
