package humidity

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// lawResults are what is told about a law in given air.
func lawResults() []compute.Arg {
	return []compute.Arg{result("value", "SI", "median"), result("decades", "1", "standard deviation of log10"), result("flags", "1", "validity flags")}
}

func tellLaw[Q Value](r []float64, l Law[Q], a Air) {
	r[0], r[1], r[2] = float64(l.Value(a)), l.Decades(a), float64(l.Validity(a))
}

func lawComputations() []compute.Entry {
	valueArg := func(name, doc string) compute.Arg { return arg(name, "SI", doc, 1e-12, 1e25) }
	sample := arg("sample", "1", "sample-to-sample standard deviation of log10, 0 for the default", 0, 3)
	fit := known.Source{Provenance: known.Computed, Cite: "least squares in closed form"}
	twoPoints := []compute.Arg{rhArg("rh1", "relative humidity of the first point"), valueArg("value1", "value there"), rhArg("rh2", "of the second point"), valueArg("value2", "value there"), sample,
		temperatureArg("temperature", "air"), rhArg("rh", "relative humidity to evaluate at"), pressureArg()}
	points := func(a []float64) []Point[units.SheetResistance] {
		return []Point[units.SheetResistance]{{units.RelativeHumidity(a[0]), units.SheetResistance(a[1])}, {units.RelativeHumidity(a[2]), units.SheetResistance(a[3])}}
	}
	return []compute.Entry{{
		Name:    "humidity.LogLinear",
		Doc:     "log10 x = log10 x_0 − b(RH − RH_0) through two measured points, its spread, and the humidity at which it reaches a value.",
		Args:    append(twoPoints[:len(twoPoints):len(twoPoints)], valueArg("limit", "value to reach")),
		Results: append(lawResults(), result("per_percent", "1/%RH", "decades per %RH"), result("rh_limit", "1", "humidity at the limit"), result("stated", "SI", "value of the same law stated instead of fitted")),
		Covers: []string{"FitLogLinear", "NewLogLinear", "LogLinear.At", "LogLinear.Value", "LogLinear.Decades", "LogLinear.DecadesAt", "LogLinear.BandAt", "LogLinear.Validity",
			"LogLinear.RelativeHumidity", "LogLinear.DecadesPerPercent", "LogLinear.Range"},
		Source: fit,
		Eval: func(r, a []float64) error {
			l, err := FitLogLinear(points(a), &FitSettings{SampleDecades: a[4]})
			if err != nil {
				return err
			}
			air, err := NewAir(units.Temperature(a[5]), units.RelativeHumidity(a[6]), units.Pressure(a[7]))
			if err != nil {
				return err
			}
			tellLaw(r, l, air)
			if l.BandAt(air.RelativeHumidity()).Value != float64(l.At(air.RelativeHumidity())) || l.DecadesAt(air.RelativeHumidity()) != r[1] {
				return known.Wrong("rh", a[6], "one value by both ways")
			}
			lo, hi := l.Range()
			s, err := NewLogLinear(points(a)[0], l.DecadesPerPercent(), r[1], lo, hi)
			r[3], r[4], r[5] = l.DecadesPerPercent(), float64(l.RelativeHumidity(units.SheetResistance(a[8]))), float64(s.At(air.RelativeHumidity()))
			return err
		},
	}, {
		Name:    "humidity.AdsorbedFilm",
		Doc:     "ρ_s = ρ_d·exp[k(1 − h)²] through two measured points.",
		Args:    twoPoints,
		Results: append(lawResults(), result("k", "1", "k"), result("stated", "SI", "value of the same law stated instead of fitted")),
		Covers:  []string{"FitAdsorbedFilm", "NewAdsorbedFilm", "AdsorbedFilm.At", "AdsorbedFilm.K", "AdsorbedFilm.Value", "AdsorbedFilm.Decades", "AdsorbedFilm.Validity"},
		Source:  fit,
		Eval: func(r, a []float64) error {
			l, err := FitAdsorbedFilm(points(a), &FitSettings{SampleDecades: a[4]})
			if err != nil {
				return err
			}
			air, err := NewAir(units.Temperature(a[5]), units.RelativeHumidity(a[6]), units.Pressure(a[7]))
			if err != nil {
				return err
			}
			tellLaw(r, l, air)
			s, err := NewAdsorbedFilm(l.At(units.RelativeHumidity(1)), l.K(), 0, 0, units.RelativeHumidity(1))
			r[3], r[4] = l.K(), float64(s.At(air.RelativeHumidity()))
			return err
		},
	}, {
		Name: "humidity.MoisturePower",
		Doc:  "Hearle's law log10 x = log10 x_0 − n log10(M/M_0) in moisture content, stated; chained through a GAB isotherm in regain; and refitted from two of its own values.",
		Args: []compute.Arg{arg("m0", "1", "moisture content of the known value", 1e-6, 0.999), valueArg("value0", "value there"), arg("n", "1", "exponent", 0, 30), arg("m", "1", "moisture content", 1e-6, 0.999),
			arg("monolayer", "1", "R_0 of the isotherm, regain", 1e-4, 1), arg("c", "1", "C", 1e-3, 1000), arg("k", "1", "K", 1e-3, 0.999), rhArg("rh", "of the air"), arg("mismatch", "1", "decades between isotherm and law", 0, 4)},
		Results: []compute.Arg{result("value", "SI", "at m"), result("log10", "1", "of value"), result("chained", "SI", "in the air"), result("decades", "1", "spread of the chain"), result("flags", "1", "validity flags of the chain"), result("n", "1", "exponent refitted")},
		Covers:  []string{"NewMoisturePower", "FitMoisturePower", "MoisturePower.At", "MoisturePower.Exponent", "MoisturePower.DecadesAt", "Chain", "Chained.Value", "Chained.Decades", "Chained.Validity"},
		Source:  known.Source{Provenance: known.Memory, Cite: "J. W. S. Hearle, J. Text. Inst. 44 (1953) T117"},
		Eval: func(r, a []float64) error {
			l, err := NewMoisturePower(WetPoint[units.MassResistivity, MoistureContent]{MoistureContent(a[0]), units.MassResistivity(a[1])}, a[2], SampleDecades, MoistureContent(0.01), MoistureContent(0.5))
			if err != nil {
				return err
			}
			g, err := NewGAB(Regain(a[4]), a[5], a[6], 0, units.RelativeHumidity(1))
			if err != nil {
				return err
			}
			c, err := Chain(l, g, a[8])
			if err != nil {
				return err
			}
			air, err := NewAir(units.Celsius(20), units.RelativeHumidity(a[7]), units.Atmosphere)
			if err != nil {
				return err
			}
			var two []WetPoint[units.MassResistivity, MoistureContent]
			for _, m := range []MoistureContent{0.05, 0.10} {
				two = append(two, WetPoint[units.MassResistivity, MoistureContent]{m, l.At(m)})
			}
			f, err := FitMoisturePower(two, nil)
			r[0] = float64(l.At(MoistureContent(a[3])))
			r[1] = math.Log10(r[0])
			tellLaw(r[2:5], c, air)
			r[5] = f.Exponent()
			if d := l.DecadesAt(MoistureContent(a[3])); d != SampleDecades {
				return known.Wrong("decades", d, "the stated spread")
			}
			return err
		},
	}, {
		Name: "humidity.Arrhenius",
		Doc:  "x = x_0·exp[(E_a/R)(1/T − 1/T_0)], and a law in humidity carried to that temperature.",
		Args: []compute.Arg{temperatureArg("t0", "of the known value"), valueArg("value0", "value there"), arg("activation", "J/mol", "E_a", 0, 400e3), temperatureArg("temperature", "to evaluate at"),
			temperatureArg("t1", "of a second point for the refit"), rhArg("rh", "of the air"), pressureArg()},
		Results: append(lawResults(), result("ratio", "1", "value over value0"), result("activation", "J/mol", "refitted"), result("constant", "SI", "an inert material in the same air"), result("warmed", "SI", "the inert value carried to the temperature")),
		Covers: []string{"NewArrhenius", "FitArrhenius", "Arrhenius.At", "Arrhenius.Activation", "Arrhenius.Held", "Arrhenius.Value", "Arrhenius.Decades", "Arrhenius.Validity", "NewConstant", "Constant.Value", "Constant.Decades",
			"Constant.Validity", "NewWarmed", "Warmed.Value", "Warmed.Decades", "Warmed.Validity"},
		Source: fit,
		Eval: func(r, a []float64) error {
			type point = HotPoint[units.VolumeResistivity]
			t0, t1 := units.Temperature(a[0]), units.Temperature(a[4])
			l, err := NewArrhenius(point{t0, units.VolumeResistivity(a[1])}, a[2], SampleDecades, lowestT, highestT, HeldHumidity)
			if err != nil {
				return err
			}
			air, err := NewAir(units.Temperature(a[3]), units.RelativeHumidity(a[5]), units.Pressure(a[6]))
			if err != nil {
				return err
			}
			tellLaw(r, l, air)
			r[3] = r[0] / a[1]
			if t0 != t1 {
				f, err := FitArrhenius([]point{{t0, l.At(t0)}, {t1, l.At(t1)}}, l.Held(), nil)
				if err != nil {
					return err
				}
				r[4] = f.Activation()
			}
			c, err := NewConstant(units.VolumeResistivity(a[1]), SampleDecades)
			if err != nil {
				return err
			}
			w, err := NewWarmed(c, l, t0)
			var k, x [3]float64
			tellLaw(k[:], c, air)
			tellLaw(x[:], w, air)
			r[5], r[6] = k[0], x[0]
			return err
		},
	}}
}
