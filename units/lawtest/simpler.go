package lawtest

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// simpler lists what a reader would rather see, the simplest first: all that was
// drawn with another number for c.
func (c *choice) simpler(trail []choice) []map[key]float64 {
	out := c.shorter(trail)
	for _, v := range c.rounder() {
		given := make(map[key]float64, len(trail))
		for _, x := range trail {
			given[x.key] = x.value
		}
		given[c.key] = v
		out = append(out, given)
	}
	return out
}

// shorter leaves out one element of a list after the other.
func (c *choice) shorter(trail []choice) []map[key]float64 {
	var out []map[key]float64
	for gone := range int(c.value) {
		if !c.list || !c.ok(c.value-1) {
			break
		}
		given := map[key]float64{}
	next:
		for _, x := range trail {
			k := x.key
			for i := gone; i < int(c.value); i++ {
				if rest, found := strings.CutPrefix(k.at, c.element(i)); found {
					if i == gone {
						continue next
					}
					k.at = c.element(i-1) + rest
					break
				}
			}
			given[k] = x.value
		}
		given[c.key] = c.value - 1
		out = append(out, given)
	}
	return out
}

// rounder lists rounder numbers than the one drawn: 0, 1, fewer digits in the
// printed unit, the other sign.
func (c *choice) rounder() []float64 {
	var out []float64
	add := func(v float64) {
		if c.ok(v) && c.rank(v) < c.rank(c.value) {
			out = append(out, v)
		}
	}
	if c.whole() {
		away := c.value - c.least()
		for f := away; math.Abs(f) > 2; f = math.Trunc(f / 2) {
			add(c.value - f) // the simplest, half way, …
		}
		for _, f := range []float64{2, 1} {
			add(c.value - math.Copysign(f, away))
		}
		add(-c.value)
		return out
	}
	x, unit := c.printed(c.value)
	put := func(x float64) {
		if v, err := c.parse(strconv.FormatFloat(x, 'g', -1, 64) + unit); err == nil {
			add(v)
		}
	}
	put(0)
	add(1)
	add(c.least())
	for k := 0; k > -15 && !c.ok(1); k-- {
		if v := math.Pow(10, float64(k)); c.ok(v) {
			add(v)
			break
		}
	}
	put(-x)
	ten := math.Floor(math.Log10(math.Abs(x)))
	for _, m := range []float64{1, 10, 2, 3, 4, 5, 6, 7, 8, 9} {
		y, _ := strconv.ParseFloat(fmt.Sprintf("%ge%g", m, ten), 64)
		put(y)
		put(math.Copysign(y, x))
	}
	for n := 1; n < digits(x); n++ {
		near, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', n, 64), 64)
		if err != nil || near == x {
			break
		}
		step := math.Copysign(math.Pow(10, ten-float64(n)), x-near)
		for _, y := range []float64{near, near + step} {
			y, _ = strconv.ParseFloat(strconv.FormatFloat(y, 'e', n+1, 64), 64)
			put(-y)
			put(y)
		}
	}
	return out
}

// rank orders numbers by how simple they look: 0, 1, fewer digits, no power of ten
// beside the unit, a lower first digit, no minus.
func (c *choice) rank(v float64) int {
	if c.whole() {
		r := 2 * int(math.Abs(v-c.least()))
		if v < 0 {
			r++
		}
		return r
	}
	x, _ := c.printed(v)
	switch {
	case x == 0:
		return 0
	case v == 1:
		return 1
	}
	r := 20*digits(x) + 2*int(strconv.FormatFloat(math.Abs(x), 'e', -1, 64)[0]-'0')
	if x < 0 {
		r++
	}
	if x = math.Abs(x); x < 1e-3 || x >= 1e6 {
		r += 10 // no prefix fits
	}
	return r
}

// printed returns the number and the unit as they are printed.
func (c *choice) printed(v float64) (float64, string) {
	s, unit, found := strings.Cut(c.text(v), " ")
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return v, ""
	}
	if found {
		unit = " " + unit
	}
	return x, unit
}

// digits counts the significant digits of the shortest decimal.
func digits(x float64) int {
	m, _, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', -1, 64), "e")
	return len(strings.ReplaceAll(m, ".", ""))
}
