package floor

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"
)

// TestPlanShut: until zone and flammables are answered, a plan holds earthing only and a change is refused.
func TestPlanShut(t *testing.T) {
	var p Planned
	ask(t, "plan", nil, &p)
	if p.Stop == "" || len(p.Cures) == 0 || len(p.Faults) != 0 {
		t.Fatalf("%+v", p)
	}
	for _, c := range p.Cures {
		if c.Step != "earth" {
			t.Errorf("unanswered, the plan holds %q", c.What)
		}
	}
	run := []change{{Do: "run", Speed: "100 m/min"}}
	var r Tried
	ask(t, "try", map[string]any{"changes": run}, &r)
	if len(r.Faults) != 1 || !strings.Contains(r.Faults[0].Text, "not before") || len(r.Stations) != 0 {
		t.Errorf("%+v", r)
	}
	r = Tried{}
	ask(t, "try", map[string]any{"changes": run, "safety": none}, &r)
	if len(r.Faults) != 0 || len(r.Stations) == 0 {
		t.Errorf("%+v", r)
	}
	// The moment lies between two readings and two.
	var c Compared
	ask(t, "compare", map[string]any{"station": "A4 after nip", "moment": "2026-01-14 10:31"}, &c)
	if c.Before != 2 || c.After != 2 || !strings.Contains(c.Says, "not told from no change") {
		t.Errorf("%+v", c)
	}
}

// TestNoticesAreWritten: figures in a caution have the figures of a reading, not those of a machine.
func TestNoticesAreWritten(t *testing.T) {
	var r Tried
	ask(t, "try", map[string]any{"changes": []change{{Do: "run", Speed: "200 m/min"}}, "safety": none}, &r)
	if len(r.Notices) == 0 {
		t.Fatal("no notice")
	}
	long := regexp.MustCompile(`\d\.\d{4,}|\d{7,}`)
	for _, n := range r.Notices {
		if x := long.FindString(n.Figure); x != "" {
			t.Errorf("%s: %s", n.Condition, n.Figure)
		}
	}
}

func BenchmarkPlan(b *testing.B) {
	var q map[string]any
	if err := json.Unmarshal(demo(b), &q); err != nil {
		b.Fatal(err)
	}
	q["safety"] = map[string]string{"flammables": "none", "zone": "none", "decidedBy": "invented"}
	in, _ := json.Marshal(q)
	for b.Loop() {
		Do("plan", in)
	}
}
