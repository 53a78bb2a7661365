package lawtest

import (
	"encoding"
	"fmt"
	"math"
	"strconv"
	"strings"

	"pgregory.net/rapid"
)

// Draw is where the numbers that make an input or a model come from. A function
// that takes one must be determined by what it draws, and may draw different
// numbers for different earlier ones.
type Draw struct {
	t     *rapid.T           // source; nil when numbers are given
	given map[string]float64 // by name and how often it came before
	trail []choice           // what was drawn
	seen  map[string]int
}

// choice is one number that was drawn.
type choice struct {
	name  string
	key   string // name and number
	value float64
	ok    func(v float64) bool   // whether v is in range
	text  func(v float64) string // with the unit
	parse func(s string) (float64, error)
	least float64 // the simplest
	whole bool    // a whole number: the nearer to the simplest the simpler
}

// take records a choice: drawn, or what is given if it is in range, or the
// simplest, which is 0, 1 or lo.
func (d *Draw) take(c choice, lo float64, draw func(t *rapid.T) float64) float64 {
	if d.seen == nil {
		d.seen = map[string]int{}
	}
	d.seen[c.name]++
	c.key = c.name + "#" + strconv.Itoa(d.seen[c.name])
	switch {
	case c.ok(0):
	case c.ok(1) && !c.whole:
		c.least = 1
	default:
		c.least = lo
	}
	if v, ok := d.given[c.key]; d.t != nil {
		c.value = draw(d.t)
	} else if ok && c.ok(v) {
		c.value = v
	} else {
		c.value = c.least
	}
	d.trail = append(d.trail, c)
	return c.value
}

func number[T ~float64](d *Draw, name string, lo T, ok func(v float64) bool, draw func(t *rapid.T) float64) T {
	c := choice{name: name, ok: ok, text: func(v float64) string { return fmt.Sprint(T(v)) }}
	c.parse = func(s string) (float64, error) {
		var q T
		if u, ok := any(&q).(encoding.TextUnmarshaler); ok {
			err := u.UnmarshalText([]byte(s))
			return float64(q), err
		}
		return strconv.ParseFloat(strings.TrimSpace(s), 64)
	}
	return T(d.take(c, float64(lo), draw))
}

// Between draws a number from lo to hi. The name appears where a model is told by
// what it was drawn from.
func Between[T ~float64](d *Draw, name string, lo, hi T) T {
	return number(d, name, lo, within(lo, hi), func(t *rapid.T) float64 {
		return rapid.Float64Range(float64(lo), float64(hi)).Draw(t, name)
	})
}

// Decades draws a number from lo > 0 to hi, even in its logarithm.
func Decades[T ~float64](d *Draw, name string, lo, hi T) T {
	return number(d, name, lo, within(lo, hi), func(t *rapid.T) float64 { return decades(t, name, lo, hi) })
}

// EitherSign draws a number of a magnitude from lo > 0 to hi, even in its
// logarithm, and of either sign.
func EitherSign[T ~float64](d *Draw, name string, lo, hi T) T {
	in := within(lo, hi)
	return number(d, name, lo, func(v float64) bool { return in(math.Abs(v)) }, func(t *rapid.T) float64 {
		if v := decades(t, name, lo, hi); !rapid.Bool().Draw(t, name) {
			return v
		} else {
			return -v
		}
	})
}

func within[T ~float64](lo, hi T) func(v float64) bool {
	return func(v float64) bool { return v >= float64(lo) && v <= float64(hi) }
}

func decades[T ~float64](t *rapid.T, name string, lo, hi T) float64 {
	x := math.Exp(rapid.Float64Range(math.Log(float64(lo)), math.Log(float64(hi))).Draw(t, name))
	return min(max(x, float64(lo)), float64(hi))
}

// Int draws a whole number from lo to hi; near 0, or else near lo, it is simple.
func (d *Draw) Int(name string, lo, hi int) int {
	return d.whole(name, lo, hi, strconv.Itoa)
}

func (d *Draw) whole(name string, lo, hi int, text func(i int) string) int {
	c := choice{name: name, ok: within(float64(lo), float64(hi)), whole: true}
	c.text = func(v float64) string { return text(int(v)) }
	return int(d.take(c, float64(lo), func(t *rapid.T) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name)) }))
}

// Bool draws false or true.
func (d *Draw) Bool(name string) bool { return Pick(d, name, false, true) }

// Pick draws one of several values, the simplest first.
func Pick[T any](d *Draw, name string, of ...T) T {
	return of[d.whole(name, 0, len(of)-1, func(i int) string { return fmt.Sprint(of[i]) })]
}

// simpler lists numbers that a reader would rather see than the one drawn, the
// simplest first: 0, 1, fewer digits in the printed unit, the other sign.
func (c *choice) simpler() []float64 {
	var out []float64
	add := func(v float64) {
		if c.ok(v) && c.rank(v) < c.rank(c.value) {
			out = append(out, v)
		}
	}
	if c.whole {
		away := c.value - c.least
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
	put(1)
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

// rank orders numbers by how simple they look: 0, 1, fewer digits, a lower first
// digit, no minus.
func (c *choice) rank(v float64) int {
	if c.whole {
		r := 2 * int(math.Abs(v-c.least))
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
