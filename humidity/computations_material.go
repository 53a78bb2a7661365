package humidity

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func materialComputations() []compute.Entry {
	crank := known.Source{Provenance: known.Memory, Cite: "J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), ch. 4, 5", Note: "series recomputed by finite differences"}
	sorption := known.Source{Provenance: known.Memory, Cite: "see GAB, Wood, Hysteresis"}
	var keys []string
	for _, m := range Materials() {
		keys = append(keys, m.Key)
	}
	keys = append(keys, UnknownPolymer().Key)
	thickness := func(name, doc string) compute.Arg { return arg(name, "m", doc, 1e-7, 100) }
	diffusivity := func(name, doc string, low float64) compute.Arg { return arg(name, "m²/s", doc, low, 1) }
	bodyArgs := []compute.Arg{arg("time", "s", "since the change", 0, 1e12), arg("biot", "1", "Biot number of the first axis, 0 for no surface resistance", 0, 1e3)}
	bodyResults := []compute.Arg{result("uptake", "1", "share of the whole change"), result("centre", "1", "share at the middle"), result("half_time", "s", "of the mean"), result("centre_half_time", "s", "of the middle"), result("surface", "1", "share at the surface"), result("clear_of_dew", "s", "time below the condensation point of 23 °C, 50 %RH air, with thermal diffusivities, from 5 °C")}
	tell := func(r []float64, b Body, t, biot float64) (err error) {
		if biot > 0 {
			if b, err = b.WithSurface(biot); err != nil {
				return err
			}
		}
		r[0], r[1], r[2], r[3] = float64(b.Uptake(units.Time(t))), float64(b.Centre(units.Time(t))), float64(b.TimeTo(units.Ratio(0.5))), float64(b.CentreTimeTo(units.Ratio(0.5)))
		air, err := NewAir(units.Celsius(23), 50*units.PercentRH, units.Atmosphere)
		r[4], r[5] = float64(b.Surface(units.Time(t))), float64(b.ClearOfDew(air, units.Celsius(5)))
		return err
	}
	return []compute.Entry{{
		Name:    "humidity.MoistureBasis",
		Doc:     "Moisture per moist mass and per dry mass, M = R/(1 + R).",
		Args:    []compute.Arg{arg("regain", "1", "per dry mass", 0, 10)},
		Results: []compute.Arg{result("content", "1", "per moist mass"), result("regain", "1", "and back")},
		Covers:  []string{"Regain.Content", "MoistureContent.Regain"},
		Source:  known.Source{Provenance: known.Computed, Cite: "definition"},
		Eval: func(r, a []float64) error {
			c := Regain(a[0]).Content()
			r[0], r[1] = float64(c), float64(c.Regain())
			return nil
		},
	}, {
		Name:    "humidity.GAB",
		Doc:     "Equilibrium regain by Guggenheim, Anderson and de Boer on either branch, and the humidity that holds it on the adsorption branch.",
		Args:    []compute.Arg{arg("monolayer", "1", "R_0, regain", 1e-6, 1), arg("c", "1", "C", 1e-3, 1000), arg("k", "1", "K", 1e-3, 0.999), rhArg("rh", "relative humidity"), arg("shift", "1", "hysteresis at 50 %RH", 0, 0.2)},
		Results: []compute.Arg{result("regain", "1", "from the dry side"), result("from_wet", "1", "from the wet side"), result("rh_dry", "1", "humidity that holds from_wet on the dry side")},
		Covers:  []string{"NewGAB", "GAB.Regain", "GAB.Validity", "NewHysteresis", "Hysteresis.Regain", "Hysteresis.Validity", "HumidityFor"},
		Source:  sorption,
		Eval: func(r, a []float64) error {
			g, err := NewGAB(Regain(a[0]), a[1], a[2], 0, units.RelativeHumidity(1))
			if err != nil {
				return err
			}
			y, err := NewHysteresis(g, units.RelativeHumidity(a[4]), FromWet)
			if err != nil {
				return err
			}
			rh, t := units.RelativeHumidity(a[3]), units.Celsius(20)
			if v := g.Validity(rh, t) | y.Validity(rh, t); v != known.Inside {
				return known.Wrong("rh", rh, v.String())
			}
			r[0], r[1] = float64(g.Regain(rh, t)), float64(y.Regain(rh, t))
			r[2] = float64(HumidityFor(g, Regain(r[1]), t))
			return nil
		},
	}, {
		Name:    "humidity.Wood",
		Doc:     "Equilibrium regain of wood and cellulose, Hailwood-Horrobin in Simpson's form.",
		Args:    []compute.Arg{arg("temperature", "K", "temperature", 272.15, 403.15), rhArg("rh", "relative humidity")},
		Results: []compute.Arg{result("regain", "1", "per dry mass"), result("flags", "1", "validity flags")},
		Covers:  []string{"Wood.Regain", "Wood.Validity"},
		Source:  known.Source{Provenance: known.Memory, Cite: "USDA Wood Handbook FPL-GTR-282 (2021) ch. 4 eq. 3"},
		Eval: func(r, a []float64) error {
			t, rh := units.Temperature(a[0]), units.RelativeHumidity(a[1])
			r[0], r[1] = float64(Wood{}.Regain(rh, t)), float64(Wood{}.Validity(rh, t))
			return nil
		},
	}, {
		Name:    "humidity.Proportional",
		Doc:     "Equilibrium regain of a weakly absorbing polymer, R = S·a.",
		Args:    []compute.Arg{arg("saturation", "1", "regain at 100 %RH", 1e-9, 0.5), rhArg("rh", "relative humidity")},
		Results: []compute.Arg{result("regain", "1", "per dry mass")},
		Covers:  []string{"NewProportional", "Proportional.Regain", "Proportional.Validity"},
		Source:  sorption,
		Eval: func(r, a []float64) error {
			p, err := NewProportional(Regain(a[0]))
			rh := units.RelativeHumidity(a[1])
			if v := p.Validity(rh, units.Celsius(20)); v != known.Inside {
				return known.Wrong("rh", rh, v.String())
			}
			r[0] = float64(p.Regain(rh, units.Celsius(20)))
			return err
		},
	}, {
		Name:    "humidity.Sheet",
		Doc:     "Conditioning of a film or sheet by diffusion; half-time 0.0492 L²/D with both faces open.",
		Args:    append([]compute.Arg{thickness("thickness", "of the sheet"), diffusivity("d", "diffusion coefficient", 1e-20), choice("faces", "open faces", "one", "both")}, bodyArgs...),
		Results: bodyResults,
		Covers:  []string{"NewSheet", "Body.WithSurface", "Body.Uptake", "Body.Centre", "Body.TimeTo", "Body.CentreTimeTo", "Body.Surface", "Body.ClearOfDew"},
		Source:  crank,
		Eval: func(r, a []float64) error {
			b, err := NewSheet(units.Length(a[0]), units.Diffusivity(a[1]), a[2] == 1)
			if err != nil {
				return err
			}
			return tell(r, b, a[3], a[4])
		},
	}, {
		Name:    "humidity.Pile",
		Doc:     "Conditioning of a pile of sheets by diffusion from its six sides.",
		Args:    append([]compute.Arg{thickness("length", "of the sheets"), thickness("width", "of the sheets"), thickness("height", "of the pile"), diffusivity("along", "along the sheets", 0), diffusivity("across", "across the sheets", 1e-20)}, bodyArgs...),
		Results: bodyResults,
		Covers:  []string{"NewPile"},
		Source:  crank,
		Eval: func(r, a []float64) error {
			b, err := NewPile(units.Length(a[0]), units.Length(a[1]), units.Length(a[2]), units.Diffusivity(a[3]), units.Diffusivity(a[4]))
			if err != nil {
				return err
			}
			return tell(r, b, a[5], a[6])
		},
	}, {
		Name:    "humidity.Roll",
		Doc:     "Conditioning of a wound roll by diffusion from its edges and its outer lap.",
		Args:    append([]compute.Arg{thickness("diameter", "of the roll"), thickness("width", "of the web"), diffusivity("along", "along the width", 0), diffusivity("across", "across the wraps", 1e-20)}, bodyArgs...),
		Results: bodyResults,
		Covers:  []string{"NewRoll"},
		Source:  crank,
		Eval: func(r, a []float64) error {
			b, err := NewRoll(units.Length(a[0]), units.Length(a[1]), units.Diffusivity(a[2]), units.Diffusivity(a[3]))
			if err != nil {
				return err
			}
			return tell(r, b, a[4], a[5])
		},
	}, {
		Name:    "humidity.Material",
		Doc:     "Starting values for a material of the table in air: surface and volume resistivity with their spread, regain. NaN becomes −1: unknown.",
		Args:    []compute.Arg{choice("key", "material", keys...), temperatureArg("temperature", "temperature"), rhArg("rh", "relative humidity over water"), pressureArg()},
		Results: []compute.Arg{result("class", "1", "1 inert, 2 adsorbing, 3 absorbing"), result("surface", "Ω", "surface resistivity per square"), result("surface_decades", "1", "its spread"), result("volume", "Ω·m", "volume resistivity"), result("volume_decades", "1", "its spread"), result("regain", "1", "equilibrium")},
		Covers:  []string{"MaterialFor", "Materials", "UnknownPolymer", "Band"},
		Source:  known.Source{Provenance: known.Memory, Cite: "the entry's own, see Material"},
		Eval: func(r, a []float64) error {
			air, err := NewAir(units.Temperature(a[1]), units.RelativeHumidity(a[2]), units.Pressure(a[3]))
			if err != nil {
				return err
			}
			m := UnknownPolymer()
			if k := int(a[0]); k < len(keys)-1 {
				if m, err = MaterialFor(keys[k]); err != nil {
					return err
				}
			}
			r[0] = float64(m.Class)
			for i := 1; i < 6; i++ {
				r[i] = -1
			}
			if m.Surface != nil {
				b := Band(m.Surface, air)
				r[1], r[2] = b.Value, b.Spread/math.Ln10
			}
			if m.Volume != nil {
				b := Band(m.Volume, air)
				r[3], r[4] = b.Value, b.Spread/math.Ln10
			}
			if m.Sorption != nil {
				r[5] = float64(m.Sorption.Regain(air.RelativeHumidity(), air.Temperature()))
			}
			return nil
		},
	}}
}
