package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

var quantity = regexp.MustCompile(`^[-+−]?[0-9.]+(e[-+]?[0-9]+)?( .+)?$`)

// extremes are what a slip of the pen, or a program, may put in place of a number;
// the largest and the smallest decade that the field takes are found between them.
func extremes(number string) []string {
	out := []string{"0", "-" + number, "1e-320", "1e-170", "-1e-170", "1e160", "1e300", "-1e300", "1.7e308"}
	for e := -40; e <= 40; e++ {
		out = append(out, fmt.Sprintf("1e%d", e))
	}
	for e := -20; e <= 20; e += 4 {
		out = append(out, fmt.Sprintf("-1e%d", e))
	}
	return out
}

// TestExtremeNumbers puts extreme values into every number of the demonstration's line
// and of one row of its survey: each is refused by name, or the whole report comes
// within seconds and holds no NaN. (A spread of 1e-170 panicked, 1e300 never ended, an
// offset of 1e160 printed NaN.)
func TestExtremeNumbers(t *testing.T) {
	if testing.Short() {
		t.Skip("half a minute")
	}
	l, s := read(t, "line.json"), read(t, "survey.csv")
	var doc any
	if err := json.Unmarshal([]byte(l), &doc); err != nil {
		t.Fatal(err)
	}
	n := 0
	seen := map[string]bool{} // one of each kind of field is enough
	var walk func(v any, path string, put func(any))
	try := func(path, line, readings, value string) (taken bool) {
		n++
		return job(t, path+" = "+value, line, readings)
	}
	walk = func(v any, path string, put func(any)) {
		switch v := v.(type) {
		case map[string]any:
			for k := range v {
				walk(v[k], path+"."+k, func(x any) { v[k] = x })
			}
		case []any:
			for i := range v {
				walk(v[i], path+"[]", func(x any) { v[i] = x })
			}
		case string:
			if !quantity.MatchString(v) || seen[path] {
				return
			}
			seen[path] = true
			number, unit, _ := strings.Cut(v, " ")
			for _, x := range narrow(extremes(number), func(x string) bool {
				put(x + " " + unit)
				b, _ := json.Marshal(doc)
				d, err := line.ReadDescription(bytes.NewReader(b))
				if err == nil {
					_, err = line.New(d)
				}
				return err == nil
			}) {
				put(x + " " + unit)
				b, _ := json.Marshal(doc)
				try(path, string(b), s, x+" "+unit)
			}
			put(v)
		case float64:
			if seen[path] {
				return
			}
			seen[path] = true
			for _, x := range narrow(extremes(strconv.FormatFloat(v, 'g', -1, 64)), func(x string) bool {
				put(json.Number(x))
				b, _ := json.Marshal(doc)
				d, err := line.ReadDescription(bytes.NewReader(b))
				if err == nil {
					_, err = line.New(d)
				}
				return err == nil
			}) {
				put(json.Number(x))
				b, _ := json.Marshal(doc)
				try(path, string(b), s, x)
			}
			put(v)
		}
	}
	walk(doc, "", nil)
	rows, err := csv.NewReader(strings.NewReader(s)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for c, name := range rows[0] {
		row := rows[8]
		was := row[c]
		if !quantity.MatchString(was) {
			continue
		}
		number, unit, _ := strings.Cut(was, " ")
		text := func(x string) string {
			row[c] = strings.TrimSpace(x + " " + unit)
			var b bytes.Buffer
			w := csv.NewWriter(&b)
			w.WriteAll(rows)
			return b.String()
		}
		for _, x := range narrow(extremes(number), func(x string) bool {
			_, err := survey.ReadSurvey(strings.NewReader(text(x)))
			return err == nil
		}) {
			try(name, l, text(x), x)
		}
		row[c] = was
	}
	if n < 100 {
		t.Errorf("only %d values were tried", n)
	}
	t.Logf("%d values in %d fields of the line", n, len(seen))
}

// narrow keeps the two ends of what is taken in each sign, zero, and nothing that is
// refused: those are told by name already.
func narrow(values []string, taken func(string) bool) []string {
	var ends [2][2]string
	var keep []string
	for _, x := range values {
		if !taken(x) {
			continue
		}
		v, _ := strconv.ParseFloat(x, 64)
		if v == 0 {
			keep = append(keep, x)
			continue
		}
		k := 0
		if v < 0 {
			k = 1
		}
		for side := range 2 {
			old, err := strconv.ParseFloat(ends[k][side], 64)
			if err != nil || side == 0 && math.Abs(v) < math.Abs(old) || side == 1 && math.Abs(v) > math.Abs(old) {
				ends[k][side] = x
			}
		}
	}
	for _, e := range ends {
		for _, x := range e {
			if x != "" {
				keep = append(keep, x)
			}
		}
	}
	return keep
}

// job runs the whole job; a fault that is told is no failure.
func job(t *testing.T, what, description, readings string) bool {
	t.Helper()
	done := make(chan string, 1)
	told := false
	go func() {
		defer func() {
			if p := recover(); p != nil {
				done <- fmt.Sprintf("panics: %v", p)
			}
		}()
		done <- func() string {
			d, err := line.ReadDescription(strings.NewReader(description))
			if err != nil {
				told = true
				return ""
			}
			l, err := line.New(d)
			if err != nil {
				told = true
				return ""
			}
			s, err := survey.ReadSurvey(strings.NewReader(readings))
			if err != nil {
				told = true
				return ""
			}
			g, err := survey.Diagnose(l, s)
			if err != nil {
				told = true
				return ""
			}
			r, err := report.New(&report.Input{Line: l, Survey: s, Diagnosis: g}, units.Metric)
			if err != nil {
				return "no report: " + err.Error()
			}
			var b bytes.Buffer
			if err := r.Text(&b); err != nil {
				return err.Error()
			}
			if err := r.JSON(&b); err != nil {
				return err.Error()
			}
			html, err := r.HTML()
			if err != nil {
				return err.Error()
			}
			b.Write(html)
			if m := regexp.MustCompile(`.{0,60}(NaN|\+Inf|-Inf|∞).{0,30}`).FindString(b.String()); m != "" {
				return "prints " + m
			}
			return ""
		}()
	}()
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	select {
	case fault := <-done:
		if fault != "" {
			t.Errorf("%s: %s", what, fault)
		}
	case <-ctx.Done():
		t.Fatalf("%s: no end", what)
	}
	return !told
}
