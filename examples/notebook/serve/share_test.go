package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"example.org/pithball/examples/registry"
	"example.org/pithball/internal/progress"
)

// TestParts: the whole job tells the parts of its work, with a share where that is known, and what is told between two
// words is sent again, so that a client sees that the work goes on.
func TestParts(t *testing.T) {
	d := demo(t)
	params, err := json.Marshal(map[string]any{"line": d.Line, "survey": d.Survey, "speed": "300 m/min",
		"site": map[string]any{"safety": map[string]any{"zone": "none", "flammables": "none", "decidedBy": "the test"}}})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	s := &server{find: registry.Find, out: bufio.NewWriter(&out)} // all are sent
	if a := s.answer(`{"id":1,"method":"decide","params":` + string(params) + `}`); a.Error != nil {
		t.Fatal(a.Error)
	}
	shares := map[string]float64{}
	for l := range bytes.Lines(out.Bytes()) {
		var m struct {
			Method string
			Params struct {
				Part  string
				Share *float64
			}
		}
		if err := json.Unmarshal(l, &m); err != nil || m.Method != "progress" || m.Params.Part == "" {
			t.Fatalf("%s: %v", l, err)
		}
		if m.Params.Share != nil {
			shares[m.Params.Part] = *m.Params.Share
		} else {
			shares[m.Params.Part] = -1
		}
	}
	for part, want := range map[string]float64{"looking for explanations": -1, "drawing samples": 1, "trying changes": 1,
		"trying cures alone": 1, "adding cures": -1, "trying failures": -1} {
		if got, ok := shares[part]; !ok || got != want {
			t.Errorf("%s: %v, want %v of %v", part, got, want, shares)
		}
	}
	// A part that takes its time.
	out.Reset()
	s.often = time.Millisecond
	ctx, told := s.telling(t.Context())
	progress.Begin(ctx, "waiting", 4).Next()
	for begin := time.Now(); time.Since(begin) < 50*time.Millisecond; {
		time.Sleep(5 * time.Millisecond)
	}
	told()
	if n := strings.Count(out.String(), `"params":{"part":"waiting","share":0.25}`); n < 2 ||
		n != strings.Count(out.String(), "\n") {
		t.Errorf("%s", out.String())
	}
}

// TestShare: a single long computation that knows how far it is tells it, rising, before its answer.
func TestShare(t *testing.T) {
	name, args := long(t)
	args["time"] = 2e-3 // two periods of the drive, each half one advance
	params := map[string]any{"name": name, "args": args}
	q, err := json.Marshal(map[string]any{"id": 1, "method": "compute", "params": params})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	none := bufio.NewReader(bytes.NewReader(nil))
	s := &server{find: registry.Find, in: none, out: bufio.NewWriter(&out)} // all are sent
	if a := s.answer(string(q)); a.Error != nil {
		t.Fatal(a.Error)
	}
	told, last := 0, -1.0
	for l := range bytes.Lines(out.Bytes()) {
		var m struct {
			Method string
			Params struct{ Share *float64 }
		}
		if err := json.Unmarshal(l, &m); err != nil || m.Method != "progress" || m.Params.Share == nil {
			t.Fatalf("%s: %v", l, err)
		}
		share := *m.Params.Share
		if !(share >= last && share >= 0 && share < 1) {
			t.Fatalf("%v after %v", share, last)
		}
		told, last = told+1, share
	}
	if told < 8 || !(last > 0.75) {
		t.Errorf("told %d times, up to %v", told, last)
	}
}
