// Package picture is the common style of the pictures that the examples draw: one type face, colours that differ in
// brightness too, axes of whole decades, words above and the caution below. A picture that stands on a narrow page, as
// that of a phone, is at most [Narrow] wide: then its smallest words keep 11 px there.
package picture

import (
	"bytes"
	"fmt"
	"html"
	"image/color"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/pithball/examples/outfile"
)

// Narrow is the width of a picture for a narrow page.
const Narrow = 9.5 * vg.Centimeter

// The colours of the first, the second and further lines.
var (
	First  = color.RGBA{0x12, 0x6b, 0x77, 0xff}
	Second = color.RGBA{0xb3, 0x52, 0x09, 0xff}
	Limit  = color.Gray{0x44}
)

// Face is the type face of all words, of a size in points; 8.5, which is 11 px, is the least.
func Face(size float64) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Points(max(size, 8.5))}
}

// Styled gives a plot the faces and the grid.
func Styled(p *plot.Plot) {
	p.Title.TextStyle.Font, p.X.Label.TextStyle.Font, p.Y.Label.TextStyle.Font = Face(9), Face(9), Face(9)
	p.X.Tick.Label.Font, p.Y.Tick.Label.Font, p.Legend.TextStyle.Font = Face(9), Face(9), Face(8.5)
	p.Title.Padding = vg.Points(4)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = color.Gray{0xdd}, color.Gray{0xdd}
	p.Add(grid)
	p.Legend.Top, p.Legend.Padding, p.Legend.ThumbnailWidth = true, vg.Points(1), vg.Points(22)
	p.Legend.XOffs = -vg.Points(4)
}

// Canvas is a picture that is being drawn.
type Canvas struct {
	file string
	to   vg.CanvasWriterTo
	draw.Canvas
	inner draw.Canvas
}

const leading = vg.Length(14)

// New begins a picture with words above and below; the ending of the file's name says which kind it is.
func New(file string, width, height vg.Length, head, foot []string) (*Canvas, error) {
	kind := strings.TrimPrefix(filepath.Ext(file), ".")
	if kind != "png" && kind != "svg" {
		return nil, fmt.Errorf("%s: want a name that ends in .png or .svg", file)
	}
	to, err := draw.NewFormattedCanvas(width, height, kind)
	if err != nil {
		return nil, err
	}
	c := &Canvas{file: file, to: to, Canvas: draw.New(to)}
	c.SetColor(color.White)
	c.Fill(c.Rectangle.Path())
	c.write(head, height-leading, 11)
	c.write(foot, leading*vg.Length(len(foot))-leading/3, 8.5)
	c.inner = draw.Crop(c.Canvas, vg.Points(8), -vg.Points(6), leading*(vg.Length(len(foot))+0.5),
		-leading*(vg.Length(len(head))+0.8))
	return c, nil
}

func (c *Canvas) write(words []string, y vg.Length, size float64) {
	style := text.Style{Color: color.Black, Font: Face(size), XAlign: text.XCenter, YAlign: text.YCenter,
		Handler: plot.DefaultTextHandler}
	for i, s := range words {
		c.FillText(style, vg.Point{X: (c.Min.X + c.Max.X) / 2, Y: y - vg.Length(i)*leading}, s)
	}
}

// Plots draws plots between the words, in rows and columns.
func (c *Canvas) Plots(plots [][]*plot.Plot) {
	tiles := draw.Tiles{Rows: len(plots), Cols: len(plots[0]), PadX: vg.Points(8), PadY: vg.Points(8)}
	for r, row := range plot.Align(plots, tiles, c.inner) {
		for k := range row {
			plots[r][k].Draw(row[k])
		}
	}
}

// Save writes the whole picture or nothing, as package outfile does.
func (c *Canvas) Save() error {
	var b bytes.Buffer
	if _, err := c.to.WriteTo(&b); err != nil {
		return err
	}
	out := b.Bytes()
	if strings.HasSuffix(c.file, ".svg") {
		out = fitted(out)
	}
	_, err := outfile.Write(c.file, out)
	return err
}

// words is a text of an SVG with its size.
var words = regexp.MustCompile(`(<text [^>]*?)(style="font-family:)([^;"]*)([^"]*font-size:([0-9.]+)px[^"]*">)([^<]*)`)

// fitted gives each text of an SVG the width that it was laid out for, whatever face the reader's machine has: a wider
// one ran over the lines of the legend and out of the picture.
func fitted(svg []byte) []byte {
	return words.ReplaceAllFunc(svg, func(b []byte) []byte {
		m := words.FindSubmatch(b)
		size, err := strconv.ParseFloat(string(m[5]), 64)
		if err != nil {
			return b
		}
		w, _, _ := plot.DefaultTextHandler.Box(html.UnescapeString(string(m[6])), Face(size))
		return fmt.Appendf(nil, `%stextLength="%.2f" lengthAdjust="spacingAndGlyphs" %s%s,Arimo,Arial,Helvetica,sans-serif%s%s`,
			m[1], w.Points(), m[2], m[3], m[4], m[6])
	})
}

// Decades labels the powers of ten of a logarithmic axis, with marks between.
type Decades struct{}

// Ticks returns the marks between lo and hi.
func (Decades) Ticks(lo, hi float64) []plot.Tick {
	var ticks []plot.Tick
	for e := math.Floor(math.Log10(lo)); e <= math.Ceil(math.Log10(hi)); e++ {
		for m := 1.0; m < 10; m++ {
			v, err := strconv.ParseFloat(fmt.Sprintf("%.0fe%.0f", m, e), 64) // exact, unlike m·10^e
			if err != nil || v < lo*(1-1e-9) || v > hi*(1+1e-9) {
				continue
			}
			t := plot.Tick{Value: v}
			if m == 1 {
				t.Label = strconv.FormatFloat(v, 'f', -1, 64)
			}
			ticks = append(ticks, t)
		}
	}
	return ticks
}
