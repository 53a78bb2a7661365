package counter

import (
	"math"
	"testing"
)

// TestLayers: every layer of the ziggurat has the same area between two heights of exp(−x²/2), the lowest with
// the tail, as far as the 13 digits of its beginning tell.
func TestLayers(t *testing.T) {
	f := func(x float64) float64 { return math.Exp(-x * x / 2) }
	same := func(what string, i int, got, want float64) {
		if !(math.Abs(got-want) <= 1e-8*want) {
			t.Errorf("%s of layer %d is %v, want %v", what, i, got, want)
		}
	}
	tail := math.Sqrt(math.Pi/2) * math.Erfc(tailFrom/math.Sqrt2)
	same("area", 0, tailFrom*f(tailFrom)+tail, area)
	same("area", 0, layerX[0]*f(tailFrom), area)
	if layerX[1] != tailFrom || layerX[layers] != 0 {
		t.Errorf("layers from %v to %v", layerX[1], layerX[layers])
	}
	for i := 1; i < layers; i++ {
		same("area", i, layerX[i]*(f(layerX[i+1])-f(layerX[i])), area)
	}
	for i, in := range layerIn {
		if in != layerX[i+1]/layerX[i] {
			t.Errorf("layer %d lies inside to %v, want %v", i, in, layerX[i+1]/layerX[i])
		}
	}
}
