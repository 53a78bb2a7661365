// Command watch embeds pithball in a small tool of another module: it calibrates a line
// from its survey, then reads what fixed field meters send, one JSON message a line,
//
//	{"time": "2026-01-14T12:00:00Z", "sensor": "A4 after nip", "shows": "-5.1 kV",
//	 "speed": "220 m/min", "humidity": "13 %RH"}
//
// and prints what changes: a sensor that lies where it should is quiet; readings that
// the survey cannot explain, and a limit that will be passed further down, are alarms with their
// reason; a line that stands, a message without a number, a sensor that has fallen
// silent and one that repeats a number are states of their own. Messages out of order are
// refused; a clock that was set back is told and followed. Without -line it watches the invented film
// slitter of examples/survey. No state of it says that a place is free of danger.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

func main() {
	description := flag.String("line", "../survey/demo/line.json", "line description")
	readings := flag.String("survey", "../survey/demo/survey.csv", "its survey")
	station := flag.String("at", "A4 after nip", "station that the sensor looks at")
	meter := flag.String("meter", "meter 1", "meter of the description that the sensor is")
	distance := flag.String("distance", "25 mm", "from the sensor to the web")
	flag.Parse()
	if err := run(*description, *readings, *station, *meter, *distance, os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "watch:", err)
		os.Exit(1)
	}
}

func run(description, readings, station, meter, distance string, in io.Reader, out io.Writer) error {
	d, err := diagnose(description, readings)
	if err != nil {
		return err
	}
	gap, err := units.Parse[units.Length](distance)
	if err != nil {
		return err
	}
	w, err := NewWatch(d, []Sensor{{Name: station, Look: line.Look{Station: station, Quantity: line.FieldMeter,
		Face: line.FaceA, Distance: gap, Meter: meter}}})
	if err != nil {
		return err
	}
	sc := bufio.NewScanner(in)
	for n := 1; sc.Scan(); n++ {
		if strings.TrimSpace(sc.Text()) == "" {
			continue
		}
		m, err := parse(sc.Bytes())
		if err != nil {
			for _, e := range strings.Split(err.Error(), "\n") { // all that is wrong with it; it does not end the watch
				fmt.Fprintf(out, "message %d: %s\n", n, e)
			}
			continue
		}
		for _, e := range w.Tick(m.Time) {
			show(out, e)
		}
		e, changed, err := w.Read(m)
		if err != nil {
			fmt.Fprintf(out, "message %d: %v\n", n, err)
		} else if changed {
			show(out, e)
		}
	}
	return sc.Err()
}

func show(out io.Writer, e Event) {
	mark := " "
	if e.State.Alarm() {
		mark = "!"
	}
	fmt.Fprintf(out, "%s %s %s: %s: %s\n", mark, e.Time.Format(time.RFC3339), e.Sensor, e.State, e.Why)
}

func diagnose(description, readings string) (*survey.Diagnosis, error) {
	f, err := os.Open(description)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	d, err := line.ReadDescription(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", description, err)
	}
	l, err := line.New(d)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", description, err)
	}
	g, err := os.Open(readings)
	if err != nil {
		return nil, err
	}
	defer g.Close()
	s, err := survey.ReadSurvey(g)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", readings, err)
	}
	return survey.Diagnose(l, s)
}

// parse reads a message; what a sensor leaves out or sends as null is NaN, not zero.
func parse(b []byte) (Sample, error) {
	var m struct {
		Time     time.Time `json:"time"`
		Sensor   string    `json:"sensor"`
		Shows    *string   `json:"shows"`
		Speed    *string   `json:"speed"`
		Humidity *string   `json:"humidity"`
	}
	if err := json.Unmarshal(b, &m); err != nil {
		return Sample{}, err
	}
	s := Sample{Time: m.Time, Sensor: m.Sensor}
	return s, errors.Join(quantity("shows", m.Shows, &s.Shows), quantity("speed", m.Speed, &s.Speed),
		quantity("humidity", m.Humidity, &s.Humidity))
}

// quantity reads a number with its unit under a key of a message.
func quantity[T units.Quantity](key string, text *string, to *T) error {
	*to = T(math.NaN())
	if text == nil || *text == "" || strings.EqualFold(*text, "nan") {
		return nil
	}
	v, err := units.Parse[T](*text)
	if err != nil {
		return fmt.Errorf("%s: %w", key, err)
	}
	*to = v
	return nil
}
