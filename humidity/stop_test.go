package humidity_test

import (
	"context"
	"errors"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// ticking is a context that ends when it has been asked n times, so that the end falls amid the work.
type ticking struct {
	context.Context
	n *int
}

func (c ticking) Err() error {
	if *c.n--; *c.n < 0 {
		return context.Canceled
	}
	return nil
}

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
	got, err := c.WetContext(ticking{t.Context(), &left}, air, 213.15)
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
		if w, err := c.WetContext(ticking{t.Context(), &left}, air, 213.15); !errors.Is(err, context.Canceled) ||
			w != (humidity.Wetting{}) || left < -2 {
			t.Errorf("after %d of %d: %+v, %v, asked %d times more", n, asked, w, err, -left)
		}
	}
}
