package units_test

import (
	"testing"
	"time"

	"example.org/pithball/units"
)

// BenchmarkParse stands beside time.ParseDuration on texts of the same length:
// the aim is at most three times its time. Compare the lines.
func BenchmarkParse(b *testing.B) {
	b.Run("time.ParseDuration/12.345ms", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = time.ParseDuration("12.345ms")
		}
	})
	b.Run("time.ParseDuration/0.12345678901234567h", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = time.ParseDuration("0.12345678901234567h")
		}
	})
	parse(b, "decimal/12.345 kV", units.Parse[units.Voltage], "12.345 kV")
	parse(b, "folded/12.345 TΩ", units.Parse[units.Resistance], "12.345 T\u2126")
	parse(b, "ratio/25.375 in", units.Parse[units.Length], "25.375 in")
	parse(b, "affine/23.4 °C", units.Parse[units.Temperature], "23.4 °C")
	parse(b, "affine/73.45 °F", units.Parse[units.Temperature], "73.45 °F")
	parse(b, "17 digits/0.12345678901234567 in", units.Parse[units.Length], "0.12345678901234567 in")
	parse(b, "flow/35 scfm(68°F)", units.ParseStandardFlow, "35 scfm(68°F)")
}

func parse[T any](b *testing.B, name string, f func(string) (T, error), text string) {
	b.Run(name, func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = f(text)
		}
	})
}

func BenchmarkAppend(b *testing.B) {
	var buf [64]byte
	b.Run("time.Duration.String", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_ = (12345 * time.Microsecond).String()
		}
	})
	for name, q := range map[string]interface {
		AppendText([]byte) ([]byte, error)
	}{"decimal": units.Voltage(12345), "°C": units.Celsius(23.4), "°C 15 digits": units.Temperature(294.2611111111111)} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = q.AppendText(buf[:0])
			}
		})
	}
}

func BenchmarkConvert(b *testing.B) {
	e := 12345 * units.VoltPerMetre
	t := units.Celsius(23.4)
	b.Run("In", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = units.In(e, "kV/in")
		}
	})
	x := 23.4
	b.Run("Celsius", func(b *testing.B) {
		for b.Loop() {
			t = units.Celsius(x)
		}
	})
	b.Run("Temperature.Celsius", func(b *testing.B) {
		for b.Loop() {
			x = t.Celsius()
		}
	})
}
