package floor

import (
	"encoding/json"
	"strings"
	"testing"
)

// TestPlanShut: until zone and flammables are answered, a plan holds earthing only and a change is refused.
func TestPlanShut(t *testing.T) {
	ask := func(name string, more map[string]any, dst any) {
		t.Helper()
		q := map[string]any{}
		if err := json.Unmarshal(demo(t), &q); err != nil {
			t.Fatal(err)
		}
		for k, v := range more {
			q[k] = v
		}
		b, _ := json.Marshal(q)
		if err := json.Unmarshal(Do(name, b), dst); err != nil {
			t.Fatal(err)
		}
	}
	var p Planned
	ask("plan", nil, &p)
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
	ask("try", map[string]any{"changes": run}, &r)
	if len(r.Faults) != 1 || !strings.Contains(r.Faults[0].Text, "not before") || len(r.Stations) != 0 {
		t.Errorf("%+v", r)
	}
	none := map[string]string{"flammables": "none", "zone": "none", "decidedBy": "invented"}
	r = Tried{}
	ask("try", map[string]any{"changes": run, "safety": none}, &r)
	if len(r.Faults) != 0 || len(r.Stations) == 0 {
		t.Errorf("%+v", r)
	}
	// The moment lies between two readings and two.
	var c Compared
	ask("compare", map[string]any{"station": "A4 after nip", "moment": "2026-01-14 10:31"}, &c)
	if c.Before != 2 || c.After != 2 || !strings.Contains(c.Says, "not told from no change") {
		t.Errorf("%+v", c)
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
