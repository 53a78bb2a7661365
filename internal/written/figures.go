package written

import (
	"fmt"
	"math"
	"strings"

	"example.org/pithball/internal/numeric"
)

// Figure writes x with n significant figures, a true minus sign and no exponent.
func Figure(x float64, n int) string { return figure(x, 0, n) }

// Short is Figure without the zeros that end it behind the point: 110 m/min where the user wrote 110.
func Short(x float64, n int) string {
	s := Figure(x, n)
	if strings.Contains(s, ".") {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Round rounds x to n significant figures.
func Round(x float64, n int) float64 { // [the unit of x]
	p := place(x, n)
	if p == 0 {
		return x
	}
	return math.Round(x/p) * p
}

// Band writes what lies between low and high with its middle, so that no digit claims more than the band supports:
// the last one of each is no finer than the second of half the width of the band (a doubt is told with two digits at
// most, JCGM 100:2008, 7.2.6), and none has more than two significant figures. A middle of less than a hundredth of
// the width is 0.
func Band(low, middle, high float64) (l, m, h string) { return BandTo(0, low, middle, high) }

// BandTo is Band with no digit below that of the instrument.
func BandTo(digit, low, middle, high float64) (l, m, h string) {
	if math.Abs(middle) < 0.01*(high-low) {
		middle = 0
	}
	last := max(digit, place((high-low)/2, 2))
	return figure(low, last, 2), figure(middle, last, 2), figure(high, last, 2)
}

// Within writes "x ± error", x to the second digit of its error, and to three figures without one.
func Within(x, error float64) string {
	last := place(error, 2)
	if last == 0 {
		last = place(x, 3)
	}
	return figure(x, last, 17) + " ± " + figure(error, 0, 2)
}

// Plus writes the sign of a positive figure too.
func Plus(figure string) string {
	if figure == "0" || strings.HasPrefix(figure, "−") || strings.HasPrefix(figure, "–") {
		return figure
	}
	return "+" + figure
}

// Down rounds a positive x down to two significant figures: what may be at most x keeps to it.
func Down(x float64) float64 {
	p := place(x, 2)
	if p == 0 {
		return x
	}
	n := math.Floor(x/p + 1e-9) // 0.29 is 29 times 0.01, and not 28.999999999999996 times
	if p < 1 {
		return n / math.Round(1/p)
	}
	return n * p
}

// Hourly reports whether a shop counts what goes at a described rate by the hour, from 6000 on, and not by the minute.
func Hourly(described float64) bool { return described*3600 >= 6000 } // [1/s]

// Rate rounds a rate that may not be exceeded down to two figures of what goes an hour, or a minute.
func Rate(f, described float64) float64 { // [1/s]
	per := 60.0
	if Hourly(described) {
		per = 3600
	}
	return Down(f*per) / per
}

// place is the value of the last of n significant figures of x; 0 of 0 and of what has none.
func place(x float64, n int) float64 {
	x = math.Abs(x)
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return numeric.Pow(10, float64(exponent(x)-n+1))
}

// exponent is that of the first digit.
func exponent(x float64) int { return int(math.Floor(math.Log10(x) + 1e-12)) }

// figure writes x with n significant figures at most and none below the place last; "–" is no number.
func figure(x, last float64, n int) string {
	if math.IsNaN(x) {
		return "–"
	}
	p := max(last, place(x, n))
	if p > 0 && !math.IsInf(x, 0) {
		x = math.Round(x/p) * p
		p = max(p, place(x, n)) // rounding can carry into the next decade: 9.96 is 10, and not 10.0
		x = math.Round(x/p) * p
	}
	decimals := 0
	if p > 0 && p < 1 {
		decimals = -exponent(p)
	}
	s := fmt.Sprintf("%.*f", decimals, x)
	if strings.Trim(s, "-0.") == "" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}
