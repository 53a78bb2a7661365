package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line/cure"
)

// FuzzReadHours: no text makes the reader of a year's weather panic, and the hours that it accepts are airs or gaps.
func FuzzReadHours(f *testing.F) {
	for _, s := range []string{"time,dew point\n2025-01-01 00:00,-3.2 °C\n2025-01-01 01:00,\n", "time,dew point\n", "",
		"time;dew point\n", "time;dew point\n2025-01-01 00:00;-3,2 °C\n", "time\tdew point\n2025-01-01 00:00\t1,500 °C\n",
		"time,dew point\n2025-01-01 00:00,-300 °C\n", "time,dew point\n2025-01-01 00:00,1\n",
		"time,dew point\n2025-13-01 00:00,1 °C\n",
		"time,dew point\n2025-01-01 00:00,99 °C\n", "\ufefftime,dew point\n", "time,dew point\n\"2025-01-01 00:00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		list, _, err := readHours(strings.NewReader(s))
		if err != nil {
			if list != nil {
				t.Fatalf("%q: hours beside %v", s, err)
			}
			return
		}
		for i, a := range list {
			if v := float64(a.DewPoint() + a.Temperature()); a != (humidity.Air{}) && math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%q: hour %d: %+v", s, i, a)
			}
		}
	})
}

// FuzzFiles reads any text as every other file of the program: an error or a value, nothing else.
func FuzzFiles(f *testing.F) {
	names, err := filepath.Glob("demo/*.json")
	if err != nil || len(names) == 0 {
		f.Fatal("no files", err)
	}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	for _, s := range []string{"", "{}", "null", "[]", `{"schema":"pithball changes 1","changes":[{"do":"run"}]}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		path := filepath.Join(t.TempDir(), "file.json")
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		list, err := changesOf(nil, path, "changes.json", kinds, kindNames, func([]cure.Change) error { return nil }, nil)
		if err == nil && len(list) == 0 {
			t.Fatalf("%q: no changes and no fault", b)
		}
		_, _ = goodsOf(&options{line: path})
		_, _, _ = yearsOf(nil, path)
	})
}
