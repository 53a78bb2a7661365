package upkeep

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"gonum.org/v1/gonum/stat"
)

// Watch is what a named meter may show at a place of the line.
type Watch struct {
	Station string // name of the place
	Meter   string // name of the field meter in the description
	// Limit is the display for a net charge at the limit of the line, at the meter's
	// nominal distance.
	Limit units.DisplayVoltage
	// Action is what the mean of Readings spots must stay below, as magnitude, so
	// that the charge is under the limit with 95 %.
	Action   units.DisplayVoltage
	Readings int
	// Control are the 3 σ limits of one spot from earlier readings at the place; 0
	// where there are fewer than four. A reading outside them is a change, whatever
	// the limit says.
	Control [2]units.DisplayVoltage
	// Unused says why the meter cannot watch this place, "" if it can.
	Unused string
}

// History is what was read earlier at a place, spot by spot, in a state that was found good.
type History struct {
	Station string                 // the place
	Values  []units.DisplayVoltage // four or more for control limits
}

// leastSeen is the share of the field below which a place is no place for a limit:
// its reading says more of the geometry than of the charge (a judgement).
const leastSeen = 0.3

// Watches returns the action and control limits of all places of a line for the named
// field meter, each spot read at its nominal distance, n spots (1 … 100). With the
// display V_L of the limit and the errors of the description
//
//	V_action = V_L − 1.645·√(own²/n + (gain·V_L)² + offset² + (place·V_L)²)
//
// own is the scatter from spot to spot with placing and last digit. An action limit
// of 0 says that n spots of this meter cannot show the place to be under the limit.
// Errors are [*known.FieldError]s.
func Watches(l *line.Line, meter string, n int, history []History) ([]Watch, error) {
	if l == nil {
		return nil, known.Wrong("line", "nil", "a line made by line.New")
	}
	d := l.Description()
	var m *line.Meter
	for i := range d.Meters {
		if d.Meters[i].Name == meter && d.Meters[i].Kind == line.FieldMeterKind {
			m = &d.Meters[i]
		}
	}
	var errs []error
	if m == nil {
		errs = append(errs, known.Wrong("meter", meter, "the name of a field meter of the description"))
	}
	if n < 1 || n > 100 {
		errs = append(errs, known.Wrong("readings", n, "1 … 100"))
	}
	past := map[string][]units.DisplayVoltage{}
	for i, h := range history {
		if l.Station(h.Station) < 0 {
			errs = append(errs, known.Wrong(fmt.Sprintf("history[%d].station", i), h.Station, "a station of the line"))
		}
		for k, v := range h.Values {
			errs = append(errs, known.InRange(fmt.Sprintf("history[%d].values[%d]", i, k), v, -1e9, 1e9))
		}
		past[h.Station] = append(past[h.Station], h.Values...)
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	var out []Watch
	for i := range d.Stations {
		if d.Stations[i].Kind == line.Place {
			w, err := watch(l, m, i, n)
			if err != nil {
				return nil, err
			}
			if x := past[w.Station]; len(x) >= 4 {
				mean, sd := stat.MeanStdDev(units.Floats(x), numeric.Ones(len(x)))
				w.Control = [2]units.DisplayVoltage{units.DisplayVoltage(mean - 3*sd), units.DisplayVoltage(mean + 3*sd)}
			}
			out = append(out, w)
		}
	}
	return out, nil
}

func watch(l *line.Line, m *line.Meter, i, n int) (Watch, error) {
	name := l.Description().Stations[i].Name
	w := Watch{Station: name, Meter: m.Name, Readings: n}
	view, err := l.View(&line.Look{Station: name, Quantity: line.FieldMeter, Face: line.FaceA, Distance: m.Nominal,
		Running: true, Meter: m.Name})
	if err != nil {
		return w, err
	}
	if off := l.Description().Stations[i].Off; len(off) > 0 {
		view.Unused = "read with " + strings.Join(off, ", ") + " off: for surveys, not for checks"
	}
	if w.Unused = view.Unused; w.Unused != "" {
		return w, nil
	}
	if factor, _ := l.PlaceFactor(i, m.Nominal, 0); factor < leastSeen {
		w.Unused = fmt.Sprintf("metal behind the web leaves the meter %.0f %% of the field; read in mid-span", 100*factor)
	}
	at := view.OnA * float64(l.Limit())
	w.Limit = units.DisplayVoltage(at)
	if m.FullScale > 0 && w.Limit >= m.FullScale {
		w.Unused = fmt.Sprintf("the limit lies beyond the full scale of %v", m.FullScale)
	}
	e := l.Noise(&view, at)
	sd := math.Sqrt(sq(e.Own)/float64(n) + sq(e.Gain*float64(m.Gain)) + sq(float64(m.Offset)) + sq(e.Place*view.PlaceSD))
	w.Action = units.DisplayVoltage(max(0, at-known.Z95*sd))
	return w, nil
}
