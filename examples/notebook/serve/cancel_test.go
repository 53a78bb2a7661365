package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"testing"
	"time"

	"example.org/pithball/examples/registry"
)

// long are questions that take minutes: a stream of ions that alternates 10 s long.
func long(t testing.TB) (name string, args map[string]any) {
	name = "transport.Transient.Advance"
	e := registry.Find(name)
	if e == nil || e.EvalContext == nil {
		t.Fatalf("%s: no context", name)
	}
	args = map[string]any{}
	for _, a := range e.Args {
		if a.Default != nil {
			continue
		}
		args[a.Name] = map[string]float64{"positive": 1e13, "negative": 1e13,
			"mobility_positive": 1.4e-4, "mobility_negative": 1.6e-4, "recombination": 1.6e-12, "length": 0.1, "speed": 2,
			"temperature": 293, "charge": 1e-6, "drive": 1, "frequency": 1000, "time": 10}[a.Name]
		if v := args[a.Name].(float64); v < a.Low || v > a.High {
			args[a.Name] = a.Low
		}
	}
	return name, args
}

// TestCancel: a computation of minutes ends when it is cancelled, alone, as a column and behind another request; what
// follows is answered.
func TestCancel(t *testing.T) {
	name, args := long(t)
	column := map[string]any{}
	for k, v := range args {
		column[k] = v
	}
	column["time"] = []float64{10, 10, 10, 10}
	in, to := io.Pipe()
	from, out := io.Pipe()
	ended := make(chan error, 1)
	go func() { ended <- serve(in, out); out.Close() }()
	lines := bufio.NewReader(from)
	say := func(id int, method string, params any) {
		m := map[string]any{"jsonrpc": "2.0", "method": method, "params": params}
		if id > 0 {
			m["id"] = id
		}
		b, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := to.Write(append(b, '\n')); err != nil {
			t.Fatal(err)
		}
	}
	hear := func(id float64) map[string]any {
		for {
			b, err := lines.ReadBytes('\n')
			if err != nil {
				t.Fatal(err)
			}
			var m map[string]any
			if err := json.Unmarshal(b, &m); err != nil {
				t.Fatal(err)
			}
			if m["method"] == "progress" {
				continue
			}
			if m["id"] != id {
				t.Fatalf("answer %v, want %v", m, id)
			}
			return m
		}
	}
	for i, a := range []map[string]any{args, column} {
		id := 10 * (i + 1)
		say(id, "compute", map[string]any{"name": name, "args": a})
		say(id+1, "compute", map[string]any{"name": name, "args": a})
		time.Sleep(100 * time.Millisecond) // so that it is amid its work
		start := time.Now()
		say(0, "cancel", map[string]any{"id": id})
		e, _ := hear(float64(id))["error"].(map[string]any)
		if e == nil || e["code"] != float64(codeCancelled) {
			t.Errorf("%v", e)
		}
		say(0, "cancel", map[string]any{"id": id + 1})
		hear(float64(id + 1))
		if d := time.Since(start); d > 5*time.Second { // a loaded machine; uncancelled it takes minutes
			t.Errorf("ended after %v", d)
		}
		say(id+2, "dance", nil)
		hear(float64(id + 2))
	}
	to.Close()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// TestCancelSurvey: the whole job listens too.
func TestCancelSurvey(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := diagnose(ctx, demo(t)); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// demo is the demonstration of the survey program.
func demo(t *testing.T) *surveyParams {
	read := func(name string) document {
		b, err := os.ReadFile("../../survey/demo/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return document(b)
	}
	return &surveyParams{Line: read("line.json"), Survey: read("survey.csv")}
}
