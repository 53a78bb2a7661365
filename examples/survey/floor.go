package main

import (
	"regexp"
	"strconv"
	"strings"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line/cure"
)

var (
	longNumber = regexp.MustCompile(`"(-?\d+\.\d{7,}) ([^"]+)"`)
	bodyNumber = regexp.MustCompile(`"(limit|charge|value|spread)": ([-+.\deE]+)`)
	lineSpeed  = regexp.MustCompile(`"(speed|wish)": "(\S+) m/s"`)
)

// floorWords writes the quantities of a description as a floor does: no digits that only the
// machine has (899.9999999999999 mm), lines in metres a minute, charges in µC/m², displays in kV.
func floorWords(text string) string {
	text = lineSpeed.ReplaceAllStringFunc(text, func(s string) string {
		m := lineSpeed.FindStringSubmatch(s)
		v, err := strconv.ParseFloat(m[2], 64)
		if err != nil {
			return s
		}
		return `"` + m[1] + `": "` + nine(60*v) + ` m/min"`
	})
	text = longNumber.ReplaceAllStringFunc(text, func(s string) string {
		m := longNumber.FindStringSubmatch(s)
		v, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return s
		}
		return `"` + nine(v) + " " + m[2] + `"`
	})
	return strings.NewReplacer(`"0 C/m²"`, `"0 µC/m²"`, `V(display)"`, `V"`).Replace(text)
}

// ofBody writes the charges of a starter's stops with the unit of the floor.
func ofBody(text string, g *cure.Goods) string {
	unit, scale := report.ShopUnit(g.Kind)
	return bodyNumber.ReplaceAllStringFunc(text, func(s string) string {
		m := bodyNumber.FindStringSubmatch(s)
		v, err := strconv.ParseFloat(m[2], 64)
		if err != nil || v == 0 || v >= 1e-3 { // shares are greater, charges smaller
			return s
		}
		return `"` + m[1] + `": "` + nine(scale*v) + " " + unit + `"`
	})
}

// nine writes nine significant figures without an exponent.
func nine(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 9, 64), 64)
	if err != nil {
		r = v // rounded up beyond all numbers
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
