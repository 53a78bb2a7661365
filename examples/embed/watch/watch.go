package main

import (
	"fmt"
	"math"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// State is what the watch thinks of one sensor. Each is a state of its own: a sensor
// that says nothing is neither quiet nor alarmed.
type State uint8

// The states.
const (
	Waiting State = iota // nothing was read yet
	Quiet                // readings lie where the calibrated line puts them
	Stopped              // the line stands: the model of a running line does not judge
	NoValue              // the sensor sends, but no number
	Lost                 // the sensor does not send
	Stuck                // the sensor sends one number again and again, to its last digit
	Strange              // readings lie outside the band: the line has changed, or the sensor has
	Ahead                // from what is measured here the limit is passed at a station behind
)

func (s State) String() string {
	return [...]string{"waiting", "quiet", "stopped", "no value", "lost", "stuck", "strange", "limit ahead"}[s]
}

// Alarm says whether somebody must look.
func (s State) Alarm() bool { return s >= NoValue }

// Sample is one message of a sensor.
type Sample struct {
	Time     time.Time
	Sensor   string
	Shows    units.Voltage          // what the meter displays; NaN if the message has no number
	Speed    units.Speed            // of the line; 0: it stands; NaN: not known, the last one counts
	Humidity units.RelativeHumidity // of the air at the sensor; NaN: not known
}

// Event is a change of state, with its reason.
type Event struct {
	Time   time.Time
	Sensor string
	State  State
	Why    string
}

// Sensor is a meter that looks at a place of the line for good.
type Sensor struct {
	Name string
	Look line.Look
}

// Watch follows the sensors of one line. It is not for several goroutines at once.
type Watch struct {
	calibrated *line.Line
	drawn      []*line.Line // from the posterior of the survey
	sensors    []*sensor
	surveyed   units.RelativeHumidity // of the air of the description
	limit      float64                // C/m²
	speed      units.Speed            // the last one known
	at         units.Speed            // for which the bands of the sensors were worked out
	results    []line.Result
}

type sensor struct {
	Sensor
	view         line.View
	state        State
	why          string
	last         time.Time
	early        int     // messages that are older than the last one, one after another
	same         int     // readings of one number while the line ran, one after another
	shown        float64 // that number [V]
	outside      int     // readings outside the band, one after another
	ahead        int     // readings that put the limit ahead, one after another
	mid, sd      float64 // [V] of what a valid reading shows at the speed
	a, b         units.SurfaceChargeDensity
	ceiling      []float64 // [C/m²] greatest net charge at each station that the survey explains
	alarmAtStand bool      // the state before the line stopped was an alarm
}

const (
	draws   = 200
	wide    = 3.3              // standard deviations: 1 of 1000 valid readings lies outside
	inARow  = 3                // readings that must agree before a state of alarm
	silence = 10 * time.Second // after which a sensor is lost
	frozen  = 60               // readings of one number, a judgement: charge scatters from spot to spot of a running web
	crawl   = units.Speed(0.02)
	turned  = 0.02 // relative change of speed that needs new bands
	airStep = 0.10 // change of relative humidity for which the survey no longer speaks
)

// NewWatch builds a watch on a diagnosed line.
func NewWatch(d *survey.Diagnosis, sensors []Sensor) (*Watch, error) {
	c, err := d.Calibrated()
	if err != nil {
		return nil, err
	}
	desc := c.Description()
	w := &Watch{calibrated: c, surveyed: desc.Air.RelativeHumidity, limit: float64(c.Limit()), speed: d.Speed,
		results: make([]line.Result, c.Len())}
	for i := range draws {
		l, err := d.Sample(1, uint64(i))
		if err != nil {
			return nil, err
		}
		w.drawn = append(w.drawn, l)
	}
	names := map[string]bool{}
	for i, s := range sensors {
		at := fmt.Sprintf("sensors[%d]", i)
		if s.Name == "" || names[s.Name] {
			return nil, known.Wrong(at+".name", s.Name, "a name that no other sensor has")
		}
		names[s.Name] = true
		s.Look.Running = true
		v, err := c.View(&s.Look)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", at, err)
		}
		if v.Unused != "" {
			return nil, known.Wrong(at+".look", s.Look.Station, "a place where the web is seen: "+v.Unused)
		}
		w.sensors = append(w.sensors, &sensor{Sensor: s, view: v, ceiling: make([]float64, c.Len())})
	}
	w.bands(w.speed)
	return w, nil
}

// bands works out what valid readings show at a speed: the spread of the survey's
// posterior and of the meter.
func (w *Watch) bands(v units.Speed) {
	w.at = v
	for _, s := range w.sensors {
		var sum, squares float64
		for i := range s.ceiling {
			s.ceiling[i] = w.limit
		}
		for _, l := range w.drawn {
			l.RunTo(w.results, v)
			r := w.results[s.view.Station]
			mid := s.view.OnA*float64(r.A) + s.view.OnB*float64(r.B)
			sum += mid
			squares += mid * mid
			for i := range s.ceiling {
				s.ceiling[i] = max(s.ceiling[i], math.Abs(float64(w.results[i].Net())))
			}
		}
		n := float64(len(w.drawn))
		w.calibrated.RunTo(w.results, v)
		r := w.results[s.view.Station]
		s.a, s.b = r.A, r.B
		s.mid = sum / n
		own := w.calibrated.Deviation(&s.view, s.mid)
		s.sd = math.Sqrt(max(squares/n-s.mid*s.mid, 0) + own*own)
	}
}

// Read takes one message and returns the change that it makes, if any.
func (w *Watch) Read(m Sample) (Event, bool, error) {
	var s *sensor
	for _, x := range w.sensors {
		if x.Name == m.Sensor {
			s = x
		}
	}
	if s == nil {
		return Event{}, false, known.Wrong("sensor", m.Sensor, "the name of a sensor of the watch")
	}
	if m.Time.IsZero() {
		return Event{}, false, known.Wrong("time", "", "the time of the message")
	}
	set := ""
	if m.Time.Before(s.last) {
		if s.early++; s.early < inARow {
			return Event{}, false, known.Wrong("time", m.Time.Format(time.RFC3339), "a time after the last message of "+s.Name)
		}
		// Not one message out of order: the clock was set back, and refusing all until it has come round again would
		// leave the sensor unwatched.
		set = "; the clock of its messages was set back by " + s.last.Sub(m.Time).Round(time.Second).String()
		s.outside, s.ahead, s.same = 0, 0, 0
	}
	s.early, s.last = 0, m.Time
	if !math.IsNaN(float64(m.Speed)) {
		if m.Speed < 0 || m.Speed > 100 {
			return Event{}, false, known.Wrong("speed", m.Speed, "0 … 100 m/s")
		}
		w.speed = m.Speed
	}
	state, why := w.judge(s, &m)
	e, changed := s.become(state, why+set, m.Time)
	return e, changed || set != "", nil
}

// judge says what a message means.
func (w *Watch) judge(s *sensor, m *Sample) (State, string) {
	v := float64(m.Shows)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		s.same = 0
		return NoValue, "the message of the sensor has no number"
	}
	if w.speed < crawl {
		s.outside, s.ahead, s.same = 0, 0, 0 // what stands still may show one number
		// What stands before the sensor is seen all the same: geometry needs no speed.
		if net := w.net(s, v); math.Abs(net) > s.ceiling[s.view.Station]+3*s.sd/w.perNet(s) {
			return Ahead, fmt.Sprintf("the line stands, and %s is on the web before the sensor", micro(net))
		}
		return Stopped, "the line stands: what it will carry is not judged, and nothing is thereby in order"
	}
	if !(math.Abs(float64(w.speed/w.at)-1) < turned) {
		w.bands(w.speed)
	}
	air := ""
	if h := float64(m.Humidity - w.surveyed); math.Abs(h) > airStep {
		air = fmt.Sprintf("; the air has %s, the survey was taken at %s", units.Display(m.Humidity, units.Metric, 2),
			units.Display(w.surveyed, units.Metric, 2))
	}
	if off := math.Abs(v-s.mid) / s.sd; off > wide {
		s.outside++
	} else {
		s.outside = 0
	}
	at, net := w.ahead(s, v)
	if at >= 0 {
		s.ahead++
	} else {
		s.ahead = 0
	}
	desc := w.calibrated.Description()
	// Where the charge scatters by less than the zero may be off, a display in steps may well show one number.
	meter := &desc.Meters[s.view.Meter]
	if s.same++; v != s.shown || !(math.Abs(v)*float64(meter.Spots) > float64(meter.Offset)) {
		s.same, s.shown = 1, v
	}
	switch {
	case s.same >= frozen:
		return Stuck, fmt.Sprintf("%d readings of %s to the last digit while the line ran: the sensor no longer measures",
			frozen, kilo(v))
	case s.ahead >= inARow && s.outside >= inARow:
		return Ahead, fmt.Sprintf("%d readings give %s here; at %q that becomes %s, the limit is %s%s", s.ahead,
			micro(w.net(s, v)), desc.Stations[at].Name, micro(net), micro(w.limit), air)
	case s.outside >= inARow:
		return Strange, fmt.Sprintf("%d readings outside %s … %s, the last %s: the line has changed, or the sensor has%s",
			s.outside, kilo(s.mid-wide*s.sd), kilo(s.mid+wide*s.sd), kilo(v), air)
	case s.outside > 0 && s.state.Alarm():
		return s.state, s.why // an alarm ends with a reading inside
	case s.outside > 0 && s.state != Waiting && s.state != Stopped:
		return s.state, s.why
	}
	return Quiet, "readings lie in the band of the calibrated line" + air
}

// perNet is the display for each C/m² of net charge, V/(C/m²).
func (w *Watch) perNet(s *sensor) float64 { return math.Abs(s.view.OnA+s.view.OnB) / 2 }

// net is the net charge that a display says, C/m².
func (w *Watch) net(s *sensor, v float64) float64 { return 2 * v / (s.view.OnA + s.view.OnB) }

// ahead runs the rest of the line from what is measured: what a field meter adds to
// the calibrated state is shared by both faces, which it cannot tell apart. It returns
// the first station whose net charge passes the limit and what the survey explains,
// −1 if there is none.
func (w *Watch) ahead(s *sensor, v float64) (station int, net float64) {
	more := units.SurfaceChargeDensity((v - s.view.OnA*float64(s.a) - s.view.OnB*float64(s.b)) / (s.view.OnA + s.view.OnB))
	n := w.calibrated.RunFrom(w.results, s.view.Station, line.State{A: s.a + more, B: s.b + more},
		line.Conditions{Speed: w.speed})
	for i := range n {
		at := s.view.Station + 1 + i
		if net := float64(w.results[i].Net()); math.Abs(net) > s.ceiling[at] {
			return at, net
		}
	}
	return -1, 0
}

// Tick finds sensors that have fallen silent; call it now and then.
func (w *Watch) Tick(now time.Time) []Event {
	var out []Event
	for _, s := range w.sensors {
		if s.last.IsZero() {
			s.last = now // it has never sent: silence counts from the first tick
		}
		if d := now.Sub(s.last); d > silence {
			s.outside, s.ahead = 0, 0
			if e, changed := s.become(Lost, fmt.Sprintf("no message for %v", silence), now); changed {
				out = append(out, e)
			}
		}
	}
	return out
}

// become changes the state. An alarm that stood when the line stopped stands until
// readings of the running line have ended it.
func (s *sensor) become(state State, why string, t time.Time) (Event, bool) {
	if state == Stopped && (s.state == Strange || s.state == Ahead || s.state == Stopped && s.alarmAtStand) {
		s.alarmAtStand = true
		why += "; the alarm from before stands"
	} else if state != Stopped {
		s.alarmAtStand = false
	}
	changed := state != s.state
	s.state, s.why = state, why
	return Event{t, s.Name, state, why}, changed
}

// State returns what the watch thinks of a sensor; alarm also where an alarm stood when
// the line stopped.
func (w *Watch) State(name string) (state State, alarm bool, why string) {
	for _, s := range w.sensors {
		if s.Name == name {
			return s.state, s.state.Alarm() || s.alarmAtStand, s.why
		}
	}
	return Waiting, false, "no such sensor"
}

func micro(x float64) string {
	return units.Display(units.SurfaceChargeDensity(x), units.Metric, 2)
}

func kilo(v float64) string {
	return units.Display(units.DisplayVoltage(v), units.Metric, 2)
}
