package ensemble

import (
	_ "embed" // for the sentences
	"math"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// Computations lists the public computations of the package for the scoreboard and the
// notebook wrapper: three steps stand for any line.
func Computations() []compute.Entry {
	own := known.Source{Provenance: known.Computed, Cite: "the recurrence of each step written with arrays, " +
		"quantiles between order statistics, least squares by the normal equations"}
	return compute.List("ensemble", sentences, []compute.Entry{
		compute.Of("Lines.Walk", walked, own,
			"saturation -1e-3…1e-3: median of a contact with face A; spread 0…3: standard deviation of its logarithm; "+
				"score -8…8: at which the line lies; exposure 1e-3…50: of the contact; cap 0…1e-3: of the face, 0 for none; "+
				"dwell 1e-6…1e6: of the way behind; time 1e-6…1e12: leak time of both faces; "+
				"share 0…1: that an ioniser takes onto face B; most 0…1e-3: that it brings, 0 for no bound",
			"-> touched: net behind the contact; leaked: behind the way; left: behind the ioniser"),
		compute.Of("Fit.All", fitted, own,
			"exposure 1e-3…50: of a contact that is read behind it and behind a way; dwell 1e-6…1e6: of the way; "+
				"time 1e-6…1e12: leak time; before -1e-3…1e-3: saturation that was thought of; "+
				"doubt 1e-9…1e-3: its standard deviation; one -1e-3…1e-3: first reading of the net; two -1e-3…1e-3: second; "+
				"noise 1e-9…1e-3: standard deviation of each",
			"-> saturation: estimate; sd: its standard deviation"),
	})
}

func walked(saturation units.SurfaceChargeDensity, spread, score, exposure float64, most units.SurfaceChargeDensity,
	dwell, time units.Time, share units.Ratio, supply units.SurfaceChargeDensity) (
	touched, leaked, left units.SurfaceChargeDensity, err error) {
	b := known.Band{Value: float64(saturation)}
	if spread > 0 && saturation != 0 {
		b.Spread, b.Kind = spread, known.LogNormal
	}
	l, err := New(&Spec{Leak: &Leak{Time: time}, Steps: []Step{
		{Contact: &Contact{Face: line.FaceA, Saturation: b, Exposure: known.Band{Value: exposure}, Cap: most}},
		{Way: dwell}, {Ioniser: &Ioniser{Face: line.FaceB, Share: share, Most: supply}}}})
	if err != nil {
		return 0, 0, 0, err
	}
	var net [3]units.SurfaceChargeDensity
	l.Walk(net[:], []float64{score})
	return net[0], net[1], net[2], known.Finite("score", score)
}

func fitted(exposure float64, dwell, time units.Time, before, doubt, one, two, noise units.SurfaceChargeDensity) (
	saturation, sd units.SurfaceChargeDensity, err error) {
	l, err := New(&Spec{Leak: &Leak{Time: time}, Steps: []Step{
		{Read: true, Contact: &Contact{Face: line.FaceA, Exposure: known.Band{Value: exposure},
			Saturation: known.Band{Value: float64(before), Spread: float64(doubt), Kind: known.Normal}}},
		{Read: true, Way: dwell}}})
	if err != nil {
		return 0, 0, err
	}
	f, err := l.Fit()
	if err != nil {
		return 0, 0, err
	}
	var m, s [1]float64
	if err := f.All(m[:], s[:], []float64{float64(one), float64(two)}, noise, nil); err != nil {
		return 0, 0, err
	}
	if math.IsNaN(m[0]) {
		return 0, 0, known.Wrong("exposure", exposure, "a contact that the readings tell something of")
	}
	return units.SurfaceChargeDensity(m[0]), units.SurfaceChargeDensity(s[0]), nil
}
