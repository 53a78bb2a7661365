package upkeep

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// The log of a press: trouble at 29.5 %RH (left 5.31 of 6 µC/m² after 0.3 s), none in
// September at 37 % (3.54), none in winter at half the rate (4.71 after 0.6 s). A limit
// of 1.74 contradicts September; the limits that fit ask for 37, 33.0 and 29.5 %RH.
func TestLimitFromLog(t *testing.T) {
	n := press(t, 12000, 27, 1.74)
	log := []Logged{{"January", feeder(t, 0.295), 0, true}, {"September", feeder(t, 0.37), 0, false}}
	got, err := n.LimitFromLog(log)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "above", float64(got.Above)*1e6, 3.54091, 1e-4)
	near(t, "below", float64(got.Below)*1e6, 5.31348, 1e-4)
	if !got.Contradicts || got.Mixed || got.AboveBy != "September" || got.BelowBy != "January" {
		t.Errorf("%+v", got)
	}
	got, _ = n.LimitFromLog(append(log, Logged{"winter, crew", feeder(t, 0.295), 0.6 * units.Second, false}))
	near(t, "with the crew", float64(got.Above)*1e6, 4.70551, 1e-4)
	for limit, rh := range map[float64]float64{3.54091: 37, 4.70551: 33.0415, 5.31348: 29.5} {
		m := press(t, 12000, 27, limit)
		th, err := m.Threshold()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "humidity", 100*float64(th.Humidity[1]), rh, 0.01)
		if fits, _ := m.LimitFromLog(log); fits.Contradicts {
			t.Errorf("%g contradicts the log", limit)
		}
	}
	// 10 % of doubt in the charge reach down to 3.54·(1 − 0.1645) = 2.96 and up to 5.31·1.1645 = 6.19.
	for limit, wrong := range map[float64]bool{2.9: true, 3: false, 6.1: false, 6.3: true} {
		if got, _ := press(t, 12000, 27, limit).LimitFromLog(log); got.Contradicts != wrong {
			t.Errorf("limit %g: contradicts %v", limit, got.Contradicts)
		}
	}
	// Trouble on a damp day and none on a dry one: the charge does not decide alone.
	if mixed, _ := n.LimitFromLog([]Logged{{"x", feeder(t, 0.295), 0, false},
		{"y", feeder(t, 0.4), 0, true}}); !mixed.Mixed {
		t.Errorf("%+v", mixed)
	}
	// Only quiet times: the limit has no upper end, and a low limit contradicts them.
	quiet, _ := n.LimitFromLog(log[1:])
	if !math.IsInf(float64(quiet.Below), 1) || !quiet.Contradicts {
		t.Errorf("%+v", quiet)
	}
	if _, err := n.LimitFromLog(nil); err == nil || !strings.Contains(err.Error(), "log") {
		t.Error(err)
	}
	if _, err := n.LimitFromLog([]Logged{{Air: humidity.Air{}}}); err == nil ||
		!strings.Contains(err.Error(), "log[0].air") {
		t.Error(err)
	}
}
