package decaytest

import (
	"fmt"
	"math"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Relaxer turns a resistivity known as a band [Ω·m] into a relaxation time with its
// band [s]: [decay.RelaxationBand] is one.
type Relaxer func(rho known.Band, epsr float64) (known.Band, error) // epsr [1]

// Stuff is a material whose resistivity is known as a band.
type Stuff struct {
	Rho units.VolumeResistivity // median, 1e6 … 1e18 Ω·m
	// [1] of the natural logarithm, 0.1 … 3; for a normal band a tenth of it, of the median
	Spread  float64
	Kind    known.BandKind // lognormal, normal, exact or a lower limit
	Epsilon float64        // [1] relative permittivity, 1 … 10
}

func (in Stuff) band() known.Band {
	b := known.Band{Value: float64(in.Rho), Kind: in.Kind}
	switch in.Kind {
	case known.LogNormal:
		b.Spread = in.Spread
	case known.Normal:
		b.Spread = 0.1 * in.Spread * b.Value
	}
	return b
}

// Relaxers returns the laws of a band that goes from resistivity to time.
func Relaxers() lawtest.Kit[Relaxer, Stuff] {
	return lawtest.Kit[Relaxer, Stuff]{Input: func(d *lawtest.Draw, _ Relaxer) Stuff {
		return Stuff{Rho: lawtest.Decades(d, "rho", units.VolumeResistivity(1e6), units.VolumeResistivity(1e18)),
			Spread: lawtest.Decades(d, "spread", 0.1, 3), Epsilon: lawtest.Between(d, "epsilon", 1.0, 10),
			Kind: lawtest.Pick(d, "kind", known.LogNormal, known.Normal, known.Exact, known.AtLeast)}
	}, Laws: []lawtest.Law[Relaxer, Stuff]{{
		Name: "limits", Says: "both limits of the time are ε0·εr times those of the resistivity",
		Source: "the time is proportional to the resistivity",
		// The spread of a logarithm is multiplied as if it were one of ohms.
		Broken: func(rho known.Band, epsr float64) (known.Band, error) {
			k := units.Epsilon0 * epsr
			rho.Value, rho.Spread = k*rho.Value, k*rho.Spread
			return rho, nil
		},
		Check: func(m Relaxer, in Stuff) error {
			rho := in.band()
			tau, err := m(rho, in.Epsilon)
			if err != nil {
				return err
			}
			k := units.Epsilon0 * in.Epsilon
			lo, hi := rho.Limits()
			a, b := tau.Limits()
			near := func(got, want float64) bool { return got == want || math.Abs(got/want-1) < 1e-9 }
			return lawtest.That(near(a, k*lo) && near(b, k*hi), fmt.Sprintf("%g … %g s", k*lo, k*hi), a, b)
		},
	}, {
		Name: "kind", Says: "a lower limit stays one, and nothing becomes exact",
		Source: "no step knows more than the one before",
		Broken: func(rho known.Band, epsr float64) (known.Band, error) { // the median alone
			return known.Band{Value: units.Epsilon0 * epsr * rho.Value}, nil
		},
		Check: func(m Relaxer, in Stuff) error {
			tau, err := m(in.band(), in.Epsilon)
			if err != nil {
				return err
			}
			return lawtest.That(tau.Kind == in.Kind, in.Kind.String(), tau.Kind)
		},
	}}}
}

// Finisher says whether a conductive finish helps on a free span:
// [sheet.AntistatOnSpan] is one.
type Finisher func(spec sheet.AntistatSpec) (sheet.Antistat, error)

// Finish is a span with a finish, 1 m between rollers of 50 mm.
type Finish struct {
	Speed  units.Speed           // of the web, 1 … 10 m/s
	Rho    units.SheetResistance // median, 1e8 … 1e13 Ω
	Spread float64               // [1] of the natural logarithm, 0.2 … 2
	Enough float64               // [1] share that is to be left, 0.1 … 0.9
	Flags  known.Validity        // of the resistivity
}

func (in Finish) spec() sheet.AntistatSpec {
	return sheet.AntistatSpec{Span: sheet.FreeSpanSpec{Length: units.Metre, Speed: in.Speed,
		InletRadius: 50 * units.Millimetre, OutletRadius: 50 * units.Millimetre, ContactGap: 5 * units.Micrometre},
		Resistivity: known.Band{Value: float64(in.Rho), Spread: in.Spread, Kind: known.LogNormal}, Enough: in.Enough,
		Flags: in.Flags}
}

// quick is a right model in closed form, good to some per cent: what is left in the
// middle of the span is (1 + (v_s/0.75U)^p)^(−1/p), p = 2.85.
func quick(s sheet.AntistatSpec) (sheet.Antistat, error) {
	const p = 2.85
	share := func(rho float64) float64 {
		x := float64(sheet.SpreadingSpeed(units.SheetResistance(rho))) / float64(s.Span.Speed)
		return math.Pow(1+math.Pow(x/0.75, p), -1/p)
	}
	lo, hi := s.Resistivity.Limits()
	a := sheet.Antistat{Left: share(s.Resistivity.Value), Least: share(lo), Most: share(hi), Verdict: sheet.Open,
		Validity: s.Flags}
	x := 0.75 * math.Pow(math.Pow(s.Enough, -p)-1, 1/p) // v_s/U at which enough is left
	a.Needed = units.SheetResistance(1 / (2 * units.Epsilon0 * x * float64(s.Span.Speed)))
	if a.Most <= s.Enough {
		a.Verdict = sheet.Helps
	} else if a.Least > s.Enough {
		a.Verdict = sheet.NoHelp
	}
	return a, nil
}

// Finishers returns the laws of a verdict on a finish.
func Finishers() lawtest.Kit[Finisher, Finish] {
	changed := func(change func(a *sheet.Antistat, s sheet.AntistatSpec)) Finisher {
		return func(s sheet.AntistatSpec) (sheet.Antistat, error) {
			a, err := quick(s)
			change(&a, s)
			return a, err
		}
	}
	at := func(check func(a sheet.Antistat, in Finish) error) func(m Finisher, in Finish) error {
		return func(m Finisher, in Finish) error {
			a, err := m(in.spec())
			if err != nil {
				return err
			}
			return check(a, in)
		}
	}
	return lawtest.Kit[Finisher, Finish]{Input: func(d *lawtest.Draw, _ Finisher) Finish {
		return Finish{Speed: lawtest.Between(d, "speed", units.MetrePerSecond, 10*units.MetrePerSecond),
			Rho:    lawtest.Decades(d, "rho", units.SheetResistance(1e8), units.SheetResistance(1e13)),
			Spread: lawtest.Between(d, "spread", 0.2, 2.0), Enough: lawtest.Between(d, "enough", 0.1, 0.9),
			Flags: lawtest.Pick(d, "flags", known.Inside, known.BelowRange, known.Unpublished,
				known.AboveRange|known.Unpublished)}
	}, Laws: []lawtest.Law[Finisher, Finish]{{
		Name: "verdict", Says: "helps if even the upper end is low enough, no help if not even the lower end is, else open",
		Source: "a band decides, not its median",
		Broken: changed(func(a *sheet.Antistat, s sheet.AntistatSpec) { // the median decides
			if a.Verdict = sheet.NoHelp; a.Left <= s.Enough {
				a.Verdict = sheet.Helps
			}
		}),
		Check: at(func(a sheet.Antistat, in Finish) error {
			want := sheet.Open
			if a.Most <= in.Enough {
				want = sheet.Helps
			} else if a.Least > in.Enough {
				want = sheet.NoHelp
			}
			return lawtest.That(a.Verdict == want, want.String(), a.Verdict, a.Least, a.Most)
		}),
	}, {
		Name: "order", Says: "0 <= least <= left <= most <= 1",
		Source: "a finish takes charge away, more where it conducts better",
		Broken: changed(func(a *sheet.Antistat, _ sheet.AntistatSpec) { a.Least, a.Most = a.Most, a.Least }),
		Check: at(func(a sheet.Antistat, _ Finish) error {
			ok := 0 <= a.Least && a.Least <= a.Left && a.Left <= a.Most && a.Most <= 1
			return lawtest.That(ok, "in order within 0 … 1", a.Least, a.Left, a.Most)
		}),
	}, {
		Name: "flags", Says: "what is flagged in the resistivity is flagged in the answer",
		Source: "a sentence rests on no more than its weakest input",
		Broken: changed(func(a *sheet.Antistat, _ sheet.AntistatSpec) { a.Validity = known.Inside }),
		Check: at(func(a sheet.Antistat, in Finish) error {
			return lawtest.That(a.Validity&in.Flags == in.Flags, "all of "+in.Flags.String(), a.Validity)
		}),
	}, {
		Name: "needed", Says: "enough is left at the resistivity that is needed, to 5 %", Source: "definition",
		Broken: changed(func(a *sheet.Antistat, _ sheet.AntistatSpec) { a.Needed *= 4 }), // that of the web at rest
		Check: func(m Finisher, in Finish) error {
			return at(func(a sheet.Antistat, in Finish) error {
				there := in.spec()
				there.Resistivity = known.Band{Value: float64(a.Needed)}
				b, err := m(there)
				if err != nil {
					return err
				}
				return lawtest.That(math.Abs(b.Left/in.Enough-1) < 0.05, fmt.Sprint(in.Enough), b.Left)
			})(m, in)
		},
	}, {
		Name: "slower", Says: "at half the speed no more is left", Source: "charge has twice the time to flow back",
		Broken: changed(func(a *sheet.Antistat, s sheet.AntistatSpec) { a.Left = 1 - a.Left }), // leaves when slow
		Check: func(m Finisher, in Finish) error {
			return at(func(a sheet.Antistat, in Finish) error {
				slow := in.spec()
				slow.Span.Speed /= 2
				b, err := m(slow)
				if err != nil {
					return err
				}
				return lawtest.That(b.Left <= a.Left*(1+5e-3), fmt.Sprintf("at most %g", a.Left), b.Left)
			})(m, in)
		},
	}}}
}
