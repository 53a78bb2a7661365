package humidity_test

import (
	"context"
	"errors"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/ticking"
	"example.org/pithball/units"
)

// TestWetStops: film that dries very slowly, in air of 99.7 %RH, takes hundreds of thousands of steps. Wherever the end
// falls, the error is that of the context; one that does not end changes nothing.
func TestWetStops(t *testing.T) {
	air, err := humidity.NewAir(273.15, 0.997, 20.6*units.Kilopascal)
	if err != nil {
		t.Fatal(err)
	}
	c, err := humidity.NewColdBody(humidity.ColdBodySpec{HeatPerArea: 1e8, Convection: 500, Radiation: 3})
	if err != nil {
		t.Fatal(err)
	}
	left := 1 << 30
	got, err := c.WetContext(ticking.Context{Context: t.Context(), Left: &left}, air, 213.15)
	want, err2 := c.Wet(air, 213.15)
	if err != nil || err2 != nil || got != want {
		t.Fatalf("%+v, %v; without context %+v, %v", got, err, want, err2)
	}
	asked := 1<<30 - left
	if asked < 20 {
		t.Fatalf("asked %d times", asked)
	}
	for n := 0; n < asked; n += 1 + asked/10 {
		left := n
		w, err := c.WetContext(ticking.Context{Context: t.Context(), Left: &left}, air, 213.15)
		if !errors.Is(err, context.Canceled) || w != (humidity.Wetting{}) || left < -2 {
			t.Errorf("after %d of %d: %+v, %v, asked %d times more", n, asked, w, err, -left)
		}
	}
}
