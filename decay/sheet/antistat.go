package sheet

import (
	"context"
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// AntistatSpec asks whether a conductive finish helps on a free span.
type AntistatSpec struct {
	// Span is the moving web; its SurfaceResistivity stays 0. The contact gap
	// hardly matters while v_s < 3 U.
	Span FreeSpanSpec
	// Resistivity of the charged face in the air at the web, in Ω per square:
	// humidity.Band of a law for the finish gives it. Positive; Exact, LogNormal or
	// AtLeast.
	Resistivity known.Band // [Ω]
	// Flags are those of Resistivity, such as humidity.Law.Validity gives with the
	// band: from memory, outside its humidities. They go into the answer.
	Flags known.Validity
	At    units.Length // place that matters, from the inlet; 0: the middle of the span
	// Enough is the share of the charge that leaves the inlet at or below which the
	// finish has done its work there: the limit at the place over the charge
	// found without the finish, 0.01 … 0.99.
	Enough float64 // [1]
}

// AntistatVerdict is an answer that takes the spread of what is known into account.
type AntistatVerdict uint8

// The verdicts. The zero value is none.
const (
	Helps  AntistatVerdict = iota + 1 // over the whole band
	NoHelp                            // nowhere in the band
	Open                              // in a part of the band: measure the resistivity in this air
	verdicts
)

var verdictNames = [verdicts]string{Helps: "helps", NoHelp: "does not help", Open: "open"}

// String returns the verdict in words, or "AntistatVerdict(n)".
func (v AntistatVerdict) String() string { return enum.Name("AntistatVerdict", verdictNames[:], v) }

// MarshalText writes the verdict in words; a value without one is a [*known.FieldError].
func (v AntistatVerdict) MarshalText() ([]byte, error) {
	return enum.Write("verdict", verdictNames[:], v)
}

// UnmarshalText reads the verdict in words; anything else is a [*known.FieldError] and leaves the
// value as it was.
func (v *AntistatVerdict) UnmarshalText(b []byte) error {
	return enum.Read("verdict", verdictNames[:], b, v)
}

// Antistat says what a conductive finish leaves of the charge on a free span.
type Antistat struct {
	// Left is the share of the charge that leaves the inlet which the web carries
	// at the place, at the median resistivity; Least and Most at the 5 % and 95 %
	// ends of its band.
	Left, Least, Most float64 // [1]
	// Needed is the resistivity at which Enough is left: at and below it the
	// finish helps.
	Needed units.SheetResistance
	// SlowTo is the speed at which Enough is left at the median resistivity.
	SlowTo  units.Speed
	Dwell   units.Time // from the inlet to the place
	Verdict AntistatVerdict
	// AtRest is the slowest time constant of the same web at rest ([SlotStrip]), with
	// the band of the resistivity. It is no measure for the moving web.
	AtRest known.Band // [s]
	// Validity has the flags of the resistivity and of the span; LowerLimit where the
	// resistivity is one, so that Left is too little.
	Validity known.Validity
}

// AntistatOnSpan answers whether a finish of known resistivity lets enough charge
// leave on the way from the inlet roller to a place of the span. The share left is
// that of [FreeSpanWeb], where charge is laid on at the inlet all the time; it
// depends on v_s/U, v_s = 1/(2ε0ρ_s), and on the shape of the span only.
//
// The time constant of the web at rest promises too much: e^(−t/τ) of [SlotStrip]
// after the way to the middle would leave a half at v_s/U = 0.35, the moving
// span does at 1.5, because charge that flows ahead meets charge that left
// before, and charge that flows back is carried out again. For a half at the
// middle ρ_s must be about 1/(3ε0U): 7.5e9 Ω at 5 m/s, however long the span is,
// and a fourth of what the time at rest allows.
//
// It is the net charge of the web, with no other earthed metal near the span and
// the charge on the face that conducts. A finish on the other face draws the
// opposite charge there: the field outside goes, and both charges stay. Errors are
// [known.FieldError]s, joined. It takes a few tenths of a second.
func AntistatOnSpan(spec AntistatSpec) (Antistat, error) {
	return AntistatOnSpanContext(context.Background(), spec)
}

// AntistatOnSpanContext is [AntistatOnSpan] that ends soon after ctx does; its error is then that of ctx.
func AntistatOnSpanContext(ctx context.Context, spec AntistatSpec) (Antistat, error) {
	if err := spec.check(); err != nil {
		return Antistat{}, err
	}
	l, u := spec.Span.Length, float64(spec.Span.Speed)
	at := spec.At // [m]
	if at == 0 {
		at = l / 2
	}
	// share returns what is left at ln(v_s/U), to 4e-3.
	var failed error
	var last *FreeSpanWeb
	share := func(y float64) float64 {
		if err := ctx.Err(); err != nil {
			failed = err
			return math.NaN()
		}
		s := spec.Span
		s.SurfaceResistivity = units.SheetResistance(1 / (2 * units.Epsilon0 * math.Exp(y) * u))
		w, err := NewFreeSpanWebContext(ctx, s, &FreeSpanSettings{Step: 0.2})
		if err != nil {
			failed = errors.Join(failed, err)
			return math.NaN()
		}
		last = w
		c := w.FromInlet(units.SurfaceChargeDensity(1))
		i := 1
		for i < len(c.X)-1 && c.X[i] < at {
			i++
		}
		f := float64(at-c.X[i-1]) / float64(c.X[i]-c.X[i-1])
		return min(max(c.Sigma[i-1]+f*(c.Sigma[i]-c.Sigma[i-1]), 0), 1)
	}
	ratio := func(rho float64) float64 {
		return float64(SpreadingSpeed(units.SheetResistance(rho))) / u
	}
	lo, hi := spec.Resistivity.Limits()
	out := Antistat{Dwell: units.Time(float64(at) / u), Most: 1}
	out.Left = share(math.Log(ratio(spec.Resistivity.Value)))
	out.Least, out.Most = out.Left, out.Left
	switch spec.Resistivity.Kind {
	case known.LogNormal:
		out.Least, out.Most = share(math.Log(ratio(lo))), share(math.Log(ratio(hi)))
	case known.AtLeast:
		out.Most = 1
	}
	// In the middle the share falls about as (1 + (v_s/0.75U)^p)^(−1/p), p = 2.85.
	const p = 2.85
	more := math.Log(0.75) + math.Log(math.Pow(spec.Enough, -p)-1)/p - 0.5
	less := more + 1
	for range 12 {
		if !(share(more) <= spec.Enough) {
			break
		}
		less, more = more, more-1
	}
	for range 12 {
		if !(share(less) >= spec.Enough) {
			break
		}
		more, less = less, less+1
	}
	y, err := numeric.Brent(func(y float64) float64 { return share(y) - spec.Enough }, more, less, 0, 1e-3)
	if failed != nil {
		return Antistat{}, failed
	}
	if err != nil {
		return Antistat{}, fmt.Errorf("sheet: antistat: %w", err)
	}
	needed := math.Exp(y)
	out.Needed = units.SheetResistance(1 / (2 * units.Epsilon0 * needed * u))
	out.SlowTo = units.Speed(ratio(spec.Resistivity.Value) / needed * u)
	switch {
	case out.Most <= spec.Enough:
		out.Verdict = Helps
	case out.Least > spec.Enough:
		out.Verdict = NoHelp
	default:
		out.Verdict = Open
	}
	strip, err := NewSlotStrip(l, units.SheetResistance(spec.Resistivity.Value))
	if err != nil {
		return Antistat{}, err
	}
	out.AtRest = spec.Resistivity // τ is proportional to ρ_s
	out.AtRest.Value = float64(strip.TimeConstant())
	out.Validity = last.Validity() | spec.Flags
	if spec.Resistivity.Kind == known.AtLeast {
		out.Validity |= known.LowerLimit
	}
	return out, nil
}

func (s *AntistatSpec) check() error {
	span := s.Span
	err := known.Positive("speed", span.Speed)
	if span.SurfaceResistivity != 0 {
		err = errors.Join(err, known.Wrong("surface_resistivity", span.SurfaceResistivity, "0: Resistivity gives it with "+
			"its band"))
	}
	span.SurfaceResistivity = 0
	err = errors.Join(err, span.check(), s.Resistivity.Check("resistivity"), known.InRange("enough", s.Enough, 0.01, 0.99),
		known.InRange("at", s.At, 0, max(s.Span.Length, 0)))
	lo, hi := s.Resistivity.Limits()
	switch s.Resistivity.Kind {
	case known.Exact, known.AtLeast:
		hi = lo
	case known.LogNormal:
	default:
		err = errors.Join(err, known.Wrong("resistivity.kind", s.Resistivity.Kind, "exact, lognormal or a lower limit"))
	}
	if !(lo > 0) || math.IsInf(hi, 0) {
		err = errors.Join(err, known.Wrong("resistivity", s.Resistivity.Value, "more than 0 and finite over the band"))
	}
	return err
}
