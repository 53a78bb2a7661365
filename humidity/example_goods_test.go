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
	pile, err := humidity.NewGoods(humidity.GoodsSpec{Material: paper, Length: 1.02 * units.Metre,
		Width:  0.72 * units.Metre,
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
	pile, err := humidity.NewGoods(humidity.GoodsSpec{Material: paper, Length: 1.02 * units.Metre,
		Width:  0.72 * units.Metre,
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

// Half-time of a film: 0.0492·(50 µm)²/(4e-13 m²/s) = 307 s.
func ExampleNewSheet() {
	film, err := humidity.NewSheet(50*units.Micrometre, units.Diffusivity(4e-13), true)
	fmt.Printf("half-time %.0f s; in 1 s of a running line %.1f %%; %v\n", float64(film.TimeTo(units.Ratio(0.5))),
		100*float64(film.Uptake(1*units.Second)), err)
	// Output: half-time 307 s; in 1 s of a running line 2.9 %; <nil>
}

// A wound film roll takes up moisture from its edges, if at all.
func ExampleNewRoll() {
	roll, err := humidity.NewRoll(0.8*units.Metre, 1.2*units.Metre, units.Diffusivity(1e-10), 0)
	fmt.Printf("half-time %.0f years, %v\n", float64(roll.TimeTo(units.Ratio(0.5)))/(365.25*86400), err)
	// Output: half-time 22 years, <nil>
}

func ExampleColdBody_Wet() {
	hall := must(humidity.NewAir(units.Celsius(23), 50*units.PercentRH, units.Atmosphere))
	fmt.Println("condenses:", humidity.Condenses(hall, units.Celsius(5)))
	roll, err := humidity.NewColdBody(humidity.SteelRoll(100 * units.Millimetre))
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := roll.Wet(hall, units.Celsius(5))
	fmt.Printf("up to %.0f g/m², dry after %.1f h, %v\n", 1e3*float64(w.Peak), float64(w.DryAt)/3600, err)
	// Output:
	// condenses: true
	// up to 59 g/m², dry after 4.4 h, <nil>
}
