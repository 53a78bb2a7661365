package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/survey/internal/plants"
)

// TestFiles: each file is legal, and its readings are those that were drawn, to the last digit where no unit stands
// between: the readers share no code with what writes here.
func TestFiles(t *testing.T) {
	dir := t.TempDir()
	const seed = 7
	if err := write(dir, 34, seed); err != nil {
		t.Fatal(err)
	}
	kinds := append(plants.Kinds(), plants.Nonsense()...)
	for i := range 34 {
		c := []plants.Generator{plants.Drifting, plants.Patchy}[i%2](kinds[i/2%len(kinds)], seed+uint64(i))
		to := filepath.Join(dir, fmt.Sprintf("%02d", i))
		f, err := os.Open(filepath.Join(to, "line.json"))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		d, err := line.ReadDescription(f)
		if err != nil {
			t.Fatalf("%s of %v: %v", to, c.Kind, err)
		}
		if len(d.Stations) != len(c.Description.Stations) {
			t.Errorf("%s: %d stations, want %d", to, len(d.Stations), len(c.Description.Stations))
		}
		g, err := os.Open(filepath.Join(to, "survey.csv"))
		if err != nil {
			t.Fatal(err)
		}
		defer g.Close()
		s, err := survey.ReadSurvey(g)
		if err != nil {
			t.Fatalf("%s of %v: %v", to, c.Kind, err)
		}
		want := c.Survey.Readings
		for j := range s.Readings {
			r := s.Readings[j]
			r.Line, r.AirHumidity = want[j].Line, want[j].AirHumidity // %RH is a hundredth: rounded
			r.Repeat = want[j].Repeat
			if d := cmp.Diff(want[j], r); d != "" {
				t.Fatalf("%s, reading %d: %s", to, j, d)
			}
		}
		if len(s.Readings) != len(want) {
			t.Errorf("%s: %d readings, want %d", to, len(s.Readings), len(want))
		}
	}
}
