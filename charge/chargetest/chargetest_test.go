package chargetest_test

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/charge"
	. "example.org/pithball/charge/chargetest"
	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
)

// One seed, so that a run repeats; -rapid.seed=0 draws anew, and fuzzing explores.
func init() { _ = flag.Set("rapid.seed", "1") }

func TestContacts(t *testing.T) { Contacts().RunModels(t) }
func TestGrowing(t *testing.T)  { Growing().RunModels(t) }
func TestRollers(t *testing.T)  { Rollers().RunModels(t) }
func TestPartings(t *testing.T) { Partings().RunModels(t) }
func TestGas(t *testing.T)      { Gases().Run(t, AirGas) }
func TestPlaces(t *testing.T)   { Places().Run(t, PlaceFunc(field.FieldFactor)) }
func TestMeters(t *testing.T)   { Meters().RunModels(t) }
func TestFilms(t *testing.T)    { Films().RunModels(t) }
func TestPiles(t *testing.T)    { Piles().RunModels(t) }
func TestJudges(t *testing.T)   { Judges().Run(t, Spark) }

func FuzzContacts(f *testing.F) { Contacts().FuzzModels(f) }
func FuzzPartings(f *testing.F) { Partings().FuzzModels(f) }
func FuzzMeters(f *testing.F)   { Meters().FuzzModels(f) }

// A pair of entries of the series, swapped, is the same pair with the other sign.
func TestPairs(t *testing.T) {
	make := func(s units.SurfaceChargeDensity) *charge.Contact {
		c, err := charge.NewContact(charge.ContactSpec{Saturation: s, Exposure: 1, SpeedExponent: 0.5, ReferenceSpeed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return &c
	}
	Pairs().Run(t, Pair{make(1e-5), make(-1e-5)})
}

func TestProof(t *testing.T) {
	if err := errors.Join(Contacts().Prove(), Growing().Prove(), Pairs().Prove(), Rollers().Prove(), Partings().Prove(),
		Gases().Prove(), Places().Prove(), Meters().Prove(), Films().Prove(),
		Piles().Prove(), Judges().Prove()); err != nil {
		t.Error(err)
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

// bySpeed adds charge in proportion to speed and load, and forgets that a line can
// run backwards.
type bySpeed struct{}

func (bySpeed) Transfer(q units.SurfaceChargeDensity, v units.Speed, f units.ForcePerWidth) units.SurfaceChargeDensity {
	return q + units.SurfaceChargeDensity(1e-8*float64(v)*float64(f))
}

// A model of somebody else against the laws, without a test.
func ExampleContacts() {
	fmt.Println(Contacts().Check(bySpeed{}))
	// Output:
	// reversal: T(σ, −v, F) = T(σ, v, F)
	// 	why: the direction of travel does not count
	// 	model: chargetest_test.bySpeed
	// 	Before: 0 C/m²
	// 	Other: 0 C/m²
	// 	Speed: 1 m/s
	// 	Load: 1 N/m
	// 	got: 10 nC/m², -10 nC/m²
	// 	want: the same both ways
}

// What a kit asks.
func ExampleGases() {
	for _, l := range Gases().Laws[:3] {
		fmt.Printf("%s: %s\n", l.Name, l.Says)
	}
	// Output:
	// positive: finite and above 0 at every gap; NaN in, NaN out
	// minimum: V ≥ 327 V for d ≥ 7.5 µm/δ, and V ≤ 352 V there
	// similarity: V(d, δ) = V(δ·d, 1) for δ·d above 20 µm
}
