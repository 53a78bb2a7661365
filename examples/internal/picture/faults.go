package picture

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

var (
	box    = regexp.MustCompile(`viewBox="0 0 ([0-9.]+) ([0-9.]+)"`)
	placed = regexp.MustCompile(`<text x="([-0-9.]+)"[^>]*?(rotate\()?[^>]*?textLength="([0-9.]+)"[^>]*?` +
		`font-size:([0-9.]+)px[^>]*>([^<]*)`)
)

// Faults tells which words of an SVG cannot be read on a page of a width in px: smaller than 11 px there, or out of the
// picture to a side.
func Faults(svg []byte, page float64) []string {
	number := func(b []byte) float64 {
		x, err := strconv.ParseFloat(string(b), 64)
		if err != nil {
			return -1
		}
		return x
	}
	m := box.FindSubmatch(svg)
	if m == nil {
		return []string{"no box"}
	}
	var out []string
	width := number(m[1])
	list := placed.FindAllSubmatch(svg, -1)
	if n := strings.Count(string(svg), "<text "); n != len(list) || n == 0 {
		out = append(out, fmt.Sprintf("%d of %d texts keep their width", len(list), n))
	}
	for _, t := range list {
		x, size, words := number(t[1]), number(t[4])*page/width, string(t[5])
		if size < 11 {
			out = append(out, fmt.Sprintf("%q: %.1f px", words, size))
		}
		if len(t[2]) == 0 && (x < 0 || x+number(t[3]) > width) {
			out = append(out, fmt.Sprintf("%q: from %.0f to %.0f of %.0f", words, x, x+number(t[3]), width))
		}
	}
	return out
}
