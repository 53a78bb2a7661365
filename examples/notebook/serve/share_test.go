package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"testing"

	"example.org/pithball/examples/registry"
)

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
