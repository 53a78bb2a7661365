package decay_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

func BenchmarkLaws(b *testing.B) {
	times := logTimes(0.01, 100, 64)
	for name, l := range eachLaw() {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			sink, least := 0.0, math.Inf(1)
			for b.Loop() {
				// The least of many short rounds: other work on the machine only adds.
				start := time.Now()
				for range 8 {
					for _, t := range times {
						sink += l.Fraction(t)
					}
				}
				least = min(least, float64(time.Since(start).Nanoseconds())/float64(8*len(times)))
			}
			_ = sink
			b.ReportMetric(least, "ns/value")
		})
	}
}

// BenchmarkFit is five laws on 200 readings.
func BenchmarkFit(b *testing.B) {
	times := logTimes(0.1, 500, 200)
	v := read(must(decay.NewStretched(50, .6)), times, 1000, 0, 3, rand.New(rand.NewPCG(1, 1)))
	five := []decay.Model{decay.ModelExponential, decay.ModelOffsetExponential, decay.ModelStretched, decay.ModelPowerLaw,
		decay.ModelOhmicMobility}
	b.Run("5 laws, 200 readings", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := decay.FitDecay(times, v, decay.FitSettings{Models: five}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("8 laws, 200 readings", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := decay.FitDecay(times, v, decay.FitSettings{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	best := must(decay.FitDecay(times, v, decay.FitSettings{Models: five})).Best()
	b.Run("profile of tau", func(b *testing.B) {
		for b.Loop() {
			if _, _, err := best.Profile("tau"); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkTimeTo(b *testing.B) {
	exp := must(decay.NewExponential(3))
	two := must(decay.NewExponentials([]float64{.7, .3}, []units.Time{1, 20}))
	b.Run("closed form", func(b *testing.B) {
		for b.Loop() {
			_, _ = decay.TimeTo(exp, .1)
		}
	})
	b.Run("two exponentials", func(b *testing.B) {
		for b.Loop() {
			_, _ = decay.TimeTo(two, .1)
		}
	})
	b.Run("search", func(b *testing.B) {
		f := decay.Function(two.Fraction)
		for b.Loop() {
			_, _ = decay.TimeTo(f, .1)
		}
	})
}
