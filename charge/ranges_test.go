package charge

import (
	"testing"

	"example.org/pithball/internal/rangecheck"
	"example.org/pithball/units"
)

// TestRanges: the ranges that the comments of specs state, both ends taken and what
// lies beyond refused by name.
func TestRanges(t *testing.T) {
	field := func(of, name string, try func(v float64) error, in, out []float64) {
		for _, fault := range rangecheck.Faults(of, name, try, in, out) {
			t.Error(fault)
		}
	}
	contact := func(set func(s *ContactSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := ContactSpec{Saturation: 1e-5, Exposure: 1, SpeedExponent: 0.5, LoadExponent: 0.5, ReferenceSpeed: 1,
				ReferenceLoad: 1000}
			set(&s, v)
			_, err := NewContact(s)
			return err
		}
	}
	field("NewContact", "saturation", contact(func(s *ContactSpec, v float64) {
		s.Saturation = units.SurfaceChargeDensity(v)
	}), []float64{-0.1, 0.1}, []float64{-0.101, 0.101})
	field("NewContact", "exposure", contact(func(s *ContactSpec, v float64) { s.Exposure = v }), []float64{0, 700},
		[]float64{-0.1, 700.1})
	field("NewContact", "speed_exponent", contact(func(s *ContactSpec, v float64) { s.SpeedExponent = v }),
		[]float64{-1, 2}, []float64{-1.01, 2.01})
	field("NewContact", "load_exponent", contact(func(s *ContactSpec, v float64) { s.LoadExponent = v }),
		[]float64{-1, 2}, []float64{-1.01, 2.01})
	field("NewContact", "reference_speed", contact(func(s *ContactSpec, v float64) { s.ReferenceSpeed = units.Speed(v) }),
		[]float64{1e-9, 1e4}, []float64{0.99e-9, 1.01e4, 0})
	field("NewContact", "reference_load", contact(func(s *ContactSpec, v float64) {
		s.ReferenceLoad = units.ForcePerWidth(v)
	}), []float64{1e-9, 1e9}, []float64{0.99e-9, 1.01e9, 0})

	c := mustContact(t, ContactSpec{Saturation: 8 * uC, Exposure: 1})
	roller := func(set func(s *CoveredRollerSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := CoveredRollerSpec{Contact: c, Radius: 0.1, Tau: 1}
			set(&s, v)
			_, err := NewCoveredRoller(s)
			return err
		}
	}
	field("NewCoveredRoller", "radius", roller(func(s *CoveredRollerSpec, v float64) { s.Radius = units.Length(v) }),
		[]float64{1e-9, 10}, []float64{0, 10.1})
	field("NewCoveredRoller", "thickness", roller(func(s *CoveredRollerSpec, v float64) { s.Thickness = units.Length(v) }),
		[]float64{0, 1e-6, 1}, []float64{-1, 1.01})
	field("NewCoveredRoller", "permittivity", roller(func(s *CoveredRollerSpec, v float64) { s.Permittivity = v }),
		[]float64{0, 1, 1e4}, []float64{0.99, 1.01e4})
	field("NewCoveredRoller", "density", roller(func(s *CoveredRollerSpec, v float64) { s.Density = v }),
		[]float64{0, 0.01, 5}, []float64{-0.1, 5.1})
	field("NewCoveredRoller", "returned", roller(func(s *CoveredRollerSpec, v float64) { s.Returned = v }),
		[]float64{0, 1}, []float64{-0.01, 1.01})

	impact := func(set func(s *ImpactSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := ImpactSpec{Radius: 1e-3, Density: 1000, Modulus: 1e9}
			set(&s, v)
			_, err := NewImpact(s)
			return err
		}
	}
	field("NewImpact", "radius", impact(func(s *ImpactSpec, v float64) { s.Radius = units.Length(v) }),
		[]float64{1e-8, 0.1}, []float64{0.99e-8, 0.101})
	field("NewImpact", "density", impact(func(s *ImpactSpec, v float64) { s.Density = units.Density(v) }), []float64{0.5},
		[]float64{0})
	field("NewImpact", "modulus", impact(func(s *ImpactSpec, v float64) { s.Modulus = units.Pressure(v) }), []float64{0.5},
		[]float64{0})
	field("NewImpact", "hardness", impact(func(s *ImpactSpec, v float64) { s.Hardness = units.Pressure(v) }),
		[]float64{0, 0.5}, []float64{-0.5})
	field("NewImpact", "transferred", impact(func(s *ImpactSpec, v float64) {
		s.Transferred = units.SurfaceChargeDensity(v)
	}), []float64{-0.1, 0.1}, []float64{-0.101, 0.101})
	field("NewImpact", "equilibrium", impact(func(s *ImpactSpec, v float64) {
		s.Transferred, s.Equilibrium = 1e-5, units.Charge(v)
	}), []float64{0, 0.5}, []float64{-1e-9})

	nip := func(set func(s *NipSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := NipSpec{Load: 1000, RadiusA: 0.1, RadiusB: 0.1, Modulus: 3e6, Poisson: 0.49, Thickness: 0.01}
			set(&s, v)
			_, err := NewNip(s)
			return err
		}
	}
	field("NewNip", "load", nip(func(s *NipSpec, v float64) { s.Load = units.ForcePerWidth(v) }), []float64{0.5, 1e6},
		[]float64{0})
	field("NewNip", "modulus", nip(func(s *NipSpec, v float64) { s.Modulus = units.Pressure(v) }), []float64{0.5, 1e9},
		[]float64{0})
	field("NewNip", "poisson", nip(func(s *NipSpec, v float64) { s.Poisson = v }), []float64{0.3, 0.5},
		[]float64{0.299, 0.501})
	field("NewNip", "thickness", nip(func(s *NipSpec, v float64) { s.Thickness = units.Length(v) }), []float64{1e-5, 0.5},
		[]float64{0})

	parting := func(set func(s *PartingSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := PartingSpec{Place: FreePlace(2, 0.01), Density: 1}
			set(&s, v)
			_, err := NewParting(s)
			return err
		}
	}
	field("NewParting", "exit", parting(func(s *PartingSpec, v float64) { s.Exit = units.Length(v) }), []float64{0, 1},
		[]float64{-0.01, 1.01})
	field("NewParting", "density", parting(func(s *PartingSpec, v float64) { s.Density = v }), []float64{0.01, 5},
		[]float64{0, 5.01})
	field("NewParting", "strength", parting(func(s *PartingSpec, v float64) { s.Strength = v }), []float64{0, 0.1, 10},
		[]float64{0.09, 10.1})
	field("NewParting", "discharge", parting(func(s *PartingSpec, v float64) { s.Discharge = v }), []float64{0, 0.01, 1},
		[]float64{-0.01, 1.01})

	exposed := func(n float64) error {
		_, err := FitSaturation(ContactReading{After: 5e-6, Deviation: 1e-12, Speed: 0.5, Load: 0.5}, n)
		return err
	}
	field("FitSaturation", "exposure", exposed, []float64{1e-3, 700}, []float64{0, 700.1})
	reading := func(set func(r *ContactReading, v float64)) func(v float64) error {
		return func(v float64) error {
			r := ContactReading{After: 5e-6, Speed: 0.5, Load: 0.5}
			set(&r, v)
			_, err := FitSaturation(r, 700)
			return err
		}
	}
	field("FitSaturation", "reading.deviation", reading(func(r *ContactReading, v float64) {
		r.Deviation = units.SurfaceChargeDensity(v)
	}), []float64{0, 2.49e-6}, []float64{-1e-9, 2.51e-6})
	field("FitSaturation", "reading.speed", reading(func(r *ContactReading, v float64) { r.Speed = units.Speed(v) }),
		[]float64{0.5}, []float64{0})
	field("FitSaturation", "reading.load", reading(func(r *ContactReading, v float64) { r.Load = units.ForcePerWidth(v) }),
		[]float64{0.5}, []float64{0})
}
