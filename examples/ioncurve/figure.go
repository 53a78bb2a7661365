package main

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/pithball/examples/internal/picture"
)

// line is one of the four lines of a panel.
type line struct {
	name  string
	at    func(p point) float64
	style draw.LineStyle
}

var lines = []line{
	{"with the field of the web", func(p point) float64 { return p.all },
		draw.LineStyle{Color: picture.First, Width: vg.Points(2.4)}},
	{"air stream alone", func(p point) float64 { return p.alone },
		draw.LineStyle{Color: picture.Second, Width: vg.Points(1.6)}},
	{"limit, both polarities", func(p point) float64 { return p.pairs },
		draw.LineStyle{Color: picture.Limit, Width: vg.Points(1), Dashes: []vg.Length{vg.Points(7), vg.Points(3)}}},
	{"limit, one polarity", func(p point) float64 { return p.single },
		draw.LineStyle{Color: picture.Limit, Width: vg.Points(1), Dashes: []vg.Length{vg.Points(1.5), vg.Points(2.5)}}},
}

// panel is the plot of one pressure.
func panel(c curve, legend bool) (*plot.Plot, error) {
	p := plot.New()
	p.Title.Text = fmt.Sprintf("%s (g), jet %.0f m/s, %.0f L/min ANR per m", bar(c.gauge), float64(c.jet),
		float64(c.air)*60000)
	p.X.Label.Text = "distance from the holes, mm"
	picture.Styled(p)
	p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 10, 1000, 0.05, 500
	p.X.Tick.Marker, p.Y.Tick.Marker = picture.Decades{}, picture.Decades{}
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
	}
	return p, nil
}

// save draws the panels beside each other, or below each other, with what they show above and the caution below.
func save(curves []curve, narrow bool, file string) error {
	w, h, cols, rows := 25*vg.Centimeter, 10.5*vg.Centimeter, len(curves), 1
	if narrow {
		w, h, cols, rows = picture.Narrow, 25*vg.Centimeter, 1, len(curves)
	}
	head := []string{"Current to a web of 3 µC/m², µA per metre of width (bar and web invented)"}
	foot := []string{caution}
	if narrow {
		head = []string{"Current to a web of 3 µC/m²,", "µA per metre of width (bar and web invented)"}
		at := strings.Index(caution, ", a corona") + 1
		foot = []string{caution[:at], caution[at+1:]}
	}
	canvas, err := picture.New(file, w, h, head, foot)
	if err != nil {
		return err
	}
	plots := make([][]*plot.Plot, rows)
	for i, c := range curves {
		p, err := panel(c, i == 0)
		if err != nil {
			return err
		}
		plots[i/cols] = append(plots[i/cols], p)
	}
	canvas.Plots(plots)
	return canvas.Save()
}
