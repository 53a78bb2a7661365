package main

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

var start = time.Date(2026, 1, 14, 12, 0, 0, 0, time.UTC)

const place = "A4 after nip"

func diagnosis(t *testing.T) *survey.Diagnosis {
	t.Helper()
	d, err := diagnose("../../survey/demo/line.json", "../../survey/demo/survey.csv")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func watch(t *testing.T, d *survey.Diagnosis) *Watch {
	t.Helper()
	w, err := NewWatch(d, []Sensor{{Name: place, Look: line.Look{Station: place, Quantity: line.FieldMeter,
		Face: line.FaceA, Distance: 25 * units.Millimetre, Meter: "meter 1"}}})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// feed sends n messages a second apart and returns the events.
func feed(t *testing.T, w *Watch, at *time.Time, n int, volts func(int) float64, speed units.Speed) []Event {
	t.Helper()
	var out []Event
	for i := range n {
		*at = at.Add(time.Second)
		out = append(out, w.Tick(*at)...)
		e, changed, err := w.Read(Sample{Time: *at, Sensor: place, Shows: units.Voltage(volts(i)), Speed: speed,
			Humidity: 0.13})
		if err != nil {
			t.Fatal(err)
		}
		if changed {
			out = append(out, e)
		}
	}
	return out
}

const run220 = 220 * units.MetrePerMinute

// truth draws a line from the posterior and a meter with its shared errors: what it then
// shows is valid, and made without the band of the watch.
func truth(t *testing.T, d *survey.Diagnosis, seed uint64) func(int) float64 {
	t.Helper()
	l, err := d.Sample(seed, 7)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(seed, 1))
	look := &line.Look{Station: place, Quantity: line.FieldMeter, Face: line.FaceA, Distance: 25 * units.Millimetre,
		Meter: "meter 1", Running: true}
	v, err := l.View(look)
	if err != nil {
		t.Fatal(err)
	}
	res := make([]line.Result, l.Len())
	l.RunTo(res, run220)
	mid := v.OnA*float64(res[v.Station].A) + v.OnB*float64(res[v.Station].B)
	n := l.Noise(&v, mid)
	// gain 6 %, offset 40 V: the meter's, in the description
	shared := n.Gain*0.06*rng.NormFloat64() + n.Offset*40*rng.NormFloat64() + n.Place*v.PlaceSD*rng.NormFloat64()
	return func(int) float64 { return mid + shared + n.Own*rng.NormFloat64() }
}

// TestKeepsQuiet: of 200 valid lines with 60 readings each next to none raises an alarm.
func TestKeepsQuiet(t *testing.T) {
	d := diagnosis(t)
	alarms := 0
	for seed := range uint64(200) {
		w, at := watch(t, d), start
		for _, e := range feed(t, w, &at, 60, truth(t, d, 100+seed), run220) {
			if e.State.Alarm() {
				alarms++
				t.Logf("seed %d: %s: %s", seed, e.State, e.Why)
			}
		}
		if s, _, why := w.State(place); s != Quiet && s != Strange && s != Ahead {
			t.Fatalf("%s: %s", s, why)
		}
	}
	if alarms > 4 { // 2 %
		t.Errorf("%d of 200 valid lines raise an alarm", alarms)
	}
}

// TestRaisesAlarm: charge that the survey does not explain is told with its reason.
func TestRaisesAlarm(t *testing.T) {
	d := diagnosis(t)
	w, at := watch(t, d), start
	if e := feed(t, w, &at, 5, func(int) float64 { return w.sensors[0].mid }, run220); len(e) != 1 || e[0].State != Quiet {
		t.Fatalf("%v", e)
	}
	e := feed(t, w, &at, 5, func(int) float64 { return -30e3 }, run220)
	if len(e) != 1 || e[0].State != Ahead || !strings.Contains(e[0].Why, "limit") || !strings.Contains(e[0].Why, "µC/m²") {
		t.Fatalf("%v", e)
	}
	// One valid reading ends it.
	if e := feed(t, w, &at, 1, func(int) float64 { return w.sensors[0].mid }, run220); len(e) != 1 || e[0].State != Quiet {
		t.Fatalf("%v", e)
	}
	// A single wild reading is none.
	if e := feed(t, w, &at, 10, func(i int) float64 {
		if i%5 == 4 {
			return 15e3
		}
		return w.sensors[0].mid
	}, run220); len(e) != 0 {
		t.Errorf("%v", e)
	}
}

// TestStopIsNoSilence: a line that stands is a state of its own and ends no alarm.
func TestStopIsNoSilence(t *testing.T) {
	d := diagnosis(t)
	w, at := watch(t, d), start
	feed(t, w, &at, 5, func(int) float64 { return -30e3 }, run220)
	e := feed(t, w, &at, 5, func(int) float64 { return 0 }, 0)
	if len(e) != 1 || e[0].State != Stopped || !strings.Contains(e[0].Why, "stands") {
		t.Fatalf("%v", e)
	}
	if s, alarm, _ := w.State(place); s != Stopped || !alarm {
		t.Errorf("%v, alarm %v", s, alarm)
	}
	e = feed(t, w, &at, 3, func(int) float64 { return w.sensors[0].mid }, run220)
	if s, alarm, _ := w.State(place); s != Quiet || alarm {
		t.Errorf("%v, alarm %v: %v", s, alarm, e)
	}
	// Charge before the sensor of a line that stands is seen.
	e = feed(t, w, &at, 1, func(int) float64 { return 60e3 }, 0)
	if len(e) != 1 || e[0].State != Ahead || !strings.Contains(e[0].Why, "stands") {
		t.Errorf("%v", e)
	}
}

// TestNoNumberNoSensor: NaN and silence are states of their own, and alarms.
func TestNoNumberNoSensor(t *testing.T) {
	d := diagnosis(t)
	w, at := watch(t, d), start
	mid := func(int) float64 { return w.sensors[0].mid }
	feed(t, w, &at, 2, mid, run220)
	for _, v := range []float64{math.NaN(), math.Inf(1)} {
		e := feed(t, w, &at, 3, func(int) float64 { return v }, run220)
		if len(e) != 1 || e[0].State != NoValue || !e[0].State.Alarm() {
			t.Errorf("%v: %v", v, e)
		}
		feed(t, w, &at, 1, mid, run220)
	}
	if e := w.Tick(at.Add(5 * time.Second)); len(e) != 0 {
		t.Errorf("%v", e)
	}
	e := w.Tick(at.Add(11 * time.Second))
	if len(e) != 1 || e[0].State != Lost {
		t.Errorf("%v", e)
	}
	if e := w.Tick(at.Add(12 * time.Second)); len(e) != 0 {
		t.Errorf("told twice: %v", e)
	}
	at = at.Add(13 * time.Second)
	if e := feed(t, w, &at, 1, mid, run220); len(e) != 1 || e[0].State != Quiet {
		t.Errorf("%v", e)
	}
	// A sensor that never sent is lost too.
	w = watch(t, d)
	w.Tick(start)
	if e := w.Tick(start.Add(11 * time.Second)); len(e) != 1 || e[0].State != Lost {
		t.Errorf("%v", e)
	}
}

// TestStuck: a sensor that repeats its number is no quiet one, whether the number lies in the band or not; another
// number ends it, and a line that stands may show one number for long.
func TestStuck(t *testing.T) {
	d := diagnosis(t)
	w, at := watch(t, d), start
	mid := w.sensors[0].mid
	e := feed(t, w, &at, 59, func(int) float64 { return mid }, run220)
	if len(e) != 1 || e[0].State != Quiet {
		t.Fatalf("%v", e)
	}
	e = feed(t, w, &at, 60, func(int) float64 { return mid }, run220)
	if len(e) != 1 || e[0].State != Stuck || !e[0].State.Alarm() || !strings.Contains(e[0].Why, "60 readings") {
		t.Fatalf("%v", e)
	}
	if e = feed(t, w, &at, 1, func(int) float64 { return 1.0001 * mid }, run220); len(e) != 1 || e[0].State != Quiet {
		t.Errorf("%v", e)
	}
	// Next to nothing on the web, as behind a bar: a display in steps shows one number again and again.
	for _, low := range []float64{0, 0.02 * mid} {
		w := watch(t, d)
		s, at := w.sensors[0], start
		s.mid, s.sd = low, math.Abs(mid)
		meter := w.calibrated.Description().Meters[s.view.Meter]
		if math.Abs(low)*float64(meter.Spots) > float64(meter.Offset) {
			t.Fatalf("%g V is no small display", low)
		}
		for _, x := range feed(t, w, &at, 200, func(int) float64 { return low }, run220) {
			if x.State == Stuck {
				t.Errorf("%g V again and again: %v", low, x)
			}
		}
	}
	e = feed(t, w, &at, 200, func(int) float64 { return mid }, 0)
	if len(e) != 1 || e[0].State != Stopped {
		t.Errorf("%v", e)
	}
	if e = feed(t, w, &at, 59, func(int) float64 { return mid }, run220); len(e) != 1 || e[0].State != Quiet {
		t.Errorf("%v", e)
	}
}

// TestClock: a message out of order is refused; a clock that was set back, or that had been an age ahead once, is told
// and followed, and the sensor is watched on.
func TestClock(t *testing.T) {
	d := diagnosis(t)
	w, at := watch(t, d), start
	mid := w.sensors[0].mid
	feed(t, w, &at, 2, func(int) float64 { return mid }, run220)
	send := func(after time.Duration, v float64) (Event, bool, error) {
		return w.Read(Sample{Time: at.Add(after), Sensor: place, Shows: units.Voltage(v), Speed: run220, Humidity: 0.13})
	}
	for range 5 { // a message without a time is no clock that was set back
		if _, _, err := w.Read(Sample{Sensor: place, Shows: units.Voltage(mid), Speed: run220}); err == nil {
			t.Error("a message without a time is taken")
		}
	}
	for i, after := range []time.Duration{-time.Hour, time.Second, -time.Hour, -time.Hour + time.Second} {
		if _, _, err := send(after, mid); (err != nil) != (after < 0) {
			t.Errorf("message %d: %v", i, err)
		}
	}
	e, changed, err := send(-time.Hour+2*time.Second, 1.01*mid)
	if err != nil || !changed || e.State != Quiet || !strings.Contains(e.Why, "set back by 59m59s") {
		t.Fatalf("%+v, %v, %v", e, changed, err)
	}
	for i := range 3 {
		e, changed, err = send(-time.Hour+time.Duration(3+i)*time.Second, -30e3)
	}
	if err != nil || !changed || e.State != Ahead {
		t.Errorf("%+v, %v, %v", e, changed, err)
	}
}

// TestMessages runs the whole tool on text.
func TestMessages(t *testing.T) {
	var in, out strings.Builder
	for i, m := range []string{`"shows":"-3 kV"`, `"shows":null`, `"shows":"3 kg"`, `"shows":"-3 kV","speed":"0 m/min"`,
		`"shows":"-3 kV","speed":"-4 m/s"`} {
		in.WriteString(`{"time":"` + start.Add(time.Duration(i)*time.Second).Format(time.RFC3339) + `","sensor":"` +
			place + `",` + m + "}\n")
	}
	in.WriteString("not json\n")
	if err := run("../../survey/demo/line.json", "../../survey/demo/survey.csv", place, "meter 1", "25 mm",
		strings.NewReader(in.String()), &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{": quiet: ", "! ", "no value", `message 3: `, "stopped", "message 5: speed",
		"message 6: "} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("output lacks %q:\n%s", want, out.String())
		}
	}
}

// TestFaultsOfAMessage: a message is told all that is wrong with it.
func TestFaultsOfAMessage(t *testing.T) {
	var out strings.Builder
	in := "\n" + `{"time":"` + start.Format(time.RFC3339) + `","sensor":"` + place +
		`","shows":"3 kg","speed":"4 V","humidity":"dry"}` + "\n"
	if err := run("../../survey/demo/line.json", "../../survey/demo/survey.csv", place, "meter 1", "25 mm",
		strings.NewReader(in), &out); err != nil {
		t.Fatal(err)
	}
	want := []string{`message 2: shows: voltage "3 kg"`, `message 2: speed: speed "4 V"`,
		`message 2: humidity: relative humidity over water "dry"`}
	got := strings.Split(strings.TrimSpace(out.String()), "\n")
	for i, w := range want {
		if i >= len(got) || !strings.HasPrefix(got[i], w) {
			t.Errorf("fault %d: want %q in\n%s", i, w, out.String())
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d lines:\n%s", len(got), out.String())
	}
}
