package floor

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// TestCounted: 12 stoppages in four shifts before, 2 in four after. By hand: the rate falls to 2/12 = 0.17; given 14
// events of which each falls after with chance 1/2, twice the chance of 2 or fewer is 2·(1 + 14 + 91)/2¹⁴ = 0.0129.
// Weights of 12 g ± 0.05 and ± 0.21 g, in the same pattern: the scatter is 4.2 times as great.
func TestCounted(t *testing.T) {
	count := func(q string) (c Compared) {
		if err := json.Unmarshal(Do("counts", []byte(q)), &c); err != nil {
			t.Fatal(err)
		}
		return c
	}
	c := count(`{"what": "events", "before": ["3", "4", "2", "3"], "after": ["0", "1", "1", "0"]}`)
	if len(c.Faults) > 0 || !strings.HasPrefix(c.Says, "seen 0.17: effect 0.17") ||
		!strings.Contains(c.Says, "p 0.013: it changed") || !strings.Contains(c.Says, "weather is not taken out") {
		t.Errorf("%+v", c)
	}
	if p := 2 * (1 + 14 + 91) / math.Pow(2, 14); !(math.Abs(p-0.013) < 5e-4) {
		t.Errorf("by hand %v", p)
	}
	c = count(`{"what": "weights", "before": ["11.95 g", "12.05 g", "11.94 g", "12.06 g", "11.96 g", "12.04 g"],
		"after": ["11.79 g", "12.21 g", "11.748 g", "12.252 g", "11.832 g", "12.168 g"]}`)
	if len(c.Faults) > 0 || !strings.HasPrefix(c.Says, "seen 4.2: effect 4.2") ||
		!strings.Contains(c.Says, "it changed") {
		t.Errorf("%+v", c)
	}
	for _, bad := range []string{`{"what": "events", "before": ["3"], "after": []}`, `{"what": "x"}`,
		`{"what": "events", "before": ["many"], "after": ["1"]}`, `{"what": "events", "before": ["-1"], "after": ["1"]}`,
		`{"what": "events", "before": ["0"], "after": ["0"]}`,
		`{"what": "weights", "before": ["12", "12.1 g", "12 g", "12 g"], "after": ["12 g"]}`} {
		if c := count(bad); len(c.Faults) == 0 || c.Says != "" {
			t.Errorf("%s: %+v", bad, c)
		}
	}
}

// TestGoodsHazards: what nobody measured counts as present, and the lid of the hopper is named.
func TestGoodsHazards(t *testing.T) {
	a := askGoods(t, nothing, `[]`)
	if len(a.Hazards) == 0 || !a.Hazards[0].Open {
		t.Fatalf("hazards: %+v", a.Hazards)
	}
	lid := false
	for _, x := range a.Hazards {
		lid = lid || x.Station == "hopper lid"
	}
	if !lid {
		t.Errorf("20 MΩ to earth are no hazard: %+v", a.Hazards)
	}
}
