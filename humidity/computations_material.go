package humidity

import (
	"math"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// bodyTold is what is told about a body that takes up moisture or heat.
type bodyTold struct {
	uptake, centre float64
	half, middle   units.Time
	below          float64
	belowHalf      units.Time
}

const (
	bodyArgs = "time 0…1e12: since the change; film 0…1e6: transfer speed of the air film, 0 for none; " +
		"depth 0…100: below the open face that lags most"
	bodyRes = "-> uptake: share of the whole change; centre: share at the slowest place; half_time: of the mean; " +
		"centre_half_time: of the slowest place; at_depth: share at the depth; depth_half_time: half-time there"
)

func tellBody(b Body, err error, t units.Time, film units.Speed, depth units.Length) (bodyTold, error) {
	if err == nil && film > 0 {
		b, err = b.WithFilm(film)
	}
	if err != nil {
		return bodyTold{}, err
	}
	half := units.Ratio(0.5)
	return bodyTold{float64(b.Uptake(t)), float64(b.Centre(t)), b.TimeTo(half), b.CentreTimeTo(half),
		float64(b.AtDepth(t, depth)), b.DepthTimeTo(half, depth)}, nil
}

// goodsArgs are goods of paper, with the properties of the table.
type goodsArgs struct {
	Length, Width, Height, Diameter units.Length
	Closed                          bool
}

const goodsItems = "length 0…100: of the sheets of a pile of paper, 0 for a roll; width 1e-3…100: of sheets or web; " +
	"height 0…100: of the pile; diameter 0…100: of a roll, 0 for a pile; bottom {open|closed}: whether " +
	"anything passes at the bottom"

func (a goodsArgs) goods(film float64) (Goods, error) {
	m, err := MaterialFor("paper-bond")
	if err != nil {
		return Goods{}, err
	}
	return NewGoods(GoodsSpec{Material: m, Length: a.Length, Width: a.Width, Height: a.Height, Diameter: a.Diameter,
		BottomClosed: a.Closed, Film: film})
}

// bandItems describe a band of a time.
func bandItems(name string) string {
	return name + " [s]: median; " + name + "_spread: of its natural logarithm; " + name + "_kind: of the band"
}

func stageItems(place string) string {
	return bandItems(place+"_dew") + "; " + bandItems(place+"_hall")
}

// heldTold is a value of the material table with its band.
type heldTold[Q Value] struct {
	value, low, high Q
	flags            known.Validity
}

// tellHeld writes −1 for a value that is not held and for the upper end of a lower
// limit.
func tellHeld[Q Value](b known.Band, v known.Validity) heldTold[Q] {
	if math.IsNaN(b.Value) {
		return heldTold[Q]{Q(-1), Q(-1), Q(-1), v}
	}
	lo, hi := b.Limits()
	if math.IsInf(hi, 1) {
		hi = -1
	}
	return heldTold[Q]{Q(b.Value), Q(lo), Q(hi), v}
}

// inside refuses what a law flags.
func inside(rh units.RelativeHumidity, v known.Validity) error {
	if v != known.Inside {
		return known.Wrong("rh", rh, v.String())
	}
	return nil
}

func materialComputations() []compute.Entry {
	crank := known.Source{Provenance: known.Computed, Cite: "separation of variables in a slab and a cylinder " +
		"(J. Crank, The Mathematics of Diffusion, 2nd ed. 1975, ch. 4 and 5, not read)",
		Note: "checked by finite differences"}
	heat := known.Source{Provenance: known.Computed, Cite: "conduction of heat in a slab and a cylinder behind a " +
		"film, by " +
		"separation of variables", Note: "what paper and the film conduct rests on memory and common practice: see the flags"}
	sorption := known.Source{Provenance: known.Computed, Cite: "definition of the law; constants: see the material"}
	keys := []string{UnknownPolymer().Key}
	for _, m := range table() {
		keys = append(keys, m.Key)
	}
	const size, flow = " 1e-7…100: ", " 0…1: "
	type rhs = units.RelativeHumidity
	t20 := units.Celsius(20)
	return []compute.Entry{
		compute.Of12("MoistureBasis", func(r Regain) (MoistureContent, Regain) { return r.Content(), r.Content().Regain() },
			known.Source{Provenance: known.Definition, Cite: "moist mass = dry mass + water"},
			"= Moisture per moist mass and per dry mass, M = R/(1 + R).",
			"regain 0…10: per dry mass -> content: per moist mass; regain: and back"),
		compute.Of54("GAB", func(monolayer Regain, c, k float64, rh, shift rhs) (dry, wet Regain, holds rhs, err error) {
			g, err := NewGAB(monolayer, c, k, 0, rhs(1))
			if err != nil {
				return
			}
			y, err := NewHysteresis(g, shift, FromWet)
			if err != nil {
				return
			}
			wet = y.Regain(rh, t20)
			return g.Regain(rh, t20), wet, HumidityFor(g, wet, t20), inside(rh, g.Validity(rh, t20)|y.Validity(rh, t20))
		}, sorption, "= Equilibrium regain by Guggenheim, Anderson and de Boer on either branch, and the humidity that "+
			"holds it on the adsorption branch.",
			"monolayer 1e-6…1: R_0, regain; c 1e-3…1000: C; k 1e-3…0.999: K; rh 0…1: relative humidity; shift "+
				"0…0.2: hysteresis at 50 %RH",
			"-> regain: from the dry side; from_wet: from the wet side; rh_dry: humidity that holds from_wet on the dry side"),
		compute.Of54("GAB.WithHeats", func(monolayer Regain, c, k float64, t units.Temperature, rh rhs) (regain Regain,
			flags known.Validity,
			band known.Band, err error) {
			g, err := NewGAB(monolayer, c, k, 0, rhs(1))
			if err != nil {
				return
			}
			if g, err = g.WithHeats(PulpHeats()); err != nil {
				return
			}
			s, err := NewSourcedIsotherm(g, pulpIsotherm, PulpHeats().Low, PulpHeats().High, 1.1)
			return s.Regain(rh, t), s.Validity(rh, t), s.Band(rh, t), err
		}, pulpIsotherm, "= Equilibrium regain by Guggenheim, Anderson and de Boer at a temperature, C and K carried from "+
			"25 °C by the heats of pulp.",
			"monolayer 1e-6…1: R_0, regain; c 1e-3…1000: C at 25 °C; k 1e-3…0.9: K at 25 °C; temperature"+anyT+": temperature; "+
				"rh 0…1: relative humidity",
			"-> regain: per dry mass; flags: validity flags; band: regain; spread: of its natural logarithm; kind: of the band"),
		compute.Of22("Wood", func(t units.Temperature, rh rhs) (Regain, known.Validity) {
			return Wood{}.Regain(rh, t), Wood{}.Validity(rh, t)
		},
			known.Source{Provenance: known.Memory, Cite: "USDA Wood Handbook FPL-GTR-282 (2021) ch. 4 eq. 3",
				Note: "coefficients not compared with the source"},
			"= Equilibrium regain of wood and cellulose, Hailwood-Horrobin in Simpson's form.",
			"temperature 272.15…403.15: temperature; rh 0…1: relative humidity -> regain: per dry mass; flags: validity flags"),
		compute.Of22("Proportional", func(saturation Regain, rh rhs) (Regain, error) {
			p, err := NewProportional(saturation)
			if err != nil {
				return 0, err
			}
			return p.Regain(rh, t20), inside(rh, p.Validity(rh, t20))
		}, sorption, "= Equilibrium regain of a weakly absorbing polymer, R = S·a.",
			"saturation 1e-9…0.5: regain at 100 %RH; rh 0…1: relative humidity -> regain: per dry mass"),
		compute.Of62("Sheet", func(l units.Length, d units.Diffusivity, both bool, t units.Time, film units.Speed,
			depth units.Length) (bodyTold, error) {
			b, err := NewSheet(l, d, both)
			return tellBody(b, err, t, film, depth)
		}, crank, "= Conditioning of a film or sheet by diffusion; half-time 0.0492 L²/D with both faces open.",
			"thickness"+size+"of the sheet; d 1e-20…1: diffusion coefficient; faces {one|both}: open faces", bodyArgs, bodyRes),
		compute.Of42("Pile", func(s PileSpec, t units.Time, film units.Speed, depth units.Length) (bodyTold, error) {
			b, err := NewPile(s)
			return tellBody(b, err, t, film, depth)
		}, crank, "= Conditioning of a pile of sheets by diffusion from its six sides.",
			"length"+size+"of the sheets; width"+size+"of the sheets; height"+size+"of the pile; "+
				"along"+flow+"along the sheets; "+
				"across 1e-20…1: across the sheets; bottom {open|closed}: whether anything passes at the bottom", bodyArgs,
			bodyRes),
		compute.Of("Roll", func(diameter, width units.Length, along, across units.Diffusivity, t units.Time, film units.Speed,
			depth units.Length) (bodyTold, error) {
			b, err := NewRoll(diameter, width, along, across)
			return tellBody(b, err, t, film, depth)
		}, crank, "= Conditioning of a wound roll by diffusion from its edges and its outer lap.",
			"diameter"+size+"of the roll; width"+size+"of the web; along"+flow+"along the width; across 1e-20…1: across the "+
				"wraps", bodyArgs, bodyRes),
		compute.Of42("Goods.Warm", func(s goodsArgs, film float64, at climate, start units.Temperature) (Warming, error) {
			g, err := s.goods(film)
			if err != nil {
				return Warming{}, err
			}
			hall, err := at.air()
			if err != nil {
				return Warming{}, err
			}
			return g.Warm(hall, start)
		}, heat, goodsItems+"; film [W/(m²·K)] 0…200: film coefficient of the air, 0 for still air", aDryBulb, aRH, aPressure,
			"start 213.15…333.15: temperature of the goods when they come in",
			"-> condenses: an opened face gets wet; "+stageItems("face")+"; "+stageItems("core")+"; flags: validity flags"),
		compute.Of22("Goods.Condition", func(s goodsArgs, share units.Ratio) (Conditioning, error) {
			g, err := s.goods(0)
			if err != nil {
				return Conditioning{}, err
			}
			return g.Condition(share)
		}, crank, goodsItems+"; share 0.001…0.999: of the change of moisture",
			"-> "+bandItems("rim")+"; "+bandItems("mean")+"; "+bandItems("core")+"; flags: validity flags"),
		compute.Of("Material", func(key int, t units.Temperature, rh rhs, p units.Pressure) (class Class,
			surface heldTold[units.SheetResistance],
			volume heldTold[units.VolumeResistivity], regain heldTold[Regain], across, along units.Diffusivity, factor float64,
			err error) {
			air, err := NewAir(t, rh, p)
			if err != nil {
				return
			}
			m, _ := MaterialFor(keys[key])
			if key == 0 {
				m = UnknownPolymer()
			}
			return m.Class, tellHeld[units.SheetResistance](Band(m.Surface, air), m.Surface.Validity(air)),
				tellHeld[units.VolumeResistivity](Band(m.Volume, air), m.Volume.Validity(air)),
				tellHeld[Regain](m.Sorption.Band(rh, t), m.Sorption.Validity(rh, t)), m.Diffusion.Across, m.Diffusion.Along,
				m.Diffusion.Factor, nil
		}, known.Source{Provenance: known.Memory, Cite: "the entry's own, see Material"},
			"= Starting values for a material of the table in air: surface and volume resistivity and regain with "+
				"their 5 and 95 % limits, "+
				"diffusivity of water. −1 for what is not held, and for the upper limit where only a lower one is known.",
			"key {"+strings.Join(keys, "|")+"}: material; temperature"+anyT+": temperature", aRH, aPressure,
			"-> class: how it takes water; surface: surface resistivity; surface_low: 5 % limit; surface_high: 95 % limit; "+
				"surface_flags: validity flags; volume: volume resistivity; volume_low: 5 % limit; volume_high: 95 % limit; "+
				"volume_flags: validity flags; regain: equilibrium; regain_low: 5 % limit; regain_high: 95 % limit; "+
				"regain_flags: validity flags; across: diffusivity of water through the thickness, 0 if not "+
				"held; along: in the plane; "+
				"diffusivity_factor: 5 to 95 % of samples lie within ×/÷ this"),
	}
}
