package report

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
)

// TestLowered: of three places the net falls most from −2.4 to −0.2; what falls by less than a tenth of the limit of
// 1.8 µC/m², and what rises, is not told; a cure at the source tells the faces first.
func TestLowered(t *testing.T) {
	at := func(name string, kind line.StationKind, a, b float64) cure.StationPrediction {
		q := func(x float64) cure.Quantiles { return cure.Quantiles{x, x * 1e-6, x} }
		return cure.StationPrediction{Name: name, Kind: kind, A: q(a), B: q(b), Net: q(a + b)}
	}
	now := &cure.Prediction{Stations: []cure.StationPrediction{at("p", line.Place, -1, -0.5),
		at("q", line.Place, 12, -14.4),
		at("roller", line.Roller, 12, -15), at("winder", line.Winder, 1, 0)}}
	c := cure.Cure{Step: cure.Neutralise, Prediction: cure.Prediction{Stations: []cure.StationPrediction{
		at("p", line.Place, -0.9, -0.5), at("new", line.Place, 0, 0), at("q", line.Place, 14.2, -14.4),
		at("roller", line.Roller, 0, 0), at("winder", line.Winder, 2, 0)}}}
	if got, want := lowered(&c, now, 1.8e-6), "net at q −2.4 to −0.20 µC/m²"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	c.Step = cure.AtSource
	c.Prediction.Stations[2] = at("q", line.Place, 6, -7)
	want := "faces at q +12/−14 to +6.0/−7.0; net at q −2.4 to −1.0 µC/m²"
	if got := lowered(&c, now, 1.8e-6); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	c.Prediction.Stations[2] = at("q", line.Place, 12, -14.3)
	if got := lowered(&c, now, 1.8e-6) + lowered(&c, nil, 1.8e-6); got != "" {
		t.Errorf("%q of a cure that does nothing", got)
	}
}

// TestKilovolts: the last digit of a display is 10 V.
func TestKilovolts(t *testing.T) {
	for v, want := range map[float64]string{0.67: "0", -3.1: "0", 16: "0.02", -17: "−0.02", 94: "0.09", 196: "0.20",
		-190: "−0.19", 790: "0.79", -1450: "−1.4", 18000: "18", math.NaN(): "–"} {
		if got := Kilovolts(v); got != want {
			t.Errorf("%g V: %q kV, want %q", v, got, want)
		}
	}
}

// TestStopSaysWhere: the text goes to a terminal and to a notebook; both readers learn where to answer.
func TestStopSaysWhere(t *testing.T) {
	var b strings.Builder
	(&Decision{Stop: "the zone is not known", word: "earth"}).Text(&b)
	for _, want := range []string{"STOP: the zone is not known.", "only earthing", "-site of the survey program",
		"site= in a notebook"} {
		if !strings.Contains(strings.Join(strings.Fields(b.String()), " "), want) {
			t.Errorf("%q lacks %q", b.String(), want)
		}
	}
}
