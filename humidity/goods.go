package humidity

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Goods are a pile of sheets or a roll as it comes from the store: what has to wait
// before it is opened or printed, and how long. It is immutable; the zero value gives
// errors.
type Goods struct {
	s GoodsSpec
	// heat is the diffusion of heat: median, slow conduction, slow film; moist that
	// of moisture. The zero Body where the material does not hold what it takes.
	heat  [3]Body
	moist Body
}

// GoodsSpec describes goods for [NewGoods].
type GoodsSpec struct {
	// Material tells how fast heat and moisture pass ([Material.Heat],
	// [Material.Diffusion]). What it does not hold, no question about it is answered.
	Material Material
	// Length, Width and Height of a pile of sheets, above 0, up to 100 m. A roll
	// has a Diameter and the Width of its web, and no Length and Height.
	Length, Width, Height units.Length
	Diameter              units.Length // of a roll; 0 for a pile
	// BottomClosed says that neither heat nor moisture passes at the bottom of a
	// pile, which stands on the floor or on a closed pallet.
	BottomClosed bool
	// Wrapped says that no moisture passes; heat does.
	Wrapped bool
	// Film is the coefficient of heat from the air to the surface, convection and
	// radiation together: 5 … 12 in still air, 15 … 40 in a draught (common
	// practice); 1 … 200, 0 for 8. [W/(m²·K)]
	Film float64
}

const (
	stillAir   = 8.0 // [W/(m²·K)] convection 3 and radiation 5, common practice
	filmDoubt  = 1.6 // [1] ×/÷ at 5 and 95 %, common practice
	rimDepth   = 20 * units.Millimetre
	warmEnough = units.TemperatureDifference(1)
)

// NewGoods checks the spec. Errors are [*known.FieldError]s.
func NewGoods(s GoodsSpec) (Goods, error) {
	err := checkLength("Width", s.Width)
	if s.Diameter != 0 {
		err = errors.Join(err, checkLength("Diameter", s.Diameter))
		if s.Length != 0 || s.Height != 0 {
			err = errors.Join(err, known.Wrong("length", s.Length, "0, and Height 0, for a roll: it has Diameter and Width"))
		}
		if s.BottomClosed {
			err = errors.Join(err, known.Wrong("bottom_closed", s.BottomClosed, "false for a roll"))
		}
	} else {
		err = errors.Join(err, checkLength("Length", s.Length), checkLength("Height", s.Height))
	}
	if s.Film == 0 {
		s.Film = stillAir
	}
	err = errors.Join(err, known.InRange("film", s.Film, 1, 200))
	if err != nil {
		return Goods{}, err
	}
	g := Goods{s: s}
	if h := s.Material.Heat; h.Across > 0 && h.Along > 0 && h.Capacity > 0 && h.Factor >= 1 {
		for i, f := range [3][2]float64{{1, 1}, {h.Factor, 1}, {1, filmDoubt}} {
			b, err := g.body(h.Along/f[0]/h.Capacity, h.Across/f[0]/h.Capacity)
			if err == nil {
				b, err = b.WithFilm(units.Speed(s.Film / f[1] / h.Capacity))
			}
			if err != nil {
				return Goods{}, err
			}
			g.heat[i] = b
		}
	}
	if d := s.Material.Diffusion; d.Across > 0 && d.Along > 0 && d.Factor >= 1 {
		if g.moist, err = g.body(float64(d.Along), float64(d.Across)); err != nil {
			return Goods{}, err
		}
	}
	return g, nil
}

// body returns the diffusion problem with the given diffusivities.
func (g Goods) body(along, across float64) (Body, error) {
	a, c := units.Diffusivity(along), units.Diffusivity(across)
	if g.s.Diameter != 0 {
		return NewRoll(g.s.Diameter, g.s.Width, a, c)
	}
	return NewPile(PileSpec{Length: g.s.Length, Width: g.s.Width, Height: g.s.Height, Along: a, Across: c,
		BottomClosed: g.s.BottomClosed})
}

// WarmStage says when a place of goods that warm up passes two marks, in s after they
// came in, each a lognormal band; 0 without spread if it is past it at once.
type WarmStage struct {
	Dew  known.Band // [s] when it is above the air's condensation point and gets wet no more
	Hall known.Band // [s] when it is within 1 K of the hall
}

// Warming is the history of goods brought in from the cold.
type Warming struct {
	// Condenses says whether an opened face gets wet (or white) at once.
	Condenses bool
	// Face is the middle of the open face that lags most: when the outside is dry.
	// It says nothing of the sheets inside, which are opened next.
	Face WarmStage
	// Core is the slowest place, and the advice: keep the goods wrapped until it is
	// past the dew point, and print when it has the hall's temperature.
	Core     WarmStage
	Validity known.Validity // whether the heat properties rest on no source
}

// Warm follows goods of a uniform temperature start (−60 … 60 °C), closed or
// wrapped, in constant hall air. The heat of condensation is left out: wrapped
// goods have none. Bands come from those of conductivity ([Heat.Factor]) and of the
// film (×/÷ 1.6). Air that is nearly saturated gives +Inf for Dew. Errors are
// [*known.FieldError]s for the zero value, hall, start, and a material without heat
// properties.
func (g Goods) Warm(hall Air, start units.Temperature) (Warming, error) {
	h := g.s.Material.Heat
	err := g.made()
	if !hall.valid() {
		err = errors.Join(err, known.Wrong("hall", "the zero Air", "air made by NewAir or AirFrom"))
	}
	if !(start >= units.Celsius(-60) && start <= units.Celsius(60)) {
		err = errors.Join(err, known.Wrong("start", start, "−60 … 60 °C"))
	}
	if err == nil && g.heat[0].n == 0 {
		err = known.Wrong("material.heat", "not held", "conductivities, capacity and their factor; "+
			""+g.s.Material.Name+" has none in the table")
	}
	if err != nil {
		return Warming{}, err
	}
	cp := hall.CondensationPoint()
	gap := math.Abs(float64(hall.t.Sub(start)))
	dew := 0.0
	if start < cp && start < hall.t {
		dew = float64(cp.Sub(start)) / float64(hall.t.Sub(start))
	}
	near := 0.0
	if gap > float64(warmEnough) {
		near = 1 - float64(warmEnough)/gap
	}
	band := func(share float64, when func(b Body, share units.Ratio) units.Time) known.Band {
		switch {
		case share <= 0:
			return known.Band{}
		case share > 0.999:
			return known.Band{Value: math.Inf(1)}
		}
		return spreadOf(g.heat, func(b Body) float64 { return float64(when(b, max(units.Ratio(share), units.Ratio(0.001)))) })
	}
	face := func(b Body, share units.Ratio) units.Time { return b.DepthTimeTo(share, 0) }
	return Warming{Condenses: start < cp,
		Face:     WarmStage{Dew: band(dew, face), Hall: band(near, face)},
		Core:     WarmStage{Dew: band(dew, Body.CentreTimeTo), Hall: band(near, Body.CentreTimeTo)},
		Validity: restsOn(h.Source)}, nil
}

// spreadOf makes a lognormal band of a time from its median and from what the 95 %
// ends of two independent doubts make of it.
func spreadOf(bodies [3]Body, when func(b Body) float64) known.Band {
	t := when(bodies[0])
	if !(t > 0) {
		return known.Band{Value: t}
	}
	s := math.Hypot(math.Log(when(bodies[1])/t), math.Log(when(bodies[2])/t)) / known.Z95
	return known.Band{Value: t, Spread: s, Kind: known.LogNormal}
}

func (g Goods) made() error {
	if g.s.Width == 0 {
		return known.Wrong("goods", "the zero Goods", "goods made by NewGoods")
	}
	return nil
}

// Conditioning says when goods that stand open have made a share of a change of
// moisture, in s, each a lognormal band.
type Conditioning struct {
	Rim  known.Band // [s] 20 mm in from the open edge that follows fastest
	Mean known.Band // [s] the whole
	Core known.Band // [s] the slowest place
	// Validity says whether the diffusivity rests on no source.
	Validity known.Validity
}

// Condition returns when goods that stand open have made the share (0.001 … 0.999) of
// their way to the moisture that the hall's air asks of them. A pile of paper takes
// years, its edges days: printed paper is that of the mill, but for its rim. The
// resistance of the air is left out, it counts for single sheets only. Errors are
// [*known.FieldError]s for the zero value, share, wrapped goods and a material
// without diffusivity.
func (g Goods) Condition(share units.Ratio) (Conditioning, error) {
	d := g.s.Material.Diffusion
	err := errors.Join(g.made(), known.InRange("share", share, units.Ratio(0.001), units.Ratio(0.999)))
	if g.s.Wrapped {
		err = errors.Join(err, known.Wrong("wrapped", true, "open goods: wrapped ones keep their moisture"))
	}
	if err == nil && g.moist.n == 0 {
		err = known.Wrong("material.diffusion", "not held",
			"diffusivities of water and their factor; "+g.s.Material.Name+" has none in the table")
	}
	if err != nil {
		return Conditioning{}, err
	}
	b := g.moist
	// Every time goes as 1/D.
	band := func(t units.Time) known.Band {
		return known.Band{Value: float64(t), Spread: math.Log(d.Factor) / known.Z95, Kind: known.LogNormal}
	}
	rim := timeTo(share, func(t units.Time) units.Ratio {
		return b.below(t, rimDepth, func(share, other units.Ratio) bool { return share > other })
	})
	return Conditioning{Rim: band(rim), Mean: band(b.TimeTo(share)), Core: band(b.CentreTimeTo(share)),
		Validity: restsOn(d.Source)}, nil
}
