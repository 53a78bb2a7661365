package chargetest_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/charge"
	"example.org/pithball/charge/chargetest"
	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
)

func TestContacts(t *testing.T) {
	chargetest.Run(t, chargetest.ContactLaws(), chargetest.Contacts(), chargetest.ContactInputs())
}

func TestRollers(t *testing.T) {
	chargetest.Run(t, chargetest.RollerLaws(), chargetest.Rollers(), chargetest.ContactInputs())
}

func TestGas(t *testing.T) {
	chargetest.Run(t, chargetest.GasLaws(), rapid.Just[chargetest.Gas](chargetest.AirGas), chargetest.GasInputs())
}

func TestPartings(t *testing.T) {
	chargetest.Run(t, chargetest.PartingLaws(), chargetest.Partings(), chargetest.PartingInputs())
}

func FuzzContacts(f *testing.F) {
	chargetest.Fuzz(f, chargetest.ContactLaws(), chargetest.Contacts(), chargetest.ContactInputs())
}

func FuzzPartings(f *testing.F) {
	chargetest.Fuzz(f, chargetest.PartingLaws(), chargetest.Partings(), chargetest.PartingInputs())
}

// bite proves that every law fails for the model made to break it, and names
// itself.
func bite[M, I any](t *testing.T, laws []chargetest.Law[M, I], broken map[string]M, inputs *rapid.Generator[I]) {
	t.Helper()
	if len(laws) != len(broken) {
		t.Errorf("%d laws, %d broken models", len(laws), len(broken))
	}
	var in []I
	for i := range 100 {
		in = append(in, inputs.Example(i))
	}
	for _, l := range laws {
		m, ok := broken[l.Name]
		if !ok {
			t.Errorf("no broken model for %q", l.Name)
			continue
		}
		var v *chargetest.Violation
		if err := chargetest.Check([]chargetest.Law[M, I]{l}, m, in...); !errors.As(err, &v) || v.Law != l.Name {
			t.Errorf("%s: the broken model passed: %v", l.Name, err)
		}
	}
}

func TestLawsBite(t *testing.T) {
	bite(t, chargetest.ContactLaws(), chargetest.BrokenContacts(), chargetest.ContactInputs())
	bite(t, chargetest.RollerLaws(), chargetest.BrokenRollers(), chargetest.ContactInputs())
	bite(t, chargetest.GasLaws(), chargetest.BrokenGases(), chargetest.GasInputs())
	bite(t, chargetest.PartingLaws(), chargetest.BrokenPartings(), chargetest.PartingInputs())
}

// A pair of entries of the series, swapped, is the same pair with the other sign.
func TestSwappedAndGrows(t *testing.T) {
	make := func(s units.SurfaceChargeDensity, a float64) chargetest.Contact {
		c, err := charge.NewContact(charge.ContactSpec{Saturation: s, Exposure: 1, SpeedExponent: a, ReferenceSpeed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return &c
	}
	in := chargetest.ContactInput{Speed: 2, Load: 3}
	if err := chargetest.Swapped(make(1e-5, 0.5), make(-1e-5, 0.5), in); err != nil {
		t.Error(err)
	}
	if err := chargetest.Swapped(make(1e-5, 0.5), make(1e-5, 0.5), in); err == nil {
		t.Error("a pair of one sign both ways passed")
	}
	if err := chargetest.Grows(make(1e-5, 0.5), in); err != nil {
		t.Error(err)
	}
	if err := chargetest.Grows(make(1e-5, -0.5), in); err == nil {
		t.Error("a charge that falls with speed passed")
	}
}

// Caps that depend on the geometry as they must, on drawn films.
func TestBackedCapOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := units.Length(math.Exp(rapid.Float64Range(math.Log(1e-6), math.Log(0.01)).Draw(t, "ln thickness")))
		er := rapid.Float64Range(1, 10).Draw(t, "epsr")
		delta := rapid.Float64Range(0.7, 1.15).Draw(t, "delta")
		a, _, _ := gas.CapBacked(d, er, delta)
		thicker, _, _ := gas.CapBacked(d*1.1, er, delta)
		denser, _, _ := gas.CapBacked(d, er, delta*1.05)
		free, _ := gas.CapFreeWeb(1, 10*units.Centimetre, delta)
		if thicker > a*(1+1e-11) || denser < a*(1-1e-11) || a < free {
			t.Fatalf("cap %v, thicker film %v, denser air %v, free web %v", a, thicker, denser, free)
		}
	})
}

// Skipping says why.
func TestSkip(t *testing.T) {
	chargetest.Run(t, chargetest.ContactLaws()[:1], rapid.Just(chargetest.BrokenContacts()["finite"]), chargetest.ContactInputs(),
		chargetest.Skip("finite", "a model that is known to swallow NaN"))
}
