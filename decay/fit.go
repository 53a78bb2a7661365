package decay

import (
	"errors"
	"fmt"
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// FitSettings says how readings are fitted. The zero value fits all models by
// unweighted least squares, with the noise estimated from the residuals and the
// intervals widened by what the residuals show of their correlation.
type FitSettings struct {
	// Models to fit; none means all.
	Models []Model
	// Abs and Rel are the noise of a reading where the law gives V: its variance is
	// Abs² + (Rel·V)². Both 0: the same noise everywhere. With Abs 0 a noise of
	// 0.001·Rel of the greatest reading is added, or a reading near 0 would count
	// for everything.
	Abs units.Voltage // noise that does not depend on the voltage
	Rel float64       // [1] noise as a fraction of the voltage, 0 … 0.3
	// Known: Abs and Rel are standard deviations. Else only their ratio counts
	// and the noise is estimated from the residuals.
	Known bool
	// Correlation of one reading's error with the next, −0.95 … 0.95, where it is
	// known from a long record of the same meter. 0: it is learned from the
	// residuals, from about 20 readings on; fewer say next to nothing of it.
	Correlation float64 // [1]
	// Independent: the errors of the readings are known to be independent, and
	// no interval is widened for a correlation.
	Independent bool
	// Offset adds a voltage Vb that does not decay (zero drift, ion balance) to
	// every model.
	Offset bool
	// StartTime fits how long before t = 0 the charge was deposited, in the models
	// where that can be seen (stretched, transit). In the others it is absorbed
	// exactly by V0 and the other parameters: no record can show it. Without it
	// [ClockLate] says when a record shows such a start.
	StartTime bool
	// Robust gives wild readings little weight (Huber) and then none (Tukey).
	Robust bool
	// Level of the intervals; 0 means 0.95.
	Level float64 // [1]
}

func (s *FitSettings) check() error {
	err := errors.Join(known.NotNegative("settings.abs", s.Abs), known.InRange("settings.rel", s.Rel, 0, 0.3),
		known.InRange("settings.correlation", s.Correlation, -0.95, 0.95))
	if s.Level != 0 && !(s.Level >= 0.5 && s.Level <= 0.9999) {
		err = errors.Join(err, known.Wrong("settings.level", s.Level, "0.5 … 0.9999, or 0 for 0.95"))
	}
	if s.Known && s.Abs == 0 && s.Rel == 0 {
		err = errors.Join(err, known.Wrong("settings.known", s.Known, "false, or a standard deviation in abs or rel"))
	}
	if s.Independent && s.Correlation != 0 {
		err = errors.Join(err, known.Wrong("settings.independent", s.Independent, "false where a correlation is given"))
	}
	for i, m := range s.Models {
		if m >= models {
			err = errors.Join(err, known.Wrong(index("settings.models", i), m, "one of AllModels"))
		}
	}
	return err
}

func (s *FitSettings) level() float64 {
	if s.Level == 0 {
		return 0.95
	}
	return s.Level
}

// noise returns the noise in units of the greatest reading, unit.
func (s *FitSettings) noise(unit float64) noise {
	switch {
	case s.Abs == 0 && s.Rel == 0:
		return noise{1, 0}
	case s.Abs == 0:
		return noise{1e-3 * s.Rel, s.Rel}
	}
	return noise{float64(s.Abs) / unit, s.Rel}
}

// checkReadings refuses columns that cannot be fitted.
func checkReadings(t []units.Time, v []units.Voltage) error {
	if len(t) != len(v) {
		return known.Wrong("v", len(v), "as many voltages as times")
	}
	if len(t) < 4 {
		return known.Wrong("t", len(t), "at least 4 readings")
	}
	var err error
	for i := range t {
		err = errors.Join(err, known.NotNegative(index("t", i), t[i]), known.Finite(index("v", i), v[i]))
		if i > 0 && !(t[i] > t[i-1]) {
			err = errors.Join(err, known.Wrong(index("t", i), t[i], "later than the reading before, "+t[i-1].String()))
		}
	}
	if err == nil && slices.Max(v) == slices.Min(v) {
		err = known.Wrong("v", v[0], "readings that differ: a constant shows no decay")
	}
	return err
}

// FitDecay fits the models to the readings v at the times t and ranks them by
// AICc. Times increase strictly and are not negative; 8 to 12 a decade, from the
// dead time of the meter to three of the slowest times, tell most.
//
// The fits are maximum quasi-likelihood by Levenberg–Marquardt with analytic
// derivatives, in ln of times and logit of exponents: weighted least squares
// whose weights follow the law and not the reading. A model that cannot be
// fitted (too few readings) is left out and listed by Failed; if none can, the
// error joins the reasons. Errors for wrong input are [*known.FieldError]s,
// joined, that name every bad reading.
//
// A good fit is no proof of a mechanism: read [ModelComparison.Findings].
func FitDecay(t []units.Time, v []units.Voltage, settings FitSettings) (*ModelComparison, error) {
	if err := errors.Join(settings.check(), checkReadings(t, v)); err != nil {
		return nil, err
	}
	list := settings.Models
	if len(list) == 0 {
		list = AllModels()
	}
	f := newFitter(t, v, settings)
	c := &ModelComparison{}
	for i, m := range list {
		if settings.Offset && m == ModelExponential && slices.Contains(list, ModelOffsetExponential) ||
			slices.Contains(list[:i], m) {
			continue // the same model twice
		}
		fit, err := f.fit(m, settings.StartTime)
		if err != nil {
			c.failed = append(c.failed, fmt.Errorf("%v: %w", m, err))
			continue
		}
		c.fits = append(c.fits, fit)
	}
	if len(c.fits) == 0 {
		return nil, errors.Join(c.failed...)
	}
	var late []*Fit
	if !settings.StartTime {
		for _, x := range c.fits {
			if !(x.score > 1.5) { // nothing in the residuals asks for it
				continue
			}
			if fit, err := f.late(x.model); err == nil {
				late = append(late, fit)
			}
		}
	}
	c.rank(late)
	return c, nil
}
