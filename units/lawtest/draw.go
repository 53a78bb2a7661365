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
	t     *rapid.T        // source; nil when numbers are given
	given map[key]float64 // what is not given is the simplest
	trail []choice        // what was drawn
	at    string          // the elements of lists that are being drawn
}

// key names a number that was drawn: among those of one name in one element of a
// list, by how many came before.
type key struct {
	at, name string
	n        int
}

// choice is one number that was drawn.
type choice struct {
	key
	value float64
	form
	list bool // how many elements follow
}

// form is what may be drawn, and how it is written.
type form interface {
	ok(v float64) bool // whether it is in range
	least() float64    // the simplest
	whole() bool       // the nearer to the simplest the simpler
	text(v float64) string
	parse(s string) (float64, error)
}

// take records a choice.
func (d *Draw) take(name string, f form, list bool, draw func(t *rapid.T) float64) float64 {
	c := choice{key: key{d.at, name, 0}, form: f, list: list}
	for _, x := range d.trail {
		if x.at == c.at && x.name == name {
			c.n++
		}
	}
	if v, ok := d.given[c.key]; d.t != nil {
		c.value = draw(d.t)
	} else if ok && f.ok(v) {
		c.value = v
	} else {
		c.value = f.least()
	}
	d.trail = append(d.trail, c)
	return c.value
}

// span is the form of a quantity.
type span[T ~float64] struct {
	lo, hi T
	either bool // of either sign
}

func (s *span[T]) ok(v float64) bool {
	if s.either {
		v = math.Abs(v)
	}
	return v >= float64(s.lo) && v <= float64(s.hi)
}

func (s *span[T]) least() float64 {
	for v := range 2 {
		if s.ok(float64(v)) {
			return float64(v)
		}
	}
	return float64(s.lo)
}

func (s *span[T]) whole() bool           { return false }
func (s *span[T]) text(v float64) string { return fmt.Sprint(T(v)) }

func (s *span[T]) parse(text string) (float64, error) {
	var q T
	if u, ok := any(&q).(encoding.TextUnmarshaler); ok {
		err := u.UnmarshalText([]byte(text))
		return float64(q), err
	}
	return strconv.ParseFloat(strings.TrimSpace(text), 64)
}

// Between draws a number from lo to hi. The name appears where a model is told by
// what it was drawn from.
func Between[T ~float64](d *Draw, name string, lo, hi T) T {
	return T(d.take(name, &span[T]{lo, hi, false}, false, func(t *rapid.T) float64 {
		return rapid.Float64Range(float64(lo), float64(hi)).Draw(t, name)
	}))
}

// Decades draws a number from lo > 0 to hi, even in its logarithm.
func Decades[T ~float64](d *Draw, name string, lo, hi T) T {
	s := &span[T]{lo, hi, false}
	return T(d.take(name, s, false, func(t *rapid.T) float64 { return s.decades(t, name) }))
}

// EitherSign draws a number of a magnitude from lo > 0 to hi, even in its
// logarithm, and of either sign.
func EitherSign[T ~float64](d *Draw, name string, lo, hi T) T {
	s := &span[T]{lo, hi, true}
	return T(d.take(name, s, false, func(t *rapid.T) float64 {
		v := s.decades(t, name)
		if rapid.Bool().Draw(t, name) {
			v = -v
		}
		return v
	}))
}

func (s *span[T]) decades(t *rapid.T, name string) float64 {
	lo, hi := float64(s.lo), float64(s.hi)
	return min(max(math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, name)), lo), hi)
}

// count is the form of a whole number, or of one of several values.
type count struct {
	lo, hi int
	name   func(i int) string
}

func (c *count) ok(v float64) bool               { return v >= float64(c.lo) && v <= float64(c.hi) }
func (c *count) least() float64                  { return float64(min(max(0, c.lo), c.hi)) }
func (c *count) whole() bool                     { return true }
func (c *count) text(v float64) string           { return c.name(int(v)) }
func (c *count) parse(s string) (float64, error) { return strconv.ParseFloat(s, 64) }

func (d *Draw) whole(name string, c *count, list bool) int {
	return int(d.take(name, c, list, func(t *rapid.T) float64 {
		return float64(rapid.IntRange(c.lo, c.hi).Draw(t, name))
	}))
}

// Int draws a whole number from lo to hi; the nearer to 0 it is the simpler.
func (d *Draw) Int(name string, lo, hi int) int {
	return d.whole(name, &count{lo, hi, strconv.Itoa}, false)
}

// List draws from lo to hi elements. What breaks a law is told with as few of them
// as do it.
func List[T any](d *Draw, name string, lo, hi int, element func(i int) T) []T {
	list, at := make([]T, d.whole(name, &count{lo, hi, strconv.Itoa}, true)), d.at
	k := d.trail[len(d.trail)-1].key
	for i := range list {
		d.at = k.element(i)
		list[i] = element(i)
	}
	d.at = at
	return list
}

// element is where the element of a list is drawn.
func (k key) element(i int) string { return fmt.Sprintf("%s%s#%d[%d].", k.at, k.name, k.n, i) }

// Bool draws false or true.
func (d *Draw) Bool(name string) bool { return Pick(d, name, false, true) }

// Pick draws one of several values, the simplest first.
func Pick[T any](d *Draw, name string, of ...T) T {
	return of[d.whole(name, &count{0, len(of) - 1, func(i int) string { return fmt.Sprint(of[i]) }}, false)]
}
