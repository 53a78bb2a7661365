package chargetest

import (
	"math"

	"example.org/pithball/charge/field"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Pile is what a pile of equal charged sheets must offer: its state with so many
// sheets. The laws take the plate under it as earthed.
type Pile interface {
	// At returns the state of the pile with so many sheets.
	At(sheets int) field.PileState
}

// PileInput is where a pile is tried.
type PileInput struct {
	Sheets int // 1 … 10,000
}

// pileFunc changes the state of a pile.
type pileFunc struct {
	pile   field.ChargedPile
	change func(x field.PileState) field.PileState
}

func (p pileFunc) At(n int) field.PileState { return p.change(p.pile.At(n)) }

// Piles returns the laws of a pile.
func Piles() lawtest.Kit[Pile, PileInput] {
	type law = lawtest.Law[Pile, PileInput]
	drawn := func(d *lawtest.Draw) Pile {
		return *must(field.NewChargedPile(field.ChargedPileSpec{Thickness: lawtest.Decades(d, "thickness",
			10*units.Micrometre, units.Millimetre),
			RelativePermittivity: lawtest.Between(d, "permittivity", 1.0, 6), Width: units.Metre,
			Upper:  lawtest.EitherSign(d, "upper", sigma(1e-8), sigma(3e-5)),
			Lower:  lawtest.EitherSign(d, "lower", sigma(1e-8), sigma(3e-5)),
			AirGap: lawtest.Decades(d, "air gap", 0.1*units.Micrometre, units.Millimetre)}))
	}
	net := *must(field.NewChargedPile(field.ChargedPileSpec{Thickness: 100 * units.Micrometre,
		RelativePermittivity: 2.5, Upper: 3e-6, Width: units.Metre}))
	change := func(f func(x field.PileState) field.PileState) Pile { return pileFunc{net, f} }
	return lawtest.Kit[Pile, PileInput]{Models: drawn,
		Input: func(d *lawtest.Draw, _ Pile) PileInput { return PileInput{d.Int("sheets", 1, 10000)} },
		Laws: []law{{
			Name: "cut", Says: "|V| ≤ |free V|, of the same sign", Source: "a breakdown takes charge and adds none",
			Broken: change(func(x field.PileState) field.PileState { x.Voltage *= 1.5; return x }),
			Check: func(m Pile, in PileInput) error {
				x := m.At(in.Sheets)
				ok := abs(x.Voltage) <= abs(x.Free)*(1+1e-12) && float64(x.Voltage)*float64(x.Free) >= 0
				return lawtest.That(ok, "no more than the free voltage", x.Voltage, x.Free)
			},
		}, {
			Name: "edge", Says: "|V| ≤ 4 MV/m · height", Source: "the edge of a pile flashes over at the strength of air, " +
				"3 MV/m and a third at most",
			// What the flat layers would make if nothing broke down.
			Broken: change(func(x field.PileState) field.PileState { x.Voltage = x.Free; return x }),
			Check: func(m Pile, in PileInput) error {
				x := m.At(in.Sheets)
				return lawtest.That(abs(x.Voltage) <= 4e6*float64(x.Height), "no more than the edge holds", x.Voltage, x.Height)
			},
		}, {
			Name: "flag", Says: "a voltage that is cut, and every breakdown, is flagged",
			Source: "a value above the range of its law says so",
			Broken: change(func(x field.PileState) field.PileState { x.Validity = known.Inside; return x }),
			Check: func(m Pile, in PileInput) error {
				x := m.At(in.Sheets)
				cut := abs(x.Voltage) < abs(x.Free)*(1-1e-9)
				ok := (!cut || x.Spark != field.NoSpark) && (x.Spark == field.NoSpark) == (x.Validity&known.AboveRange == 0)
				return lawtest.That(ok, "spark and flag together", x.Voltage, x.Free, x.Spark, x.Validity)
			},
		}, {
			Name: "odd", Says: "no sheet, no voltage; a finite one for every number", Source: "total functions",
			Broken: change(func(x field.PileState) field.PileState {
				if x.Height == 0 {
					x.Voltage = 1
				}
				return x
			}),
			Check: func(m Pile, in PileInput) error {
				x, none := m.At(in.Sheets), m.At(0)
				return lawtest.That(none.Voltage == 0 && !math.IsNaN(float64(x.Voltage)) && !math.IsInf(float64(x.Voltage), 0),
					"0, then finite", none.Voltage, x.Voltage)
			},
		}}}
}
