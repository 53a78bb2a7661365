package humidity_test

import (
	"fmt"
	"time"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// rough tells a band of seconds.
func rough(b known.Band) string {
	lo, hi := b.Limits()
	short := func(s float64) string {
		d := time.Duration(s * float64(time.Second))
		switch {
		case d < 2*time.Hour:
			return fmt.Sprintf("%.0f min", d.Minutes())
		case d < 72*time.Hour:
			return fmt.Sprintf("%.0f h", d.Hours())
		case d < 1000*time.Hour:
			return fmt.Sprintf("%.0f d", d.Hours()/24)
		}
		return fmt.Sprintf("%.1f years", d.Hours()/24/365.25)
	}
	return fmt.Sprintf("%s (%s … %s)", short(b.Value), short(lo), short(hi))
}

// A pallet of paper of 8 °C comes into a hall of 23 °C, 50 %RH. Its outside is past
// the dew point in minutes; what counts are the sheets inside.
func ExampleGoods_Warm() {
	paper, err := humidity.MaterialFor("paper-bond")
	if err != nil {
		fmt.Println(err)
		return
	}
	pile, err := humidity.NewGoods(humidity.GoodsSpec{Material: paper, Length: 1.02 * units.Metre, Width: 0.72 * units.Metre,
		Height: 1 * units.Metre, BottomClosed: true, Wrapped: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	hall, err := humidity.NewAir(units.Celsius(23), 50*units.PercentRH, units.Atmosphere)
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := pile.Warm(hall, units.Celsius(8))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("an opened face gets wet:", w.Condenses)
	fmt.Println("face past the dew point:", rough(w.Face.Dew))
	fmt.Println("core past the dew point:", rough(w.Core.Dew))
	fmt.Println("core within 1 K of the hall:", rough(w.Core.Hall))
	fmt.Println(w.Validity)
	// Output:
	// an opened face gets wet: true
	// face past the dew point: 11 min (3 min … 34 min)
	// core past the dew point: 31 h (17 h … 58 h)
	// core within 1 K of the hall: 6 d (3 d … 10 d)
	// rests on no published value
}

// The same pile, open: how long until its moisture is that of the hall?
func ExampleGoods_Condition() {
	paper, err := humidity.MaterialFor("paper-bond")
	if err != nil {
		fmt.Println(err)
		return
	}
	pile, err := humidity.NewGoods(humidity.GoodsSpec{Material: paper, Length: 1.02 * units.Metre, Width: 0.72 * units.Metre,
		Height: 1 * units.Metre, BottomClosed: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := pile.Condition(units.Ratio(0.5))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("half of the change 20 mm in from the edges:", rough(c.Rim))
	fmt.Println("in the core:", rough(c.Core))
	film, err := humidity.MaterialFor("pp")
	fmt.Println(film, err)
	// Output:
	// half of the change 20 mm in from the edges: 8 d (51 h … 34 d)
	// in the core: 2.1 years (0.5 years … 8.6 years)
	// polypropylene (inert; not held: isotherm, moisture diffusivity, thermal conductivity) <nil>
}
