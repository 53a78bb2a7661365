package report

import (
	"html"
	"math"
	"strconv"
	"strings"

	"example.org/pithball/internal/numeric"
)

// figure is a drawing in points from the upper left corner, with an area in which data are drawn. It is written by hand
// because the same report is made on a phone, where the fonts that a plotting library measures its texts with are
// larger than everything else.
type figure struct {
	b             strings.Builder
	w, h          float64 // [pt]
	left, right   float64 // [pt] edges of the area
	top, bottom   float64
	x0, x1        float64 // data at the edges
	y0, y1        float64
	step          float64 // between two marks of the upright axis
	legends       int
	title, saying string // for readers who do not see it
}

const (
	inkColour   = "#222222"
	faintColour = "#d9d9d9"
	plumColour  = "#5b2a62" // face A: filled discs, full line
	tealColour  = "#126b77" // face B: open squares, dashed line
	barColour   = "#c9c2d6" // predicted band
	letters     = 28        // most letters of a name under an axis; tables have it whole
	letterWidth = 4.7       // [pt] of a letter of 9 pt, on average
)

// newFigure makes a figure that has room for slanted names under it and spans the data.
func newFigure(w, h float64, names []string, xs, ys [2]float64) *figure {
	f := &figure{w: w, h: h, left: 46, right: w - 8, top: 8, x0: xs[0], x1: xs[1]}
	longest, first := 0, 0
	for i, n := range names {
		k := min(len([]rune(n)), letters)
		longest = max(longest, k)
		if i == 0 {
			first = k
		}
	}
	f.left = max(f.left, letterWidth*float64(first)*math.Cos(slant))
	f.bottom = h - 10 - letterWidth*float64(longest)*math.Sin(slant)
	lo, hi := ys[0], ys[1]
	if !(hi > lo) {
		lo, hi = lo-1, hi+1
	}
	hi += (hi - lo) / 3 // the top quarter belongs to the legend
	f.step = nice((hi - lo) / 6)
	f.y0, f.y1 = math.Floor(lo/f.step)*f.step, hi
	return f
}

// slant of names under an axis.
const slant = math.Pi / 3

// nice is the next of 1, 2, 5, 10 … from x up.
func nice(x float64) float64 {
	p := numeric.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{1, 2, 5} {
		if k*p >= x {
			return k * p
		}
	}
	return 10 * p
}

func (f *figure) x(v float64) float64 { return f.left + (v-f.x0)/(f.x1-f.x0)*(f.right-f.left) }
func (f *figure) y(v float64) float64 { return f.bottom - (v-f.y0)/(f.y1-f.y0)*(f.bottom-f.top) }

// pt writes points to a tenth.
func pt(v float64) string {
	s := strings.TrimSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

// stroke is how a line is drawn.
type stroke struct {
	colour string
	width  float64 // [pt]
	dashes string
}

func (s stroke) attributes() string {
	a := ` fill="none" stroke="` + s.colour + `" stroke-width="` + pt(s.width) + `"`
	if s.dashes != "" {
		a += ` stroke-dasharray="` + s.dashes + `"`
	}
	return a
}

// path draws a line through points on the page.
func (f *figure) path(s stroke, xy ...[2]float64) {
	f.b.WriteString(`<path d="`)
	for i, p := range xy {
		f.b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + pt(p[0]) + " " + pt(p[1]))
	}
	f.b.WriteString(`"` + s.attributes() + "/>\n")
}

// text writes words; more holds attributes such as the anchor.
func (f *figure) text(x, y float64, more, words string) {
	f.b.WriteString(`<text x="` + pt(x) + `" y="` + pt(y) + `"` + more + ">" + html.EscapeString(words) + "</text>\n")
}

// axes draws the grid, its figures, what they are, and the line of zero.
func (f *figure) axes(what string) {
	for i := 0; i < 12; i++ {
		v := f.y0 + float64(i)*f.step
		if v > f.y1 {
			break
		}
		y := f.y(v)
		f.path(stroke{faintColour, 0.5, ""}, [2]float64{f.left, y}, [2]float64{f.right, y})
		f.text(f.left-4, y+3, ` text-anchor="end"`, f.mark(v))
	}
	if f.y0 <= 0 && f.y1 >= 0 {
		f.path(stroke{inkColour, 0.7, ""}, [2]float64{f.left, f.y(0)}, [2]float64{f.right, f.y(0)})
	}
	f.path(stroke{inkColour, 0.5, ""}, [2]float64{f.left, f.top}, [2]float64{f.left, f.bottom},
		[2]float64{f.right, f.bottom})
	x, y := 10.0, (f.top+f.bottom)/2
	f.text(x, y, ` text-anchor="middle" transform="rotate(-90 `+pt(x)+" "+pt(y)+`)"`, what)
}

// mark writes the figure at a line of the grid, with a true minus sign.
func (f *figure) mark(v float64) string {
	if math.Abs(v) < f.step/2 {
		return "0"
	}
	format, digits := byte('f'), max(0, -int(math.Floor(math.Log10(f.step)+1e-9)))
	if digits > 6 || math.Abs(v) >= 1e7 {
		format, digits = 'g', 3
	}
	return strings.Replace(strconv.FormatFloat(v, format, digits, 64), "-", "−", 1)
}

// name writes a slanted name that ends under x.
func (f *figure) name(x float64, s string) {
	if r := []rune(s); len(r) > letters {
		s = string(r[:letters-1]) + "…"
	}
	at := pt(x) + " " + pt(f.bottom+9)
	f.text(x, f.bottom+9, ` text-anchor="end" transform="rotate(-60 `+at+`)"`, s)
}

// disc, square and cross mark one value.
func (f *figure) disc(colour string, x, y float64) {
	f.b.WriteString(`<circle cx="` + pt(x) + `" cy="` + pt(y) + `" r="3" fill="` + colour + "\"/>\n")
}

func (f *figure) square(colour string, x, y float64) {
	f.b.WriteString(`<rect x="` + pt(x-2.6) + `" y="` + pt(y-2.6) + `" width="5.2" height="5.2" fill="#ffffff" stroke="` +
		colour + "\"/>\n")
}

func (f *figure) cross(x, y float64) {
	s := stroke{inkColour, 0.9, ""}
	f.path(s, [2]float64{x - 2.4, y - 2.4}, [2]float64{x + 2.4, y + 2.4})
	f.path(s, [2]float64{x - 2.4, y + 2.4}, [2]float64{x + 2.4, y - 2.4})
}

// box fills a rectangle between two corners in the colour of a predicted band.
func (f *figure) box(xa, ya, xb, yb float64) { f.filled(barColour, xa, ya, xb, yb) }

// filled fills a rectangle between two corners.
func (f *figure) filled(colour string, xa, ya, xb, yb float64) {
	f.b.WriteString(`<rect x="` + pt(min(xa, xb)) + `" y="` + pt(min(ya, yb)) + `" width="` + pt(math.Abs(xb-xa)) +
		`" height="` + pt(math.Abs(yb-ya)) + `" fill="` + colour + "\"/>\n")
}

// legend writes words and gives the place of the sample before them: from x to x+22, around y.
func (f *figure) legend(words string) (x, y float64) {
	y = f.top + 7 + 12*float64(f.legends)
	f.legends++
	f.text(f.left+34, y+3, "", words)
	return f.left + 7, y
}

// String is the figure as an SVG element with a title and a text for readers who do not see it.
func (f *figure) String() string {
	size := ` width="` + pt(f.w) + `pt" height="` + pt(f.h) + `pt" viewBox="0 0 ` + pt(f.w) + " " + pt(f.h) + `"`
	return `<svg role="img" xmlns="http://www.w3.org/2000/svg"` + size +
		` font-family="Liberation Sans, Arial, Helvetica, sans-serif" font-size="9" fill="` + inkColour + `"><title>` +
		html.EscapeString(f.title) + "</title><desc>" + html.EscapeString(f.saying) + "</desc>\n" +
		`<rect width="` + pt(f.w) + `" height="` + pt(f.h) + "\" fill=\"#ffffff\"/>\n" + f.b.String() + "</svg>"
}
