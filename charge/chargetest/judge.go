package chargetest

import (
	"math"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Judge says whether a spark of the energy w may ignite a substance. The laws ask
// that it errs on the side that raises the hazard.
type Judge func(w units.Energy, in hazard.Ignitable) bool

// JudgeInput is where a judgement is tried.
type JudgeInput struct {
	Energy    units.Energy // 1 µJ … 10 J
	Substance int          // place in the table of substances
}

// Spark is the judgement of package hazard as a [Judge].
func Spark(w units.Energy, in hazard.Ignitable) bool {
	c, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Metal, Capacitance: 100 * units.Picofarad,
		Resistance: units.Gigohm})
	if err != nil {
		return true
	}
	return c.Spark(c.VoltageForEnergy(w), in).Reaches
}

// Judges returns the laws of a judgement of ignition.
func Judges() lawtest.Kit[Judge, JudgeInput] {
	table := hazard.Ignitables()
	type law = lawtest.Law[Judge, JudgeInput]
	return lawtest.Kit[Judge, JudgeInput]{
		Input: func(d *lawtest.Draw, _ Judge) JudgeInput {
			return JudgeInput{lawtest.Decades(d, "energy", 1e-3*units.Millijoule, 10*units.Joule),
				d.Int("substance", 0, len(table)-1)}
		},
		Laws: []law{{
			Name: "low end", Says: "an energy at or above the least value held reaches",
			Source: "tables differ by the mixture and the fineness; the most easily ignited one counts",
			// The greatest value that a table prints, as 1.15 mJ for acetone.
			Broken: func(w units.Energy, in hazard.Ignitable) bool { return w >= in.High },
			Check: func(m Judge, in JudgeInput) error {
				s := table[in.Substance]
				if in.Energy < s.MIE*(1+1e-9) {
					return lawtest.Skip("below the least value")
				}
				return lawtest.That(m(in.Energy, s), "reached: "+s.Name+" takes "+s.MIE.String(), in.Energy)
			},
		}, {
			Name: "no low end", Says: "where a source says \"below\" only, every energy reaches",
			Source: "no low end is known that excludes it",
			Broken: func(w units.Energy, in hazard.Ignitable) bool { return w >= in.MIE },
			Check: func(m Judge, in JudgeInput) error {
				s := table[in.Substance]
				s.Below = true
				return lawtest.That(m(in.Energy, s), "reached: "+s.Name+" takes less than "+s.MIE.String(), in.Energy)
			},
		}, {
			Name: "monotone", Says: "more energy never stops reaching", Source: "a stronger spark ignites no worse",
			Broken: func(w units.Energy, in hazard.Ignitable) bool { return w >= in.MIE && w < 2*in.MIE },
			Check: func(m Judge, in JudgeInput) error {
				s := table[in.Substance]
				ok := !m(in.Energy, s) || m(2*in.Energy, s)
				return lawtest.That(ok, "reached at twice the energy too", in.Energy)
			},
		}, {
			Name: "dust", Says: "a dust whose fineness is not stated is reached below the value held",
			Source: "fine fractions of one dust take from 2 to more than 15 times less",
			Broken: func(w units.Energy, in hazard.Ignitable) bool { return w >= in.MIE || in.Below },
			Check: func(m Judge, in JudgeInput) error {
				s := table[in.Substance]
				if !s.Dust {
					return lawtest.Skip("no dust")
				}
				return lawtest.That(m(units.Energy(0.5*float64(s.MIE)), s), "half of "+s.MIE.String()+" reaches "+s.Name,
					0.5*float64(s.MIE))
			},
		}, {
			Name: "nothing", Says: "no energy reaches nothing", Source: "without a spark nothing ignites",
			Broken: func(units.Energy, hazard.Ignitable) bool { return true },
			Check: func(m Judge, in JudgeInput) error {
				return lawtest.That(!m(0, table[in.Substance]), "not reached", true)
			},
		}, {
			Name: "not measured", Says: "an energy that nobody knows, NaN, is not excluded",
			Source: "not measured is not below",
			Broken: func(w units.Energy, in hazard.Ignitable) bool { return w >= in.MIE || in.Below && w > 0 },
			Check: func(m Judge, in JudgeInput) error {
				s := table[in.Substance]
				return lawtest.That(m(units.Energy(math.NaN()), s), "reached: nothing excludes "+s.Name, false)
			},
		}}}
}
