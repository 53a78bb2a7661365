package unitstest

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Laws returns all laws, the cheapest first.
func Laws() []Law {
	return []Law{Finite(), UnitNeeded(), Closed(), NumbersOnly(), RoundTrip(), Shortest(), JSON(), KeepOnError(), Odd(), Scale(), Monotone(), Back(), Commute()}
}

const (
	siBrochure = "BIPM, SI Brochure, 9th edition, 2019, 5.4"
	ieee       = "IEEE 754-2019: correct rounding, shortest round-trip decimals"
	practice   = "definition of a quantity type of this library"
)

func broken(law string, c Codec, in Input, got, want string) error {
	return &Violation{Law: law, Codec: c.Name(), In: in, Got: got, Want: want}
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func join(x float64, unit string) string { return number(x) + " " + unit }

func bits(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

// Finite says that NaN and the infinities have no text and no JSON.
func Finite() Law {
	const name = "finite"
	return Law{name, "NaN and Inf have no text and no JSON", practice, func(c Codec, in Input) error {
		for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			if s, err := c.Text(v); err == nil {
				return broken(name, c, in, strconv.Quote(s), "an error for "+number(v))
			}
			if b, err := c.Marshal(v); err == nil {
				return broken(name, c, in, string(b), "an error for "+number(v))
			}
		}
		return nil
	}}
}

// UnitNeeded says that a number without a unit is an error, also 0, unless the
// codec lists the unit "".
func UnitNeeded() Law {
	const name = "unit needed"
	return Law{name, "a number without its unit is an error, also 0", siBrochure, func(c Codec, in Input) error {
		for _, u := range c.Units() {
			if u == "" {
				return nil
			}
		}
		for _, s := range []string{"0", number(in.Number), number(in.Number) + " "} {
			if v, err := c.Parse(s); err == nil {
				return broken(name, c, in, number(v)+" SI", "an error for "+strconv.Quote(s))
			}
		}
		return nil
	}}
}

// Closed says that only listed units are accepted: no further prefix, no
// suffix, no product.
func Closed() Law {
	const name = "closed"
	return Law{name, "an unknown unit is an error: no free product of prefix and unit, no suffix, no annotation", practice, func(c Codec, in Input) error {
		listed := map[string]bool{}
		for _, u := range c.Units() {
			listed[u] = true
		}
		for _, u := range []string{"Y" + in.A, "z" + in.A, "da" + in.A, in.A + "s.m", in.A + "{x}", in.A + "¤", in.A + " " + in.A, in.A + "·furlong", "furlong"} {
			if listed[u] || listed[strings.TrimSpace(u)] {
				continue
			}
			if v, err := c.Parse(join(in.Number, u)); err == nil {
				return broken(name, c, in, number(v)+" SI", "an error for the unit "+strconv.Quote(u))
			}
		}
		return nil
	}}
}

// NumbersOnly says that what is no plain decimal number is an error.
func NumbersOnly() Law {
	const name = "numbers only"
	return Law{name, "NaN, Inf, hexadecimal, separated, repeated and missing numbers are errors", practice, func(c Codec, in Input) error {
		for _, n := range []string{"NaN", "nan", "Inf", "-inf", "+Infinity", "0x1p-2", "0x10", "1_000", "1,5", "1 000", "1'000", "1.2.3", "--1", "1e", "1e+", ".", "", "1/2", "1|2"} {
			s := n + " " + in.A
			if in.A == "" {
				s = n
			}
			if n == "" && strings.HasPrefix(in.A, "1") {
				continue // "1/s" without a number is the number 1 with "/s"
			}
			if v, err := c.Parse(s); err == nil {
				return broken(name, c, in, number(v)+" SI", "an error for "+strconv.Quote(s))
			}
		}
		return nil
	}}
}

// RoundTrip says that the text of a value parses back to the same bits.
func RoundTrip() Law {
	const name = "round trip"
	return Law{name, "Parse(Text(v)) has the bits of v", ieee, func(c Codec, in Input) error {
		s, err := c.Text(in.Value)
		if err != nil {
			return broken(name, c, in, err.Error(), "a text")
		}
		v, err := c.Parse(s)
		if err != nil || !bits(v, in.Value) {
			return broken(name, c, in, fmt.Sprintf("%.17g from %q, %v", v, s, err), "the same bits")
		}
		return nil
	}}
}

// Shortest says that the text has no digit too many: neither neighbour with one
// digit less parses back.
func Shortest() Law {
	const name = "shortest"
	return Law{name, "no text with one digit less parses back to the value", ieee, func(c Codec, in Input) error {
		s, err := c.Text(in.Value)
		if err != nil {
			return broken(name, c, in, err.Error(), "a text")
		}
		sign, digits, exp, unit := takeApart(s)
		if len(digits) < 2 || len(digits) > 17 {
			if len(digits) > 17 {
				return broken(name, c, in, strconv.Quote(s), "at most 17 digits")
			}
			return nil
		}
		cut, err := strconv.ParseUint(digits[:len(digits)-1], 10, 64)
		if err != nil {
			return broken(name, c, in, strconv.Quote(s), "digits")
		}
		for _, d := range []uint64{cut, cut + 1} {
			short := fmt.Sprintf("%s%de%d%s", sign, d, exp+1, unit)
			if v, err := c.Parse(short); err == nil && bits(v, in.Value) {
				return broken(name, c, in, strconv.Quote(s), "the shorter "+strconv.Quote(short))
			}
		}
		return nil
	}}
}

// takeApart splits a text into sign, significant digits, power of ten of the
// last of them, and what follows the number.
func takeApart(s string) (sign, digits string, exp int, rest string) {
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	i, point := 0, false
	for ; i < len(s); i++ {
		switch c := s[i]; {
		case c == '.' && !point:
			point = true
			continue
		case c >= '0' && c <= '9':
			digits += string(c)
			if point {
				exp--
			}
			continue
		}
		break
	}
	rest = s[i:]
	if strings.HasPrefix(rest, "e") {
		j := 1
		for j < len(rest) && (rest[j] == '-' || rest[j] >= '0' && rest[j] <= '9') {
			j++
		}
		if e, err := strconv.Atoi(rest[1:j]); err == nil {
			exp += e
			rest = rest[j:]
		}
	}
	digits = strings.TrimLeft(digits, "0")
	for strings.HasSuffix(digits, "0") {
		digits = digits[:len(digits)-1]
		exp++
	}
	return sign, digits, exp, rest
}

// JSON says that a value travels as a JSON string with its unit, without loss.
func JSON() Law {
	const name = "json"
	return Law{name, "the JSON is a string with the text, and reads back to the same bits", practice, func(c Codec, in Input) error {
		b, err := c.Marshal(in.Value)
		if err != nil {
			return broken(name, c, in, err.Error(), "JSON")
		}
		text, _ := c.Text(in.Value)
		var s string
		if err := json.Unmarshal(b, &s); err != nil || s != text {
			return broken(name, c, in, string(b), "the string "+strconv.Quote(text))
		}
		if v, err := c.Unmarshal(b, in.Number); err != nil || !bits(v, in.Value) {
			return broken(name, c, in, fmt.Sprintf("%.17g from %s, %v", v, b, err), "the same bits")
		}
		return nil
	}}
}

// KeepOnError says that a variable keeps its value when the text is refused.
func KeepOnError() Law {
	const name = "keep on error"
	return Law{name, "after an error the variable holds what it held", practice, func(c Codec, in Input) error {
		for _, s := range []string{`"1 furlong"`, `"NaN ` + in.A + `"`, `""`, `"1"x`} {
			v, err := c.Unmarshal([]byte(s), in.Value)
			if err == nil || !bits(v, in.Value) {
				return broken(name, c, in, fmt.Sprintf("%.17g after %s, %v", v, s, err), "an error and the old value")
			}
		}
		return nil
	}}
}

// Odd says that the sign of the number is the sign of the value.
func Odd() Law {
	const name = "odd"
	return Law{name, "−x is minus x, where zero is zero", practice, func(c Codec, in Input) error {
		if c.Shifted() {
			return nil
		}
		p, err1 := c.Parse(join(in.Number, in.A))
		m, err2 := c.Parse(join(-in.Number, in.A))
		if err1 != nil || err2 != nil || !bits(m, -p) {
			return broken(name, c, in, fmt.Sprintf("%.17g and %.17g SI, %v, %v", p, m, err1, err2), "opposite values")
		}
		return nil
	}}
}

// Scale says that twice a whole number is twice the value, to the bit: its
// digits double exactly, and correct rounding commutes with doubling. With a
// shifted zero it is the steps that are equal, to the rounding of the values.
func Scale() Law {
	const name = "scale"
	return Law{name, "twice the number is twice the value; with a shifted zero equal steps are equal", practice, func(c Codec, in Input) error {
		whole := math.Trunc(in.Number)
		one, err1 := c.Parse(join(whole, in.A))
		two, err2 := c.Parse(join(2*whole, in.A))
		zero, err3 := c.Parse(join(0, in.A))
		if err1 != nil || err2 != nil || err3 != nil {
			return broken(name, c, in, fmt.Sprintf("%v, %v, %v", err1, err2, err3), "values")
		}
		if !c.Shifted() {
			if two != 2*one || zero != 0 {
				return broken(name, c, in, fmt.Sprintf("%.17g at 0, %.17g, %.17g at twice", zero, one, two), "0 and the double to the bit")
			}
			return nil
		}
		slack := 2 * (ulp(two) + ulp(one) + ulp(zero))
		if d := (two - one) - (one - zero); !(math.Abs(d) <= slack) {
			return broken(name, c, in, fmt.Sprintf("steps that differ by %.3g", d), fmt.Sprintf("equal steps within %.3g", slack))
		}
		return nil
	}}
}

// Monotone says that the larger number is not the smaller value.
func Monotone() Law {
	const name = "monotone"
	return Law{name, "x < y gives v(x) <= v(y)", practice, func(c Codec, in Input) error {
		x, y := min(in.Number, in.Other), max(in.Number, in.Other)
		vx, err1 := c.Parse(join(x, in.A))
		vy, err2 := c.Parse(join(y, in.A))
		if err1 != nil || err2 != nil || !(vx <= vy) {
			return broken(name, c, in, fmt.Sprintf("%.17g and %.17g SI, %v, %v", vx, vy, err1, err2), "values in the order of the numbers")
		}
		return nil
	}}
}

// Back says that a number goes to SI and back to its unit within 2 ulp: one
// rounding each way. A shifted zero adds the step of the value.
func Back() Law {
	const name = "back"
	return Law{name, "a → SI → a within 2 ulp", ieee, func(c Codec, in Input) error {
		v, err := c.Parse(join(in.Number, in.A))
		if err != nil {
			return broken(name, c, in, err.Error(), "a value")
		}
		x, err := c.In(v, in.A)
		slack := 2 * ulp(in.Number)
		if c.Shifted() {
			slack += step(c, v, in.A)
		}
		if err != nil || !(math.Abs(x-in.Number) <= slack) {
			return broken(name, c, in, fmt.Sprintf("%.17g, %v", x, err), fmt.Sprintf("the number within %.3g", slack))
		}
		return nil
	}}
}

// Commute says that a way through a third unit ends where the direct way ends,
// within 2 ulp. A shifted zero adds three steps of the value and two of the number
// between.
func Commute() Law {
	const name = "commute"
	return Law{name, "a → b → c equals a → c within 2 ulp", ieee, func(c Codec, in Input) error {
		v, err1 := c.Parse(join(in.Number, in.A))
		direct, err2 := c.In(v, in.C)
		y, err3 := c.In(v, in.B)
		if err1 != nil || err2 != nil || err3 != nil {
			return broken(name, c, in, fmt.Sprintf("%v, %v, %v", err1, err2, err3), "numbers")
		}
		w, err1 := c.Parse(join(y, in.B))
		round, err2 := c.In(w, in.C)
		slack := 2 * ulp(direct)
		if c.Shifted() {
			next, _ := c.Parse(join(math.Nextafter(y, math.Inf(1)), in.B)) // what an ulp between is worth
			between, _ := c.In(next, in.C)
			slack += 3*step(c, v, in.C) + 2*math.Abs(between-round)
		}
		if err1 != nil || err2 != nil || !(math.Abs(round-direct) <= slack) {
			return broken(name, c, in, fmt.Sprintf("%.17g by %s, %.17g directly, %v, %v", round, in.B, direct, err1, err2), fmt.Sprintf("equal within %.3g", slack))
		}
		return nil
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
