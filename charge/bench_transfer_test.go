package charge

import (
	"testing"

	"example.org/pithball/units"
)

func BenchmarkContact(b *testing.B) {
	spec := ContactSpec{Saturation: 15e-6, Exposure: 1, SpeedExponent: 0.6, LoadExponent: 0.5, ReferenceSpeed: 3.67,
		ReferenceLoad: 30}
	for _, c := range []struct {
		name string
		edit func(*ContactSpec)
	}{{"both exponents", func(*ContactSpec) {}}, {"speed only", func(s *ContactSpec) {
		s.LoadExponent = 0
	}}, {"none", func(s *ContactSpec) { s.SpeedExponent, s.LoadExponent = 0, 0 }}} {
		s := spec
		c.edit(&s)
		k, err := NewContact(s)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			x := units.SurfaceChargeDensity(1e-6)
			v := units.Speed(3)
			for b.Loop() {
				x = k.Transfer(-x, v, 25)
			}
		})
	}
}

func BenchmarkParting(b *testing.B) {
	p, err := NewParting(PartingSpec{Place: FreePlace(1, units.Millimetre), Exit: units.Millimetre, Density: 1})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("left", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p.Left(60e-6, 1e-6, 3, 1)
		}
	})
	b.Run("with the first breakdown", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p.Part(60e-6, 1e-6, 3, 1)
		}
	})
}
