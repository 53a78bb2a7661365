package cure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
)

// TestShieldSays: an earthed core changes no charge, so `try` has to say what it does. By hand for a thin build of N
// wraps
// of the net σ: on an insulating core all field goes outwards, ε₀E = N·σ, so that 26.6 µC/m² are reached after
// 26.6/σ wraps; on an earthed one the surface is at σ·t·N²/(2·εr·ε₀) to the core and lets out that over
// a·ln(R/a) to earth at R: N = √(26.6/σ · 2·εr·a·ln(R/a)/t). The build is not thin at a thousand wraps: within a third.
func TestShieldSays(t *testing.T) {
	m := free(t, nil)
	s := m.station("winder")
	m.desc.Stations[s].Core = 100 * units.Millimetre
	web := &m.desc.Web
	sigma := 2e-6
	w := &walked{a: make([]column, len(m.stages)), b: make([]column, len(m.stages))}
	for k := range m.stages {
		w.a[k], w.b[k] = make(column, Draws+1), make(column, Draws+1)
	}
	told := func(a, b float64) (earthed, insulating float64, text string) {
		for i := range w.a[s] {
			w.a[s][i], w.b[s][i] = a, b
		}
		text = m.shielded(w, "winder")
		n, _ := fmt.Sscanf(text[strings.Index(text, "air ")+4:], "after about %g wraps (after about %g wraps on", &earthed,
			&insulating)
		if n != 2 {
			earthed, insulating = math.Inf(1), math.Inf(1)
		}
		return earthed, insulating, text
	}
	limit := float64(m.line.NetCap())
	earthed, insulating, text := told(1.5*sigma, -0.5*sigma)
	near(t, "insulating core", insulating, limit/sigma, 1.2)
	thin := math.Sqrt(limit / sigma * 2 * float64(web.RelativePermittivity.Value) * 0.1 * math.Log(2/0.1) /
		float64(web.Thickness))
	near(t, "earthed core", earthed, thin, thin/3)
	if !strings.Contains(text, "takes nothing off the web") ||
		!strings.Contains(text, "without earth gathers charge and sparks") {
		t.Error(text)
	}
	if twice, _, _ := told(3*sigma, -sigma); !(twice < earthed) {
		t.Errorf("twice the charge: %v wraps, %v before", twice, earthed)
	}
	if _, _, text := told(sigma, -sigma); !strings.Contains(text, "air at no number of wraps (at no number of wraps on") {
		t.Error(text)
	}
	// A draw of twenty more with four times the charge is the upper end: a quarter of the wraps on an insulating core.
	for i := range w.a[s] {
		w.a[s][i], w.b[s][i] = sigma, 0
		if i%10 == 0 {
			w.a[s][i] = -4 * sigma
		}
	}
	text = m.shielded(w, "winder")
	var high, end float64
	_, tail, _ := strings.Cut(text, "95 %, ")
	if _, err := fmt.Sscanf(tail, "after about %g wraps (after about %g wraps)", &high, &end); err != nil {
		t.Error(err, text)
	}
	near(t, "upper end", end, limit/(4*sigma), 1.2)
	if !(high < earthed) {
		t.Errorf("upper end on an earthed core %v, %v before", high, earthed)
	}
	then := try(t, m, Shield{Station: "winder"}, Run{Speed: m.at})
	if list := then.Predict().Side.Notices; len(list) != 1 || !strings.Contains(list[0], "earthed core") {
		t.Errorf("%q", list)
	}
	if _, err := m.Try(Earth{Station: "winder"}); err == nil || !strings.Contains(err.Error(), "goes by shield") {
		t.Error(err)
	}
	then.side(nil) // a sum alone asks for no words
	if list := m.Predict().Side.Notices; len(list) != 0 {
		t.Errorf("%q without one", list)
	}
}
