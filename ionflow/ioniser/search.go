package ioniser

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Web is what passes a source.
type Web struct {
	Net   units.SurfaceChargeDensity // net charge density, either sign
	Speed units.Speed                // above 0
	Gap   units.Length               // air-equivalent distance of metal behind it, see [Source.At]
}

func (w Web) check() error {
	err := errors.Join(known.Finite("web.net", w.Net), known.Positive("web.speed", w.Speed))
	if w.Net == 0 {
		err = errors.Join(err, known.Wrong("web.net", w.Net, "not 0"))
	}
	if !(w.Gap > 0) {
		err = errors.Join(err, known.Wrong("web.gap", w.Gap, "more than 0; NoMetal() for none"))
	}
	return err
}

// UnreachableError says that no value of a searched quantity gives the residual that
// was asked for.
type UnreachableError struct {
	Want   units.SurfaceChargeDensity // the residual asked for
	Best   units.SurfaceChargeDensity // the least residual found
	At     string                     // where it was found, with its unit
	Search string                     // the quantity that was searched
}

// Error says what was asked and what can be had.
func (e *UnreachableError) Error() string {
	return fmt.Sprintf("ioniser: no %s leaves %v or less; the least is %v at %s", e.Search, e.Want, e.Best, e.At)
}

// Found is the answer of a search.
type Found[T units.Quantity] struct {
	Value    T                          // of the quantity
	Left     units.SurfaceChargeDensity // magnitude of what is left there
	Validity known.Validity             // of that residual
}

// Farthest returns the greatest distance between lo and hi at which the source leaves at most want of the web's
// net. The metal behind the web stays where it is. Errors: [*known.FieldError]s for a range that is not 0 < lo
// < hi and arguments out of theirs, [*UnreachableError]. 200 steps and a bisection, a curve a trial: some ten
// milliseconds.
func (s Spec) Farthest(want units.SurfaceChargeDensity, w Web, lo, hi units.Length) (Found[units.Length], error) {
	return search("distance", want, w, lo, hi, true, func(x units.Length) (Spec, error) {
		c := s
		c.Distance = x
		if c.Points.Body == s.Distance {
			c.Points.Body = 0 // it stands for the distance
		}
		return c, nil
	})
}

// LeastCurrent returns the least emission per polarity between lo and hi with which the source leaves at most
// want of the web's net. Errors as [Spec.Farthest].
func (s Spec) LeastCurrent(want units.SurfaceChargeDensity, w Web, lo,
	hi units.LineCurrent) (Found[units.LineCurrent], error) {
	return search("current", want, w, lo, hi, false, func(x units.LineCurrent) (Spec, error) {
		c, e := s, s.Emitter.Spec()
		var err error
		e.Current, e.Output = x, 1
		if s.passive() {
			c.Points.Most = x
		} else {
			c.Emitter, err = ionflow.NewEmitter(e)
		}
		return c, err
	})
}

// LeastVoltage returns the least voltage of the points between lo and hi with which the source leaves at most
// want of the web's net. Errors as [Spec.Farthest].
func (s Spec) LeastVoltage(want units.SurfaceChargeDensity, w Web, lo, hi units.Voltage) (Found[units.Voltage], error) {
	return search("voltage", want, w, lo, hi, false, func(x units.Voltage) (Spec, error) {
		c, e := s, s.Emitter.Spec()
		e.Voltage = x
		var err error
		c.Emitter, err = ionflow.NewEmitter(e)
		return c, err
	})
}

// LeastAir returns the least value between lo and hi of whatever sets the stream, a gauge pressure or a speed,
// at which the source leaves at most want of the web's net. stream returns the air for a value. Faster air is
// not always better: beyond an optimum the same emission is spread thinner and mixed longer, so that what lies
// above the value found need not do. Errors as [Spec.Farthest], and those of stream.
func LeastAir[T units.Quantity](s Spec, stream func(T) (Stream, error), want units.SurfaceChargeDensity, w Web,
	lo, hi T) (Found[T], error) {
	// What was measured at one speed of the air stays a property of the bar.
	if s.Air.At == 0 && s.Air.Stream != nil {
		s.Air.At = s.Air.Stream.MeanSpeed(0)
	}
	return search("air", want, w, lo, hi, false, func(x T) (Spec, error) {
		c := s
		var err error
		c.Air.Stream, err = stream(x)
		return c, err
	})
}

// search finds the edge of the set of x in lo … hi with a residual of at most want that is nearest to hi
// (fromHigh) or lo: a scan on 200 logarithmic steps, then bisection to 1e-6.
func search[T units.Quantity](name string, want units.SurfaceChargeDensity, w Web, lo, hi T, fromHigh bool,
	change func(T) (Spec, error)) (Found[T], error) {
	nan := Found[T]{Value: T(math.NaN()), Left: units.SurfaceChargeDensity(math.NaN())}
	if err := errors.Join(w.check(), known.Positive("want", want), known.Positive(name+" lo", lo),
		known.Positive(name+" hi", hi)); err != nil {
		return nan, err
	}
	if !(lo < hi) {
		return nan, known.Wrong(name, fmt.Sprintf("%v … %v", lo, hi), "lo below hi")
	}
	var fault error
	try := func(x T) Found[T] {
		c, err := change(x)
		if err == nil {
			src := &Source{spec: c, only: w.Net}
			if err = src.check(); err == nil {
				src.build()
				var p *Place
				if p, err = src.At(w.Gap); err == nil {
					left, flag := p.Residual(w.Net, w.Speed)
					return Found[T]{x, left, flag}
				}
			}
		}
		if fault == nil {
			fault = err
		}
		return Found[T]{x, units.SurfaceChargeDensity(math.NaN()), known.Inside}
	}
	const steps = 200
	at := func(i int) T {
		if fromHigh {
			i = steps - i
		}
		return T(float64(lo) * numeric.Pow(float64(hi)/float64(lo), float64(i)/steps))
	}
	best := nan
	for i := range steps + 1 {
		f := try(at(i))
		if !(f.Left >= best.Left) && !math.IsNaN(float64(f.Left)) {
			best = f
		}
		if !(f.Left <= want) {
			continue
		}
		if i == 0 {
			return f, nil
		}
		numeric.Edge(func(x float64) bool {
			g := try(T(x))
			if g.Left <= want {
				f = g
				return true
			}
			return false
		}, float64(f.Value), float64(at(i-1)), 1e-6, 0)
		return f, nil
	}
	if math.IsNaN(float64(best.Left)) && fault != nil {
		return nan, fault
	}
	return nan, &UnreachableError{Want: want, Best: best.Left, At: fmt.Sprint(best.Value), Search: name}
}
