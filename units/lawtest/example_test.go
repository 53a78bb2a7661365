package lawtest_test

import (
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Brake returns how far a web runs on when it is stopped.
type Brake func(v units.Speed) units.Length

// Stop is where a brake is tried.
type Stop struct {
	Speed units.Speed // 0.1 … 20 m/s
}

// A kit of one's own: one law, with a brake that breaks it.
func ExampleKit() {
	square := func(v units.Speed) units.Length { return units.Length(float64(v) * float64(v) / 4) }
	kit := lawtest.Kit[Brake, Stop]{
		Input: func(d *lawtest.Draw, _ Brake) Stop {
			return Stop{lawtest.Decades(d, "speed", 0.1*units.MetrePerSecond, 20*units.MetrePerSecond)}
		},
		Laws: []lawtest.Law[Brake, Stop]{{
			Name: "doubled", Says: "twice the speed takes at least twice the way", Source: "the time to stop does not fall",
			Broken: func(v units.Speed) units.Length { return units.Length(math.Sqrt(float64(v))) },
			Check: func(m Brake, in Stop) error {
				once, twice := m(in.Speed), m(2*in.Speed)
				return lawtest.That(twice >= 2*once, "at least "+(2*once).String(), twice)
			},
		}},
	}
	fmt.Println(kit.Prove(), kit.Check(square))
	fmt.Println(kit.Check(func(v units.Speed) units.Length { return min(square(v), 3*units.Metre) }))
	// Output:
	// <nil> <nil>
	// doubled: twice the speed takes at least twice the way
	// 	why: the time to stop does not fall
	// 	model: lawtest_test.Brake
	// 	Speed: 10 m/s
	// 	got: 3 m
	// 	want: at least 6 m
}
