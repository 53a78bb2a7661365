package humidity

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The plant's sheets leak with τ = 10^(2.9 − 0.085 RH/%) s: 0.32 s at 40 %RH,
// 0.12 s at 45 %RH. At 0.30 s a sheet 6 µC/m² have to fall to 1.74: τ <=
// 0.30 s/ln(6/1.74) = 0.2424 s, hence RH = (2.9 + 0.6155)/0.085 = 41.36 %, and
// at 27 °C a dew point of 12.8 °C (all by hand, Magnus 17.62/243.12).
func TestThresholdByHand(t *testing.T) {
	law, err := NewLogLinear(Point[units.Time]{rh(40), units.Time(math.Pow(10, 2.9-0.085*40))}, 0.085, 0.2, rh(20), rh(60))
	if err != nil {
		t.Fatal(err)
	}
	limit := units.Time(0.30 / math.Log(6/1.74))
	x, err := ThresholdFor(law, limit, units.Celsius(27), units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "RH", 100*float64(x.Median), 41.36, 0.01)
	near(t, "dew point", x.DewPoint.Celsius(), 12.8, 0.05)
	// A spread of 0.2 decades moves the crossing by 1.645·0.2/0.085 = 3.87 %RH.
	near(t, "low", 100*float64(x.Median-x.Low), 3.870, 0.001)
	near(t, "high", 100*float64(x.High-x.Median), 3.870, 0.001)
	if x.Unreached || x.Validity != known.Inside || !(x.DewPointLow < x.DewPoint && x.DewPoint < x.DewPointHigh) {
		t.Error(x)
	}
	// Out of the range of the law: flagged.
	y, err := ThresholdFor(law, units.Time(1e-3), units.Celsius(27), units.Atmosphere)
	if err != nil || y.Validity&known.AboveRange == 0 {
		t.Error(y, err)
	}
}

func TestThresholdEnds(t *testing.T) {
	type ohm = units.SheetResistance
	at := func(l Law[ohm], limit ohm) (Threshold, error) {
		return ThresholdFor(l, limit, units.Celsius(23), units.Atmosphere)
	}
	inert := Constant[ohm]{1e16, 0.5}
	for i, c := range []struct {
		law   Law[ohm]
		limit ohm
		field string
	}{{inert, 1e12, "limit"}, {AtLeast[ohm]{1e10}, 1e12, "limit"}, {nil, 1, "law"}, {LogLinear[ohm]{}, 1, "law"},
		{inert, 0, "limit"}} {
		_, err := at(c.law, c.limit)
		var f *known.FieldError
		if !errors.As(err, &f) || f.Field != c.field {
			t.Errorf("%d: %v, want an error for %s", i, err, c.field)
		}
	}
	if _, err := ThresholdFor[ohm](inert, 1e17, units.Celsius(300), 1); err == nil {
		t.Error("300 °C, 1 Pa")
	}
	// Below the limit in dry air, but a part of the samples is above it everywhere.
	x, err := at(inert, 1.2e16)
	if err != nil || x.Median != 0 || x.Low != 0 || x.High != 1 || !x.Unreached {
		t.Error(x, err)
	}
}

// TestThresholdHolds draws three, five and ten tests of a material and the limit of
// a further sample: it lies in the band of the threshold in 87 … 93 % of them.
func TestThresholdHolds(t *testing.T) {
	const tries, sd = 1500, 0.15
	for _, n := range []int{3, 5, 10} {
		got := covered(tries, func(r *rand.Rand) bool {
			var pts []Point[units.Time]
			for i := range n {
				x := 0.25 + 0.35*float64(i)/float64(n-1)
				pts = append(pts, Point[units.Time]{units.RelativeHumidity(x),
					units.Time(math.Pow(10, 2.9-8.5*x+sd*r.NormFloat64()))})
			}
			l, err := FitLogLinear(pts, nil)
			if err != nil {
				t.Fatal(err)
			}
			const limit = 0.24
			sample := (2.9 + sd*r.NormFloat64() - math.Log10(limit)) / 8.5
			x, err := ThresholdFor(l, units.Time(limit), units.Celsius(27), units.Atmosphere)
			if err != nil {
				t.Fatal(err)
			}
			return float64(x.Low) <= sample && (sample <= float64(x.High) || x.Unreached)
		})
		t.Logf("n %2d: %.1f %%", n, 100*got)
		if got < 0.87 || got > 0.93 {
			t.Errorf("n %d: %.1f %% covered", n, 100*got)
		}
	}
}
