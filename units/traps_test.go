package units_test

import (
	"errors"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// reader reads a text as one kind and returns what it prints.
type reader struct {
	name string
	read func(string) (string, error)
}

func as[T units.Quantity](name string) reader {
	return reader{name, func(s string) (string, error) {
		q, err := units.Parse[T](s)
		return any(q).(interface{ String() string }).String(), err
	}}
}

// TestTraps holds the library to what others get wrong: dynamic unit packages,
// fixed-point quantities, free prefix × unit parsers, offset conversions and
// ignored annotations. "" as want means: refused.
func TestTraps(t *testing.T) {
	length, voltage, temperature := as[units.Length]("Length"), as[units.Voltage]("Voltage"),
		as[units.Temperature]("Temperature")
	difference, resistance, rh := as[units.TemperatureDifference]("TemperatureDifference"),
		as[units.Resistance]("Resistance"), as[units.RelativeHumidity]("RelativeHumidity")
	pressure, gauge, angle := as[units.Pressure]("Pressure"), as[units.GaugePressure]("GaugePressure"),
		as[units.Angle]("Angle")
	field, charge, flow := as[units.ElectricField]("ElectricField"), as[units.Charge]("Charge"),
		as[units.VolumeFlow]("VolumeFlow")
	tension, weight, sheet := as[units.ForcePerWidth]("ForcePerWidth"), as[units.BasisWeight]("BasisWeight"),
		as[units.SheetResistance]("SheetResistance")
	standard := reader{"StandardFlow", func(s string) (string, error) {
		f, err := units.ParseStandardFlow(s)
		return f.String(), err
	}}
	for _, c := range []struct {
		r          reader
		text, want string
	}{
		// A dynamic unit package prints a field in base units and cannot tell Ω/sq from Ω.
		{field, "30 kV/m", "30 kV/m"}, {sheet, "1e12 Ω", ""}, {resistance, "1e12 Ω/sq", ""},
		// int64 nano-units stop at 9.2 GΩ, round capacitance to pF and humidity to 0.1 %.
		{resistance, "10GΩ", "10 GΩ"}, {resistance, "1TΩ", "1 TΩ"}, {resistance, "1e17 Ω", "1e17 Ω"},
		{as[units.Capacitance]("Capacitance"), "0.5pF", "500 fF"},
		{rh, "100.4%", "100.4 %RH"}, {rh, "45.99%", "45.99 %RH"}, {rh, "0.05%", "0.05 %RH"}, {rh, "45%RH", "45 %RH"},
		{voltage, "30 kV", "30 kV"}, {voltage, "1e3V", "1 kV"}, {charge, "2 μC", "2 µC"}, {charge, "2 µC", "2 µC"},
		{charge, "2 uC", "2 µC"},
		{pressure, "1013.25 hPa", "101.325 kPa"}, {pressure, "1 bar", "100 kPa"},
		{as[units.Speed]("Speed"), "100 ft/min", "508 mm/s"}, {as[units.Speed]("Speed"), "300 m/min", "5 m/s"},
		// Free prefix × unit parsers: centi-fermi, pico-link, milli-radian, megavolt per molar.
		{length, "35 cfm", ""}, {length, "2 pli", ""}, {angle, "2 mil", ""}, {field, "2 MV/M", ""}, {length, "1 kin", ""},
		{length, "1 mft", ""},
		{tension, "2 pli", "350.2536704929528 N/m"}, {tension, "2 lb/in", ""},
		{temperature, "20 degC", "20 °C"}, {temperature, "20 C", "20 °C"}, {charge, "20 C", "20 C"},
		{weight, "75 gsm", "75 g/m²"}, {standard, "3 Nm3/h", "3 Nm³/h"}, {standard, "3 Nm3", ""},
		{gauge, "6 barg", "600 kPa(g)"},
		// Products in the text.
		{length, "3 ft 6 in", ""}, {length, "1/2 m", ""}, {length, "1|2 m", ""}, {temperature, "10 degC days", ""},
		{as[units.Speed]("Speed"), "6.3 s/4.m", ""}, {as[units.Speed]("Speed"), "6.3 4.s/m", ""}, {length, "10+3 mm", ""},
		// A difference has no offset, a temperature has.
		{temperature, "23 degF", "-5 °C"}, {difference, "10 °F", ""}, {difference, "10 [degF]", ""},
		{difference, "20 degC", ""}, {difference, "18 Δ°F", "10 K"},
		// Annotations are no decoration.
		{gauge, "30 psi", ""}, {pressure, "30 psig", ""}, {pressure, "30 [psi]{gauge}", ""}, {gauge, "30 [psi]{gauge}", ""},
		{flow, "5 L/min{ANR}", ""}, {flow, "5 L/min ANR", ""}, {flow, "5 m3{n}/h", ""}, {flow, "5 Nm3/h", ""},
		{flow, "5 scfm", ""},
		{standard, "5 scfm", ""}, {standard, "5 L/min", ""}, {standard, "5 cfm", ""},
		{standard, "5 scfm(68°F)", "5 scfm(68°F)"},
		{as[units.RelativeHumidityIce]("RelativeHumidityIce"), "90 %RH", ""}, {rh, "90 %RHi", ""},
		{as[units.SpecificHumidity]("SpecificHumidity"), "7 g/kg", ""},
		{as[units.HumidityRatio]("HumidityRatio"), "7 g/kg(moist)", ""},
		{voltage, "8 kV(display)", ""}, {as[units.DisplayVoltage]("DisplayVoltage"), "8 kV", "8 kV(display)"},
		// One symbol, several meanings.
		{length, "3 pt", ""}, {weight, "20 lb", ""}, {as[units.Force]("Force"), "3 lb", ""},
		{as[units.Time]("Time"), "3 m", ""}, {length, "3 M", ""}, {length, "3 Mm", ""},
	} {
		got, err := c.r.read(c.text)
		switch {
		case c.want == "" && err == nil:
			t.Errorf("%s %q: read as %s, want it refused", c.r.name, c.text, got)
		case c.want != "" && (err != nil || got != c.want):
			t.Errorf("%s %q: got %q, %v, want %q", c.r.name, c.text, got, err, c.want)
		}
	}
	if d := units.Celsius(25).Sub(units.Celsius(20)); d.String() != "5 K" { // not "-268.15 °C"
		t.Errorf("25 °C − 20 °C prints %s", d)
	}
	if float64(units.Mil) != 25.4e-6 || units.MolarGas != 8.31446261815324 || units.Epsilon0 != 8.8541878188e-12 ||
		!strings.Contains(units.CODATA, "2022") {
		t.Error("a constant is truncated, an ulp off, or of another edition")
	}
	p, err := units.Parse[units.GaugePressure]("30 psig")
	// by hand, not with 14.7 psi
	if got, _ := units.Format(p.Absolute(84556*units.Pascal), "kPa", 15); err != nil || got != "291.398718795051 kPa" {
		t.Errorf("30 psig at 84.556 kPa: %v, %v", got, err)
	}
}

// TestParseError looks at the errors themselves.
func TestParseError(t *testing.T) {
	for _, c := range []struct {
		text string
		err  error
		says string // in the message
		near string // first suggestion, "" for any
	}{
		{"", units.ErrSyntax, "no number", ""},
		{"mm", units.ErrSyntax, "no number", ""},
		{"25", units.ErrNoUnit, "no unit", ""},
		{"0", units.ErrNoUnit, "no unit", ""},
		{"25 mn", units.ErrUnknownUnit, `unknown unit "mn"`, ""},
		{"25 inches", units.ErrUnknownUnit, "", "inch"},
		{"25 IN", units.ErrUnknownUnit, "", "in"},
		{"25 kV", units.ErrUnknownUnit, "a unit of voltage", ""},
		{"3 pt", units.ErrUnknownUnit, "1/72 in", ""},
		{"NaN mm", units.ErrSyntax, "finite", ""},
		{"-Inf mm", units.ErrSyntax, "finite", ""},
		{"+infinity mm", units.ErrSyntax, "finite", ""},
		{"0x1p-2 mm", units.ErrSyntax, "hexadecimal", ""},
		{"1_000 mm", units.ErrSyntax, "separator", ""},
		{"1'000 mm", units.ErrSyntax, "separator", ""},
		{"1,5 mm", units.ErrSyntax, "comma", ""},
		{"1,000 mm", units.ErrSyntax, "comma", ""},
		{",5 mm", units.ErrSyntax, "comma", ""},
		{"1.2.3 mm", units.ErrSyntax, "second decimal point", ""},
		{"--1 mm", units.ErrSyntax, "no number", ""},
		{". mm", units.ErrSyntax, "no number", ""},
		{"1e999 mm", units.ErrSyntax, "exponent", ""},
		{"1e400 mm", units.ErrRange, "too large", ""},
		{"2e308 km", units.ErrRange, "too large", ""},
		{"1e-330 m", units.ErrRange, "too small", ""},
		{strings.Repeat("1", 65) + " mm", units.ErrSyntax, "64 digits", ""},
		{strings.Repeat("x", 1000), units.ErrSyntax, "", ""},
		{"1 " + strings.Repeat("µ", 1000), units.ErrUnknownUnit, "", ""},
	} {
		_, err := units.Parse[units.Length](c.text)
		var p *units.ParseError
		if !errors.As(err, &p) || !errors.Is(err, c.err) {
			t.Errorf("%.40q: got %v, want %v", c.text, err, c.err)
			continue
		}
		if p.Kind != "length" || p.Input != c.text || !strings.Contains(p.Error(), c.says) {
			t.Errorf("%.40q: %v: want the kind, the input and %q", c.text, err, c.says)
		}
		if errors.Is(err, units.ErrUnknownUnit) && len(p.Valid) == 0 {
			t.Errorf("%.40q: no suggestion", c.text)
		}
		if c.near != "" && p.Valid[0] != c.near {
			t.Errorf("%q: nearest is %q, want %q", c.text, p.Valid[0], c.near)
		}
	}
	q := 3 * units.Inch
	if err := q.UnmarshalText([]byte("7 parsec")); err == nil || q != 3*units.Inch {
		t.Errorf("after an error the value is %v", q)
	}
	f := units.StandardFlow{}
	if _, err := f.MarshalText(); err == nil {
		t.Error("the zero StandardFlow has a text")
	}
	var fe *known.FieldError
	if _, err := units.NewStandardFlow(1*units.CubicMetrePerSecond, 99); !errors.As(err, &fe) || fe.Field != "reference" {
		t.Errorf("unknown reference: %v", err)
	}
}
