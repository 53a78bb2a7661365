package main

import (
	"fmt"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// line is one of the four lines of a panel.
type line struct {
	name  string
	at    func(p point) float64
	style draw.LineStyle
}

var lines = []line{
	{"with the field of the web", func(p point) float64 { return p.all },
		draw.LineStyle{Color: color.RGBA{0x12, 0x6b, 0x77, 0xff}, Width: vg.Points(2.4)}},
	{"air stream alone", func(p point) float64 { return p.alone },
		draw.LineStyle{Color: color.RGBA{0xb3, 0x52, 0x09, 0xff}, Width: vg.Points(1.6)}},
	{"limit, both polarities", func(p point) float64 { return p.pairs },
		draw.LineStyle{Color: color.Gray{0x44}, Width: vg.Points(1), Dashes: []vg.Length{vg.Points(7), vg.Points(3)}}},
	{"limit, one polarity", func(p point) float64 { return p.single },
		draw.LineStyle{Color: color.Gray{0x44}, Width: vg.Points(1), Dashes: []vg.Length{vg.Points(1.5), vg.Points(2.5)}}},
}

func face(size float64) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Points(size)}
}

// panel is the plot of one pressure.
func panel(c curve, legend bool) (*plot.Plot, error) {
	p := plot.New()
	p.Title.Text = fmt.Sprintf("%s (g), jet %.0f m/s, %.0f L/min ANR per m", bar(c.gauge), float64(c.jet),
		float64(c.air)*60000)
	p.X.Label.Text = "distance from the holes, mm"
	p.Title.TextStyle.Font, p.X.Label.TextStyle.Font = face(9), face(9)
	p.X.Tick.Label.Font, p.Y.Tick.Label.Font, p.Legend.TextStyle.Font = face(9), face(9), face(8)
	p.Title.Padding = vg.Points(4)
	p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 10, 1000, 0.05, 500
	p.X.Tick.Marker, p.Y.Tick.Marker = decades{}, decades{}
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = color.Gray{0xdd}, color.Gray{0xdd}
	p.Add(grid)
	for _, one := range lines { // the thin one over the thick one, where they are equal
		var pts plotter.XYs
		for _, q := range c.points {
			pts = append(pts, plotter.XY{X: q.mm, Y: one.at(q)})
		}
		l, err := plotter.NewLine(pts)
		if err != nil {
			return nil, err
		}
		l.LineStyle = one.style
		p.Add(l)
	}
	if legend {
		for _, l := range lines {
			p.Legend.Add(l.name, &plotter.Line{LineStyle: l.style})
		}
		p.Legend.Top, p.Legend.Padding, p.Legend.ThumbnailWidth = true, vg.Points(1), vg.Points(22)
		p.Legend.XOffs = -vg.Points(4)
	}
	return p, nil
}

// save draws the panels beside each other, or below each other, with what they show above and the caution below.
func save(curves []curve, narrow bool, file string) error {
	w, h, cols, rows := 25*vg.Centimeter, 10.5*vg.Centimeter, len(curves), 1
	if narrow {
		w, h, cols, rows = 9.5*vg.Centimeter, 25*vg.Centimeter, 1, len(curves)
	}
	canvas, err := draw.NewFormattedCanvas(w, h, strings.TrimPrefix(filepath.Ext(file), "."))
	if err != nil {
		return err
	}
	dc := draw.New(canvas)
	dc.SetColor(color.White)
	dc.Fill(dc.Rectangle.Path())
	head := []string{"Current to a web of 3 µC/m², µA per metre of width (bar and web invented)"}
	foot := []string{caution}
	if narrow {
		head = []string{"Current to a web of 3 µC/m²,", "µA per metre of width (bar and web invented)"}
		at := strings.Index(caution, ", a corona") + 1
		foot = []string{caution[:at], caution[at+1:]}
	}
	const leading = vg.Length(14)
	write := func(words []string, y vg.Length, size float64) {
		style := text.Style{Color: color.Black, Font: face(size), XAlign: text.XCenter, YAlign: text.YCenter,
			Handler: plot.DefaultTextHandler}
		for i, s := range words {
			dc.FillText(style, vg.Point{X: w / 2, Y: y - vg.Length(i)*leading}, s)
		}
	}
	write(head, h-leading, 11)
	write(foot, leading*vg.Length(len(foot))-leading/3, 8.5)
	inner := draw.Crop(dc, vg.Points(8), -vg.Points(6), leading*(vg.Length(len(foot))+0.5),
		-leading*(vg.Length(len(head))+0.8))
	plots := make([][]*plot.Plot, rows)
	for i, c := range curves {
		p, err := panel(c, i == 0)
		if err != nil {
			return err
		}
		plots[i/cols] = append(plots[i/cols], p)
	}
	tiles := draw.Tiles{Rows: rows, Cols: cols, PadX: vg.Points(8), PadY: vg.Points(8)}
	for r, row := range plot.Align(plots, tiles, inner) {
		for c := range row {
			plots[r][c].Draw(row[c])
		}
	}
	f, err := os.Create(file)
	if err != nil {
		return err
	}
	if _, err = canvas.WriteTo(f); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// decades labels the powers of ten of a logarithmic axis, with marks between.
type decades struct{}

// Ticks returns the marks between lo and hi.
func (decades) Ticks(lo, hi float64) []plot.Tick {
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
