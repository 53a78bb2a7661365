package units_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/pithball/units"
)

// TestText holds the printed form: the prefix that leaves 1 to 999, the SI unit
// with an exponent outside the prefixes, the kind in the unit, a space.
func TestText(t *testing.T) {
	for _, c := range []struct {
		q    fmt.Stringer
		want string
	}{
		{25.4 * units.Millimetre, "25.4 mm"}, {12 * units.Micrometre, "12 µm"}, {999 * units.Millimetre, "999 mm"},
		{units.Metre, "1 m"},
		{units.Length(0), "0 m"}, {units.Length(math.Copysign(0, -1)), "-0 m"}, {-2 * units.Inch, "-50.8 mm"},
		{units.Length(123456789), "1.23456789e8 m"}, {units.Length(5e-12), "0.005 nm"}, {units.Length(5e-13), "5e-13 m"},
		{units.Length(5e-14), "5e-14 m"},
		{units.VolumeResistivity(1e15), "1e15 Ω·m"}, {units.VolumeResistivity(999e12), "999 TΩ·m"},
		{units.SheetResistance(1e17), "1e17 Ω/sq"}, {units.SheetResistance(2.5e11), "250 GΩ/sq"},
		{units.DisplayVoltage(-8200), "-8.2 kV(display)"}, {8 * units.Kilovolt, "8 kV"},
		{units.SurfaceChargeDensity(-2.1e-6), "-2.1 µC/m²"},
		{45 * units.PercentRH, "45 %RH"}, {100.4 * units.PercentRH, "100.4 %RH"}, {90 * units.PercentRHIce, "90 %RH(ice)"},
		{units.Ratio(0.3), "0.3"}, {units.Ratio(1e-9), "1e-9"},
		{units.Celsius(23), "23 °C"}, {units.Celsius(23.4), "23.4 °C"}, {units.Celsius(-40), "-40 °C"},
		{units.Celsius(0), "0 °C"}, {units.Fahrenheit(68), "20 °C"}, {units.Fahrenheit(-459.67), "-273.15 °C"},
		{units.Celsius(-273.15), "-273.15 °C"},
		{units.Temperature(0), "-273.15 °C"}, {units.Temperature(65809.15673828125), "65536.00673828125 °C"},
		{units.Temperature(1e17), "1e17 K"}, {units.Temperature(math.Copysign(0, -1)), "-0 K"},
		{units.Temperature(math.NaN()), "NaN K"}, {units.Length(math.Inf(-1)), "-Inf m"},
		{units.TemperatureDifference(10), "10 K"}, {6 * units.BarGauge, "600 kPa(g)"}, {units.Pressure(4e9), "4 GPa"},
		{3600 * units.Second, "3600 s"}, {1e7 * units.Second, "1e7 s"},
		{units.NumberDensity(2.5e25), "2.5e25 1/m³"}, {units.Mobility(1.4e-4), "0.00014 m²/(V·s)"},
		{75 * units.GramPerSquareMetre, "75 g/m²"}, {7.5 * units.GramPerKilogram, "7.5 g/kg"},
		{units.SpecificHumidity(0.0075), "7.5 g/kg(moist)"}, {units.Viscosity(1.8e-5), "18 µPa·s"},
		{units.Conductivity(5e-11), "50 pS/m"},
	} {
		if got := c.q.String(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// TestCelsius holds the function to the bits of the parser.
func TestCelsius(t *testing.T) {
	for i := -2731; i <= 30000; i++ {
		x := float64(i) / 10
		for _, c := range []struct {
			q    units.Temperature
			unit string
		}{{units.Celsius(x), "°C"}, {units.Fahrenheit(x), "°F"}} {
			p, err := units.Parse[units.Temperature](fmt.Sprintf("%.1f %s", x, c.unit))
			if err != nil || p != c.q {
				t.Fatalf("%.1f %s: function %x, parser %x, %v", x, c.unit, float64(c.q), float64(p), err)
			}
		}
		// half an ulp at 3300 K, for the sum and for the difference
		if q := units.Celsius(x); !(math.Abs(q.Celsius()-x) <= 4.6e-13) {
			t.Fatalf("%.1f °C comes back as %.17g", x, q.Celsius())
		}
	}
	for _, c := range []struct{ t, k float64 }{{-273.15, 0}, {23.4321, 296.5821}, {1.0 / 3, 273.48333333333335},
		{1e300, 1e300}, {0, 273.15}} {
		if got := float64(units.Celsius(c.t)); got != c.k {
			t.Errorf("Celsius(%g) = %.17g, want %.17g", c.t, got, c.k)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := float64(units.Celsius(x)); got != x && !math.IsNaN(x) || math.IsNaN(x) != math.IsNaN(got) {
			t.Errorf("Celsius(%g) = %g", x, got)
		}
	}
}

func TestReport(t *testing.T) {
	e := 30 * units.KilovoltPerCentimetre
	for _, c := range []struct {
		unit   string
		digits int
		want   string
	}{
		{"kV/in", 3, "76.2 kV/in"}, {"kV/in", 5, "76.200 kV/in"}, {"kV/in", 1, "80 kV/in"}, {"kV/in", 0, "80 kV/in"},
		{"V/m", 3, "3.00e6 V/m"},
		{"MV/m", 2, "3.0 MV/m"}, {"V/mil", 4, "76.20 V/mil"}, {" kV/cm ", 2, "30 kV/cm"}, {"kV/mil", 3, "0.0762 kV/mil"},
	} {
		if got, err := units.Format(e, c.unit, c.digits); err != nil || got != c.want {
			t.Errorf("%s with %d digits: got %q, %v, want %q", c.unit, c.digits, got, err, c.want)
		}
	}
	for _, c := range []struct{ got, want string }{
		{units.Display(e, units.Metric, 3), "3000 kV/m"}, {units.Display(e, units.US, 3), "76.2 kV/in"},
		{units.Display(units.Celsius(20), units.US, 3), "68.0 °F"},
		{units.Display(units.Celsius(20), units.Metric, 3), "20.0 °C"},
		{units.Display(0*units.Metre, units.US, 3), "0.00 in"},
		{units.Display(-0.05*units.Millimetre, units.Metric, 2), "-0.050 mm"},
		{units.Display(units.Angle(math.Pi/4), units.Metric, 2), "45°"},
		{units.Display(12*units.Micrometre, units.US, 3), "0.000472 in"},
		{units.Display(units.Length(math.NaN()), units.US, 3), "NaN in"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	if _, err := units.Format(e, "kV", 3); !errors.Is(err, units.ErrUnknownUnit) {
		t.Errorf("a field in kV: %v", err)
	}
	if _, err := units.In(e, "kv/in"); !errors.Is(err, units.ErrUnknownUnit) {
		t.Errorf("kv/in: %v", err)
	}
	if _, err := units.Of[units.Speed](3, "m"); !errors.Is(err, units.ErrUnknownUnit) {
		t.Errorf("a speed in m: %v", err)
	}
	if v, err := units.Of[units.Speed](300, "m/min"); err != nil || v != 5*units.MetrePerSecond {
		t.Errorf("300 m/min: %v, %v", v, err)
	}
}

// TestShopUnits formats a value of every type in both systems: Display never
// meets an unknown unit.
func TestShopUnits(t *testing.T) {
	for _, k := range units.Catalogue() {
		if k.Type == "StandardFlow" {
			continue
		}
		for _, symbol := range []string{k.Metric, k.US} {
			found := false
			for _, u := range k.Units {
				found = found || u.Symbol == symbol
			}
			if !found {
				t.Errorf("%s: %q is no unit of the table", k.Type, symbol)
			}
		}
	}
	if units.ShopUnit[units.Speed](units.US) != "ft/min" || units.ShopUnit[units.Speed](units.Metric) != "m/min" {
		t.Error("shop units of speed")
	}
	if units.Metric.String() != "metric" || units.US.String() != "US" || units.System(9).String() != "System(9)" {
		t.Error("names of the systems")
	}
}

// TestJSONAndFlag sends quantities through the standard library.
func TestJSONAndFlag(t *testing.T) {
	type setup struct {
		Gap   units.Length       `json:"gap"`
		Speed units.Speed        `json:"speed"`
		Air   units.StandardFlow `json:"air"`
		Limit *units.Voltage     `json:"limit,omitempty"`
	}
	in := `{"gap":"25.4 mm","speed":"3.6666666666666665 m/s","air":"120 L/min(ANR)","limit":"8 kV"}`
	var s setup
	if err := json.Unmarshal([]byte(in), &s); err != nil {
		t.Fatal(err)
	}
	if out, err := json.Marshal(s); err != nil || string(out) != in {
		t.Errorf("%s, %v", out, err)
	}
	for _, bad := range []string{`{"gap":25.4}`, `{"gap":"25.4"}`, `{"gap":"25.4 kV"}`, `{"air":"120 L/min"}`} {
		if err := json.Unmarshal([]byte(bad), &s); err == nil || s.Gap != 25.4*units.Millimetre {
			t.Errorf("%s: %v, gap %v", bad, err, s.Gap)
		}
	}
	fs := flag.NewFlagSet("", flag.ContinueOnError)
	fs.SetOutput(&strings.Builder{})
	var v units.Speed
	fs.TextVar(&v, "speed", 220*units.MetrePerMinute, "web speed")
	if err := fs.Parse([]string{"-speed", "300 m/min"}); err != nil || v != 5*units.MetrePerSecond {
		t.Errorf("flag: %v, %v", v, err)
	}
	if err := fs.Parse([]string{"-speed", "300"}); err == nil {
		t.Error("a flag without a unit is accepted")
	}
}

func TestStd(t *testing.T) {
	for _, c := range []struct {
		q    units.Time
		want time.Duration
	}{{1.5 * units.Second, 1500 * time.Millisecond}, {units.Time(1e-10), 0}, {units.Time(1e300), math.MaxInt64},
		{units.Time(-1e300), math.MinInt64}, {units.Time(math.NaN()), 0}} {
		if got := c.q.Std(); got != c.want {
			t.Errorf("%v: got %v, want %v", c.q, got, c.want)
		}
	}
	if got := units.FromStd(90 * time.Second); got != 1.5*units.Minute {
		t.Errorf("90 s is %v", got)
	}
}

// TestViews looks at one memory through both types.
func TestViews(t *testing.T) {
	x := []units.Voltage{1 * units.Volt, 2 * units.Volt}
	f := units.Floats(x)
	f[1] = 7
	if x[1] != 7*units.Volt || &units.Quantities[units.Voltage](f)[0] != &x[0] ||
		len(units.Floats[units.Voltage](nil)) != 0 {
		t.Errorf("the views differ: %v %v", x, f)
	}
}

func TestStandardFlow(t *testing.T) {
	f, err := units.ParseStandardFlow("60 Nm³/h")
	if err != nil {
		t.Fatal(err)
	}
	// 1 mol fills 22.41396954 L at 0 °C and 101.325 kPa (CODATA 2018 molar volume of
	// an ideal gas), so 60 m³/h are 743.5847 mmol/s.
	if got := float64(f.Molar()); !(math.Abs(got/(1000.0/60/22.41396954)-1) <= 1e-9) {
		t.Errorf("60 Nm³/h is %.10g mol/s", got)
	}
	if g := f.At(units.ReferenceISO8778).At(units.ReferenceDIN1343); !(math.Abs(
		float64(g.Volume())/float64(f.Volume())-1) <= 1e-15) {
		t.Errorf("there and back: %v", g)
	}
	if got := f.Actual(0, 1*units.Bar); !math.IsNaN(float64(got)) {
		t.Errorf("at 0 K: %v", got)
	}
	var zero units.StandardFlow
	for _, v := range []float64{float64(zero.Molar()), float64(zero.Actual(units.Celsius(20), 1*units.Bar)),
		float64(zero.Mass(1.2 * units.KilogramPerCubicMetre)), float64(f.At(0).Volume()),
		float64(units.GasReference(99).Pressure())} {
		if !math.IsNaN(v) {
			t.Errorf("without a reference: %v", v)
		}
	}
	for _, r := range units.GasReferences() {
		if r.Source().Provenance == 0 || r.Temperature() < 273*units.Kelvin || r.Pressure() < 1*units.Bar ||
			r.RelativeHumidity() >= 1*units.PercentRH*100 {
			t.Errorf("%v is incomplete", r)
		}
	}
	if _, err := units.NewStandardFlow(units.VolumeFlow(math.NaN()), units.Reference60F); err == nil {
		t.Error("NaN is a flow")
	}
}

// TestAllocations: neither way of text allocates, nor does a conversion.
func TestAllocations(t *testing.T) {
	var buf [64]byte
	flow, _ := units.ParseStandardFlow("35 scfm(68°F)")
	text := []byte("73.4 °F")
	var temp units.Temperature
	for name, f := range map[string]func(){
		"parse decimal":     func() { _, _ = units.Parse[units.Voltage]("12.345 kV") },
		"parse ratio":       func() { _, _ = units.Parse[units.Length]("25.375 in") },
		"parse long":        func() { _, _ = units.Parse[units.Length]("0.1234567890123456789012345 in") },
		"parse folded":      func() { _, _ = units.Parse[units.Resistance]("12 T\u2126") },
		"parse °F":          func() { _, _ = units.Parse[units.Temperature]("73.4 °F") },
		"parse flow":        func() { _, _ = units.ParseStandardFlow("35 scfm(68°F)") },
		"unmarshal":         func() { _ = temp.UnmarshalText(text) },
		"append decimal":    func() { _, _ = units.Voltage(12345).AppendText(buf[:0]) },
		"append °C":         func() { _, _ = units.Celsius(23.4).AppendText(buf[:0]) },
		"append 17 digits":  func() { _, _ = units.Temperature(294.2611111111111).AppendText(buf[:0]) },
		"append flow":       func() { _, _ = flow.AppendText(buf[:0]) },
		"in":                func() { _, _ = units.In(units.Celsius(23.4), "°F") },
		"celsius":           func() { temp = units.Celsius(23.4) },
		"standard → actual": func() { _ = flow.Actual(temp, 1*units.Bar) },
	} {
		if n := testing.AllocsPerRun(100, f); n != 0 {
			t.Errorf("%s: %g allocations", name, n)
		}
	}
}
