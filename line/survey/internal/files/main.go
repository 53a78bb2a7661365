// Command files writes invented surveys as the files that the program survey reads: in folders 00, 01, …, each with a
// line.json and a survey.csv, of both plants and every kind in turn. What reads them can so be compared from one build
// to the next on more than a few lines that somebody wrote.
//
//	go run ./line/survey/internal/files -surveys 40 DIR
package main

import (
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/survey/internal/plants"
)

func main() {
	surveys := flag.Int("surveys", 40, "how many")
	seed := flag.Uint64("seed", 70_000_000, "first `seed`")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "files: want one folder")
		os.Exit(2)
	}
	if err := write(flag.Arg(0), *surveys, *seed); err != nil {
		fmt.Fprintln(os.Stderr, "files:", err)
		os.Exit(1)
	}
}

func write(dir string, n int, seed uint64) error {
	kinds := append(plants.Kinds(), plants.Nonsense()...)
	names := slices.Sorted(maps.Keys(plants.Generators()))
	for i := range n {
		c := plants.Generators()[names[i%len(names)]](kinds[i/len(names)%len(kinds)], seed+uint64(i))
		to := filepath.Join(dir, fmt.Sprintf("%02d", i))
		if err := os.MkdirAll(to, 0o755); err != nil {
			return err
		}
		l, err := json.MarshalIndent(c.Description, "", "  ")
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, "line.json"), append(l, '\n'), 0o644); err != nil {
			return err
		}
		f, err := os.Create(filepath.Join(to, "survey.csv"))
		if err != nil {
			return err
		}
		if err := rows(f, c.Survey); err != nil {
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
	}
	return nil
}

// units are those of a value as it is kept.
var units = map[line.Quantity]string{line.FieldMeter: "V", line.OverRoller: "V", line.PailCharge: "C",
	line.EarthResistance: "Ω", line.DecayTime: "s"}

// rows writes the readings as they are kept, every digit of them.
func rows(w io.Writer, s *survey.Survey) error {
	c := csv.NewWriter(w)
	head := survey.Columns()
	if err := c.Write(head); err != nil {
		return err
	}
	for i := range s.Readings {
		row, err := cells(&s.Readings[i])
		if err != nil {
			return err
		}
		rec := make([]string, len(head))
		for j, name := range head {
			rec[j] = row[name]
		}
		if err := c.Write(rec); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// cells is one reading by the names of the columns.
func cells(r *survey.Reading) (map[string]string, error) {
	quantity, err := r.Quantity.MarshalText()
	if err != nil {
		return nil, err
	}
	number := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	m := map[string]string{"schema version": survey.SurveySchema, "station": r.Station, "quantity": string(quantity),
		"repeat": strconv.Itoa(max(1, r.Repeat)), "meter": r.Meter, "unit": units[r.Quantity], "remark": r.Remark,
		"line speed": number(float64(r.Speed)) + " m/s", "value": number(r.Value), "running or stopped": "stopped"}
	if r.Running {
		m["running or stopped"] = "running"
	}
	if r.Face != 0 {
		face, err := r.Face.MarshalText()
		if err != nil {
			return nil, err
		}
		m["face"] = string(face)
	}
	switch {
	case r.Over && r.Sign < 0:
		m["value"] = "-OL"
	case r.Over:
		m["value"] = "+OL"
	case r.AtLeast && r.Value < 0:
		m["value"] = "<" + m["value"]
	case r.AtLeast:
		m["value"] = ">" + m["value"]
	}
	length := func(name string, x float64) {
		if x != 0 {
			m[name] = number(x) + " m"
		}
	}
	length("distance", float64(r.Distance))
	length("gap behind", float64(r.Gap))
	length("cross-web position", float64(r.Cross))
	if !r.Time.IsZero() {
		m["date and time"] = r.Time.Format("2006-01-02 15:04:05")
	}
	if r.HasAir {
		m["air temperature"] = number(float64(r.AirTemperature)) + " K"
		m["air humidity"] = number(100*float64(r.AirHumidity)) + "%RH"
	}
	if r.HasZero {
		m["zero"] = number(r.Zero) + " " + m["unit"]
	}
	if r.FullScale != 0 {
		m["full scale"] = number(r.FullScale) + " " + m["unit"]
	}
	return m, nil
}
