package units_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"time"

	"example.org/pithball/units"
)

// Quantities read like the shop floor writes them, and the compiler keeps their
// kinds apart: the last line would not build.
func Example() {
	gap := 25 * units.Millimetre
	display := units.DisplayVoltage(-5000) // V, from a meter calibrated for 25 mm
	field := display.Field(gap)
	fmt.Println(gap, display, field)
	fmt.Println(field.SurfaceCharge()) // 8.854e-12 F/m × 200 kV/m
	// var v units.Voltage = display
	// Output:
	// 25 mm -5 kV(display) -200 kV/m
	// -1.77083756376 µC/m²
}

func ExampleParse() {
	v, err := units.Parse[units.Speed]("1000 ft/min")
	fmt.Println(v, err)
	_, err = units.Parse[units.Speed]("300")
	fmt.Println(errors.Is(err, units.ErrNoUnit))
	// Output:
	// 5.08 m/s <nil>
	// true
}

func ExampleParseError() {
	_, err := units.Parse[units.Length]("2 inches")
	var p *units.ParseError
	if errors.As(err, &p) {
		fmt.Println(p.Kind, "|", p.Why, "|", p.Valid[0])
	}
	_, err = units.Parse[units.BasisWeight]("20 lb")
	errors.As(err, &p)
	fmt.Println(p.Why)
	// Output:
	// length | unknown unit "inches" | inch
	// a ream weight says nothing without its sheet: write lb bond, lb book, lb cover, lb tag, lb index, lb/3000ft² or lb/1000ft²
}

func ExampleIn() {
	x, err := units.In(30*units.KilovoltPerCentimetre, "kV/in")
	fmt.Println(x, err)
	// Output: 76.2 <nil>
}

func ExampleOf() {
	v, err := units.Of[units.Speed](300, "m/min")
	fmt.Println(v, err)
	// Output: 5 m/s <nil>
}

func ExampleFormat() {
	e := 12345 * units.VoltPerMetre
	s, err := units.Format(e, "kV/cm", 3)
	fmt.Println(s, err)
	fmt.Println(e) // unaltered
	// Output:
	// 0.123 kV/cm <nil>
	// 12.345 kV/m
}

func ExampleDisplay() {
	web := 25.4 * units.Micrometre
	fmt.Println(units.Display(web, units.Metric, 3), "=", units.Display(web, units.US, 3))
	fmt.Println(units.ShopUnit[units.ElectricField](units.US))
	// Output:
	// 0.0254 mm = 0.00100 in
	// kV/in
}

func ExampleSystem() {
	for _, s := range []units.System{units.Metric, units.US} {
		fmt.Println(s, units.ShopUnit[units.Speed](s))
	}
	// Output:
	// metric m/min
	// US ft/min
}

func ExampleSpellings() {
	fmt.Println(units.Spellings[units.RecombinationCoefficient]())
	// Output: [m³/s cm³/s]
}

func ExampleCatalogue() {
	for _, k := range units.Catalogue() {
		if k.Type == "ElectricField" {
			for _, u := range k.Units {
				if u.Symbol == "kV/in" {
					fmt.Println(u.UCUM, u.Num, "/", u.Den) // 1000/0.0254
				}
			}
		}
	}
	// Output: kV/[in_i] 5000000 / 127
}

func ExampleKind() {
	k := units.Catalogue()[0]
	fmt.Println(k.Type, k.SI, k.Metric, k.US, len(k.Units) > 5)
	// Output: Length m mm in true
}

func ExampleUnit() {
	for _, u := range units.Catalogue()[0].Units {
		if u.Symbol == "mil" {
			fmt.Println(u.Also, u.Num, u.Den) // 0.0254/1000
		}
	}
	// Output: [thou [mil_i]] 127 5000000
}

func ExampleSpeed_flag() {
	fs := flag.NewFlagSet("line", flag.ContinueOnError)
	var v units.Speed
	fs.TextVar(&v, "speed", 100*units.MetrePerMinute, "web speed")
	err := fs.Parse([]string{"-speed", "300 m/min"})
	fmt.Println(v, err)
	// Output: 5 m/s <nil>
}

func ExampleLength_json() {
	type span struct {
		Gap   units.Length `json:"gap"`
		Speed units.Speed  `json:"speed"`
	}
	var s span
	err := json.Unmarshal([]byte(`{"gap": "1 in", "speed": "300 m/min"}`), &s)
	out, err := json.Marshal(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(string(out), err)
	fmt.Println(json.Unmarshal([]byte(`{"gap": "25.4"}`), &s))
	// Output:
	// {"gap":"25.4 mm","speed":"5 m/s"} <nil>
	// length "25.4": no unit; accepted units: nm, µm, mm, m, km, micron, microns, cm
}

func ExampleCelsius() {
	fmt.Println(units.Celsius(23.4), float64(units.Celsius(20)))
	// Output: 23.4 °C 293.15
}

func ExampleFahrenheit() {
	fmt.Println(units.Fahrenheit(68))
	// Output: 20 °C
}

func ExampleTemperature_Sub() {
	d := units.Celsius(25).Sub(units.Celsius(20))
	fmt.Println(d, units.Celsius(20).Add(d))
	// Output: 5 K 25 °C
}

func ExampleGaugePressure_Absolute() {
	p := 6 * units.BarGauge
	fmt.Println(p.Absolute(1 * units.Atmosphere)) // 600 + 101.325
	fmt.Println((1 * units.Atmosphere).Gauge(1 * units.Bar))
	// Output:
	// 701.325 kPa
	// 1.325 kPa(g)
}

func ExampleStandardFlow() {
	f, err := units.ParseStandardFlow("60 Nm³/h")
	if err != nil {
		fmt.Println(err)
		return
	}
	anr := f.At(units.ReferenceISO8778)
	fmt.Println(f, "|", f.Reference())
	// 1000 × 1.01325 × 293.15/273.15
	fmt.Printf("%.2f L/min(ANR)\n", float64(anr.Volume())*60000)
	// 16.667 L/s / 22.414 L/mol
	fmt.Printf("%.4f mol/s\n", float64(f.Molar()))
	// half the volume at twice the pressure
	fmt.Println(units.Display(f.Actual(units.Celsius(0), 2*units.Atmosphere), units.Metric, 3))
	// kg/m³, 16.667 L/s × 1.293
	fmt.Printf("%.2f g/s\n", float64(f.Mass(units.Density(1.293)))*1e3)
	_, err = units.ParseStandardFlow("35 scfm")
	fmt.Println(errors.Is(err, units.ErrUnknownUnit))
	// Output:
	// 60 Nm³/h | DIN 1343: 0 °C, 101.325 kPa, dry
	// 1087.44 L/min(ANR)
	// 0.7436 mol/s
	// 30.0 m³/h
	// 21.55 g/s
	// true
}

func ExampleNewStandardFlow() {
	f, err := units.NewStandardFlow(100*units.LitrePerMinute, units.ReferenceISO8778)
	fmt.Println(f, err)
	_, err = units.NewStandardFlow(100*units.LitrePerMinute, 0)
	fmt.Println(err)
	// Output:
	// 100 L/min(ANR) <nil>
	// reference: 0: want one of GasReferences
}

func ExampleGasReference() {
	r := units.ReferenceISO8778
	fmt.Println(r.Temperature(), r.Pressure(), r.RelativeHumidity())
	fmt.Println(r.Source().Provenance, len(units.GasReferences()))
	// Output:
	// 20 °C 100 kPa 65 %RH
	// quoted 7
}

func ExampleHumidityRatio_Specific() {
	w := 250 * units.GramPerKilogram
	fmt.Println(w.Specific(), w.Specific().Ratio()) // 0.25/1.25
	// Output: 200 g/kg(moist) 250 g/kg
}

func ExampleVolumeResistivity_Sheet() {
	rho := units.VolumeResistivity(1e12) // Ω·m
	rs := rho.Sheet(50 * units.Micrometre)
	fmt.Println(rs, rho.Conductivity(), rho.Conductivity().Resistivity())
	fmt.Println(units.Display(rs.Volume(50*units.Micrometre), units.Metric, 3))
	// Output:
	// 2e16 Ω/sq 1 pS/m 1 TΩ·m
	// 1.00e12 Ω·m
}

func ExampleMobility_Speed() {
	mu := units.Mobility(1.4e-4) // m²/(V·s)
	v, err := units.Format(mu.Speed(100*units.KilovoltPerMetre), "m/s", 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(v)
	// Output: 14.0 m/s
}

func ExampleVoltage_Over() {
	fmt.Println((3 * units.Kilovolt).Over(2 * units.Millimetre))
	// Output: 1.5 MV/m
}

func ExampleCapacitance_Energy() {
	w := (150 * units.Picofarad).Energy(10 * units.Kilovolt) // ½ × 150e-12 × 1e8
	fmt.Println(units.Display(w, units.Metric, 3))
	// Output: 7.50 mJ
}

func ExampleForcePerWidth_Stress() {
	stress := (100 * units.NewtonPerMetre).Stress(20 * units.Micrometre)
	fmt.Println(units.Display(stress, units.Metric, 4))
	// Output: 5000 kPa
}

func ExampleSheetWeight() {
	w := units.SheetWeight(12*units.Micrometre, 1400*units.KilogramPerCubicMetre)
	s, err := units.Format(w, "g/m²", 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := units.Format(w.Thickness(1400*units.KilogramPerCubicMetre), "µm", 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s, t)
	// Output: 16.8 g/m² 12.0 µm
}

// 1600 m above the sea and at 30 °C air has 80 % of its density of 20 °C and
// 101.325 kPa: 83.6/101.325 · 293.15/303.15.
func ExamplePressure_RelativeDensity() {
	fmt.Printf("%.2f\n", (83.6 * units.Kilopascal).RelativeDensity(units.Celsius(30)))
	// Output: 0.80
}

// 3 µC/m² at 4 m/s: 12 µA for each metre of width.
func ExampleSurfaceChargeDensity_Current() {
	fmt.Printf("%.0f µA/m\n", float64((units.SurfaceChargeDensity(3e-6)).Current(4*units.MetrePerSecond))*1e6)
	// Output: 12 µA/m
}

func ExampleThermalVoltage() {
	s, err := units.Format(units.ThermalVoltage(units.Celsius(20)), "mV", 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s) // 8.617e-5 eV/K × 293.15 K
	// Output: 25.26 mV
}

func ExampleVacuumPermittivity() {
	for _, e := range []units.Edition{units.CODATA2022, units.CODATA2018, units.Before2019} {
		fmt.Printf("%.11g F/m, %v\n", units.VacuumPermittivity(e), e)
	}
	// Output:
	// 8.8541878188e-12 F/m, CODATA 2022
	// 8.8541878128e-12 F/m, CODATA 2018
	// 8.8541878176e-12 F/m, before 2019, exact
}

func ExampleEdition() {
	fmt.Println(units.CODATA2022, "|", units.CODATA)
	// Output: CODATA 2022 | CODATA 2022 (SI 2019 exact e, k, N_A)
}

func ExampleTime_Std() {
	fmt.Println((90 * units.Second).Std(), units.FromStd(1500*time.Millisecond))
	// Output: 1m30s 1.5 s
}

func ExampleFloats() {
	v := []units.Voltage{1 * units.Kilovolt, 2 * units.Kilovolt}
	units.Floats(v)[1] = 3000 // the same memory
	fmt.Println(v, units.Quantities[units.Voltage]([]float64{5}))
	// Output: [1 kV 3 kV] [5 V]
}

func ExampleComputations() {
	for _, e := range units.Computations() {
		if e.Name == "units.Temperature.Sub" {
			out := make([]float64, 1)
			err := e.Call(out, []float64{300, 280})
			fmt.Println(e.Doc, out, err)
		}
	}
	// Output: The difference q − o. [20] <nil>
}
