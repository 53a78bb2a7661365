package decay_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The goods of these examples are invented.

// rollTime is the half-time of a roll on an earthed metal core, of a film whose resistivity
// [Ω·m] is known to a decade: 5, 50 and 95 %.
func rollTime(rho float64) [3]units.Time {
	tau, err := decay.RelaxationBand(known.Band{Value: rho, Spread: math.Ln10 / known.Z95, Kind: known.LogNormal}, 3.2)
	if err != nil {
		panic(err)
	}
	lo, hi := tau.Limits()
	return [3]units.Time{units.Time(lo * math.Ln2), units.Time(tau.Value * math.Ln2), units.Time(hi * math.Ln2)}
}

// Question 26: how long until the roll can be slit? Film of 1e14 Ω·m, a decade either way.
func Example_question26() {
	h := rollTime(1e14)
	fmt.Printf("half in %.0f min (%.1f min … %.1f h) on an earthed core; on cardboard and plastic it does not end\n",
		float64(h[1]/units.Minute), float64(h[0]/units.Minute), float64(h[2]/units.Hour))
	// Output: half in 33 min (3.3 min … 5.5 h) on an earthed core; on cardboard and plastic it does not end
}

// ε0·3.2·1e14·ln 2 = 1964 s; τ is proportional to the resistivity.
func TestQuestion26(t *testing.T) {
	if h := rollTime(1e14); !(math.Abs(float64(h[1])-1964) <= 2) ||
		!(math.Abs(float64(rollTime(1e16)[1])/float64(h[1])-100) <= 1e-6) {
		t.Errorf("%v", h)
	}
	if _, err := decay.TimeTo(decay.Constant(1), 0.5); err == nil {
		t.Error("a charge without a path to earth halves")
	}
}

// lost is the share that leaks between two stations 1 m apart along a named path.
func lost(tau units.Time, speed units.Speed) float64 {
	law, err := decay.NewExponential(tau)
	if err != nil {
		panic(err)
	}
	return 1 - law.Fraction(units.Time(1/float64(speed)))
}

// Question 28: does film lose charge between stations 3 and 4, 1 m apart at 100 m/min?
// Antistatic film along an earthed edge, τ known to 0.2 decades.
func Example_question28() {
	v := 100 * units.MetrePerMinute
	f := math.Pow(10, 0.2*1.645)
	for _, c := range []struct {
		rh  int
		tau float64
	}{{25, 8.83}, {50, 0.132}} {
		fmt.Printf("%d %%RH: %.0f %% (%.0f … %.0f)\n", c.rh, 100*lost(units.Time(c.tau), v), 100*lost(units.Time(c.tau*f), v),
			100*lost(units.Time(c.tau/f), v))
	}
	fmt.Println("without a path to earth none of the net charge")
	// Output:
	// 25 %RH: 7 % (3 … 13)
	// 50 %RH: 99 % (88 … 100)
	// without a path to earth none of the net charge
}

func TestQuestion28(t *testing.T) {
	v := 100 * units.MetrePerMinute
	for tau, want := range map[units.Time]float64{8.83: 0.065693, 1.65: 0.304856, 0.132: 0.989385} {
		if got := lost(tau, v); !(math.Abs(got-want) <= 1e-4) {
			t.Errorf("%v: %g, want %g", tau, got, want)
		}
	}
	if lost(1.65, 2*v) >= lost(1.65, v) {
		t.Error("a faster web does not lose less")
	}
}
