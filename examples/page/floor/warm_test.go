package floor

import (
	"encoding/json"
	"testing"
)

// TestWarm: the small line that is answered before anything was typed goes the whole way to a verdict.
func TestWarm(t *testing.T) {
	a, err := with([]byte(warmRequest), answer)
	if err != nil || len(a.Faults) > 0 || a.Verdict == nil || a.Verdict.Outlook == "" || len(a.Verdict.Notices) == 0 {
		t.Fatalf("%+v, %v", a, err)
	}
	var w struct{ Faults []Fault }
	if err := json.Unmarshal(Do("warm", nil), &w); err != nil || len(w.Faults) > 0 {
		t.Errorf("%+v, %v", w, err)
	}
}
