package unitstest

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

const (
	siBrochure = "BIPM, SI Brochure, 9th edition, 2019, 5.4"
	ieee       = "IEEE 754-2019: correct rounding, shortest round-trip decimals"
	practice   = "definition of a quantity type of this library"
)

func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func join(x float64, unit string) string { return number(x) + " " + unit }

func bits(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

// refuses says that none of the texts is read.
func refuses(c Codec, texts ...string) error {
	for _, s := range texts {
		if v, err := c.Parse(s); err == nil {
			return lawtest.That(false, "an error for "+strconv.Quote(s), v)
		}
	}
	return nil
}

// textLaws are about what is read and written.
func textLaws() []lawtest.Law[Codec, Input] {
	length := Of[units.Length]()
	return []lawtest.Law[Codec, Input]{{
		Name: "finite", Says: "NaN and Inf have no text and no JSON", Source: practice, Broken: notFiniteText{length},
		Check: func(c Codec, in Input) error {
			for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				s, err1 := c.Text(v)
				b, err2 := c.Marshal(v)
				if err1 == nil || err2 == nil {
					return lawtest.That(false, "errors for "+number(v), strconv.Quote(s), err1, string(b), err2)
				}
			}
			return nil
		},
	}, {
		Name: "unit needed", Says: "a number without its unit is an error, also 0", Source: siBrochure,
		Broken: guessesUnit{length},
		Check: func(c Codec, in Input) error {
			for _, u := range c.Units() {
				if u == "" {
					return lawtest.Skip("a bare number is accepted")
				}
			}
			return refuses(c, "0", number(in.Number), number(in.Number)+" ")
		},
	}, {
		Name: "closed", Says: "an unknown unit is an error: no free product of prefix and unit, no suffix, no annotation",
		Source: practice, Broken: freeProduct{length},
		Check: func(c Codec, in Input) error {
			listed := map[string]bool{}
			for _, u := range c.Units() {
				listed[u] = true
			}
			for _, u := range []string{"Y" + in.A, "z" + in.A, "da" + in.A, in.A + "s.m", in.A + "{x}", in.A + "¤",
				in.A + " " + in.A, in.A + "·furlong", "furlong"} {
				if listed[u] || listed[strings.TrimSpace(u)] {
					continue
				}
				if err := refuses(c, join(in.Number, u)); err != nil {
					return err
				}
			}
			return nil
		},
	}, {
		Name: "numbers only", Says: "NaN, Inf, hexadecimal, separated, repeated and missing numbers are errors",
		Source: practice, Broken: plainParseFloat{length},
		Check: func(c Codec, in Input) error {
			for _, n := range []string{"NaN", "nan", "Inf", "-inf", "+Infinity", "0x1p-2", "0x10", "1_000", "1,5", "1 000",
				"1'000", "1.2.3", "--1", "1e", "1e+", ".", "", "1/2", "1|2"} {
				if n == "" && strings.HasPrefix(in.A, "1") {
					continue // "1/s" without a number is the number 1 with "/s"
				}
				if err := refuses(c, strings.TrimSuffix(n+" "+in.A, " ")); err != nil {
					return err
				}
			}
			return nil
		},
	}, {
		Name: "round trip", Says: "Parse(Text(v)) has the bits of v", Source: ieee, Broken: sixDigits{length},
		Check: func(c Codec, in Input) error {
			s, err1 := c.Text(in.Value)
			v, err2 := c.Parse(s)
			ok := err1 == nil && err2 == nil && bits(v, in.Value)
			return lawtest.That(ok, "the same bits", v, strconv.Quote(s), err1, err2)
		},
	}, {
		Name: "shortest", Says: "no text with one digit less parses back to the value", Source: ieee,
		Broken: seventeenDigits{length}, Check: shortest,
	}, {
		Name: "json", Says: "the JSON is a string with the text, and reads back to the same bits", Source: practice,
		Broken: bareNumber{length},
		Check: func(c Codec, in Input) error {
			b, err := c.Marshal(in.Value)
			text, _ := c.Text(in.Value)
			var s string
			if err != nil || json.Unmarshal(b, &s) != nil || s != text {
				return lawtest.That(false, "the string "+strconv.Quote(text), string(b), err)
			}
			v, err := c.Unmarshal(b, in.Number)
			return lawtest.That(err == nil && bits(v, in.Value), "the same bits", v, string(b), err)
		},
	}, {
		Name: "keep on error", Says: "after an error the variable holds what it held", Source: practice,
		Broken: zeroesOnError{length},
		Check: func(c Codec, in Input) error {
			for _, s := range []string{`"1 furlong"`, `"NaN ` + in.A + `"`, `""`, `"1"x`} {
				if v, err := c.Unmarshal([]byte(s), in.Value); err == nil || !bits(v, in.Value) {
					return lawtest.That(false, "an error and the old value after "+s, v, err)
				}
			}
			return nil
		},
	}}
}

// shortest tries both neighbours with one digit less.
func shortest(c Codec, in Input) error {
	s, err := c.Text(in.Value)
	if err != nil {
		return err
	}
	sign, digits, exp, unit := takeApart(s)
	if len(digits) < 2 {
		return nil
	}
	cut, err := strconv.ParseUint(digits[:len(digits)-1], 10, 64)
	if err != nil || len(digits) > 17 {
		return lawtest.That(false, "at most 17 digits", strconv.Quote(s))
	}
	for _, d := range []uint64{cut, cut + 1} {
		short := fmt.Sprintf("%s%de%d%s", sign, d, exp+1, unit)
		if v, err := c.Parse(short); err == nil && bits(v, in.Value) {
			return lawtest.That(false, "the shorter "+strconv.Quote(short), strconv.Quote(s))
		}
	}
	return nil
}

// takeApart splits a text into sign, significant digits, power of ten of the last
// of them, and what follows the number.
func takeApart(s string) (sign, digits string, exp int, rest string) {
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("-.e0123456789", r) })
	if end < 0 {
		end = len(s)
	}
	s, rest = s[:end], s[end:]
	s, e, _ := strings.Cut(s, "e")
	exp, _ = strconv.Atoi(e)
	if s, found := strings.CutPrefix(s, "-"); found {
		sign, digits = "-", s
	} else {
		digits = s
	}
	whole, fraction, _ := strings.Cut(digits, ".")
	exp -= len(fraction)
	digits = strings.TrimLeft(whole+fraction, "0")
	short := strings.TrimRight(digits, "0")
	return sign, short, exp + len(digits) - len(short), rest
}

// numberLaws are about what numbers mean.
func numberLaws() []lawtest.Law[Codec, Input] {
	length := Of[units.Length]()
	return []lawtest.Law[Codec, Input]{{
		Name: "odd", Says: "−x is minus x, where zero is zero", Source: practice, Broken: losesSign{length},
		Check: func(c Codec, in Input) error {
			if c.Shifted() {
				return lawtest.Skip("zero is shifted")
			}
			p, err1 := c.Parse(join(in.Number, in.A))
			m, err2 := c.Parse(join(-in.Number, in.A))
			return lawtest.That(err1 == nil && err2 == nil && bits(m, -p), "opposite values", p, m, err1, err2)
		},
	}, {
		// To the bit: the digits of a whole number double exactly, and correct rounding
		// commutes with doubling. With a shifted zero it is the steps that are equal, to
		// the rounding of the values.
		Name: "scale", Says: "twice the number is twice the value; with a shifted zero equal steps are equal",
		Source: practice, Broken: offsetDifference{Of[units.TemperatureDifference]()},
		Check: func(c Codec, in Input) error {
			whole := math.Trunc(in.Number)
			one, err1 := c.Parse(join(whole, in.A))
			two, err2 := c.Parse(join(2*whole, in.A))
			zero, err3 := c.Parse(join(0, in.A))
			ok, want := two == 2*one && zero == 0, "0 and the double to the bit"
			if c.Shifted() {
				slack := 2 * (ulp(two) + ulp(one) + ulp(zero))
				ok, want = math.Abs((two-one)-(one-zero)) <= slack, fmt.Sprintf("equal steps within %.3g", slack)
			}
			return lawtest.That(ok && err1 == nil && err2 == nil && err3 == nil, want, zero, one, two, err1, err2, err3)
		},
	}, {
		Name: "monotone", Says: "x < y gives v(x) <= v(y)", Source: practice, Broken: fixedPoint{Of[units.Resistance]()},
		Check: func(c Codec, in Input) error {
			x, err1 := c.Parse(join(min(in.Number, in.Other), in.A))
			y, err2 := c.Parse(join(max(in.Number, in.Other), in.A))
			return lawtest.That(err1 == nil && err2 == nil && x <= y, "values in the order of the numbers", x, y, err1, err2)
		},
	}, {
		Name: "back", Says: "a → SI → a within 2 ulp", Source: ieee, Broken: roundedFactor{length},
		Check: func(c Codec, in Input) error {
			v, err1 := c.Parse(join(in.Number, in.A))
			x, err2 := c.In(v, in.A)
			slack := 2 * ulp(in.Number)
			if c.Shifted() {
				slack += step(c, v, in.A)
			}
			ok := err1 == nil && err2 == nil && math.Abs(x-in.Number) <= slack
			return lawtest.That(ok, fmt.Sprintf("the number within %.3g", slack), x, err1, err2)
		},
	}, {
		// A shifted zero adds three steps of the value and two of the number between.
		Name: "commute", Says: "a → b → c equals a → c within 2 ulp", Source: ieee, Broken: surveyFoot{length},
		Check: func(c Codec, in Input) error {
			v, err1 := c.Parse(join(in.Number, in.A))
			direct, err2 := c.In(v, in.C)
			y, err3 := c.In(v, in.B)
			w, err4 := c.Parse(join(y, in.B))
			round, err5 := c.In(w, in.C)
			slack := 2 * ulp(direct)
			if c.Shifted() {
				next, _ := c.Parse(join(math.Nextafter(y, math.Inf(1)), in.B)) // what an ulp between is worth
				between, _ := c.In(next, in.C)
				slack += 3*step(c, v, in.C) + 2*math.Abs(between-round)
			}
			for _, err := range []error{err1, err2, err3, err4, err5} {
				if err != nil {
					return err
				}
			}
			return lawtest.That(math.Abs(round-direct) <= slack, fmt.Sprintf("%v within %.3g", direct, slack), round)
		},
	}}
}

// ulp is the distance to the next float64 away from zero.
func ulp(x float64) float64 {
	x = math.Abs(x)
	return math.Nextafter(x, math.Inf(1)) - x
}

// step is what one ulp of the value is in the unit.
func step(c Codec, v float64, unit string) float64 {
	a, _ := c.In(v, unit)
	b, _ := c.In(math.Nextafter(v, math.Inf(1)), unit)
	return math.Abs(b-a) + ulp(a)
}
