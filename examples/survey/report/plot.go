//go:build !slim

package report

import (
	"bytes"
	"errors"
	"html"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

var (
	ink   = color.Gray{0x22}
	faint = color.Gray{0xd9}
	plum  = color.RGBA{0x5b, 0x2a, 0x62, 0xff} // face A: filled discs, full line
	teal  = color.RGBA{0x12, 0x6b, 0x77, 0xff} // face B: open squares, dashed line
	bar   = color.RGBA{0xc9, 0xc2, 0xd6, 0xff} // predicted band
)

// newPlot makes an empty plot with a name at each whole x.
func newPlot(y string, names []string) *plot.Plot {
	p := plot.New()
	face := font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Points(9)}
	p.Y.Label.Text = y
	p.Y.Label.TextStyle.Font = face
	p.Y.Tick.Label.Font, p.X.Tick.Label.Font, p.Legend.TextStyle.Font = face, face, face
	p.X.Tick.Label.Rotation = math.Pi / 3
	p.X.Tick.Label.XAlign, p.X.Tick.Label.YAlign = draw.XRight, draw.YTop
	ticks := make([]plot.Tick, len(names))
	for i, n := range names {
		ticks[i] = plot.Tick{Value: float64(i), Label: n + "  "} // the blanks keep the slanted name clear of the axis
	}
	p.X.Tick.Marker = plot.ConstantTicks(ticks)
	p.X.Min, p.X.Max = -0.6, float64(len(names))-0.4
	p.Y.Tick.Marker = minus{}
	p.Legend.Top, p.Legend.Left, p.Legend.Padding = true, true, vg.Points(2)
	g := plotter.NewGrid()
	g.Vertical.Width = 0
	g.Horizontal.Color = faint
	p.Add(g, plotter.NewFunction(func(float64) float64 { return 0 }))
	return p
}

// headroom leaves the top quarter of the plot to the legend.
func headroom(p *plot.Plot) {
	p.Y.Max += (p.Y.Max - p.Y.Min) / 3
}

// minus labels ticks with a true minus sign.
type minus struct{}

func (minus) Ticks(lo, hi float64) []plot.Tick {
	t := plot.DefaultTicks{}.Ticks(lo, hi)
	for i := range t {
		if len(t[i].Label) > 0 && t[i].Label[0] == '-' {
			t[i].Label = "−" + t[i].Label[1:]
		}
	}
	return t
}

// svg writes the plot as an inline SVG with a title and a text for readers that
// do not see it.
func svg(p *plot.Plot, w, h vg.Length, title, desc string) ([]byte, error) {
	c := vgsvg.NewWith(vgsvg.UseWH(w, h))
	p.Draw(draw.New(c))
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return nil, err
	}
	_, doc, ok := bytes.Cut(b.Bytes(), []byte("<svg "))
	attrs, body, ok2 := bytes.Cut(doc, []byte(">"))
	if !ok || !ok2 {
		return nil, errors.New("the plot gave no SVG")
	}
	var out bytes.Buffer
	out.WriteString(`<svg role="img" `)
	out.Write(attrs)
	out.WriteString("><title>" + html.EscapeString(title) + "</title><desc>" + html.EscapeString(desc) + "</desc>")
	out.Write(body)
	return out.Bytes(), nil
}

// series is one charge along the path with its band.
type series struct {
	plotter.XYs
	plotter.YErrors
}

// chargePlot draws the charge of each face along the path.
func (r *Report) chargePlot() ([]byte, error) {
	names := make([]string, len(r.rows))
	span := max(float64(r.rows[len(r.rows)-1].At-r.rows[0].At), 1e-3) // m
	var a, b series
	var net plotter.XYs
	for i, s := range r.rows {
		names[i] = s.Name
		for _, f := range []struct {
			dst   *series
			e     survey.Estimate
			shift float64
		}{{&a, s.State.A, -span / 400}, {&b, s.State.B, span / 400}} {
			lo, mid, hi := f.e.Band()
			f.dst.XYs = append(f.dst.XYs, plotter.XY{X: float64(s.At) + f.shift, Y: mid * 1e6})
			f.dst.YErrors = append(f.dst.YErrors, struct{ Low, High float64 }{(mid - lo) * 1e6, (hi - mid) * 1e6})
		}
		net = append(net, plotter.XY{X: float64(s.At), Y: s.State.Net.Value * 1e6})
	}
	p := newPlot("charge, µC/m²", names)
	along := newLabels(r.rows, span)
	p.X.Min, p.X.Max, p.X.Tick.Marker = along.min, along.max, along
	for _, f := range []struct {
		s      *series
		c      color.Color
		glyph  draw.GlyphDrawer
		dashes []vg.Length
		name   string
	}{{&a, plum, draw.CircleGlyph{}, nil, "face A (discs, full line)"},
		{&b, teal, draw.BoxGlyph{}, []vg.Length{vg.Points(5), vg.Points(3)}, "face B (squares, dashed)"}} {
		l, pts, err := plotter.NewLinePoints(f.s.XYs)
		if err != nil {
			return nil, err
		}
		e, err := plotter.NewYErrorBars(f.s)
		if err != nil {
			return nil, err
		}
		l.Color, l.Dashes, l.Width = f.c, f.dashes, vg.Points(1.3)
		pts.Color, pts.Shape, pts.Radius = f.c, f.glyph, vg.Points(3)
		e.Color, e.CapWidth = f.c, vg.Points(4)
		p.Add(e, l, pts)
		p.Legend.Add(f.name, l, pts)
	}
	l, err := plotter.NewLine(net)
	if err != nil {
		return nil, err
	}
	l.Color, l.Dashes = ink, []vg.Length{vg.Points(1), vg.Points(2)}
	p.Add(l, along)
	p.Legend.Add("sum of both, what a meter sees (dotted)", l)
	headroom(p)
	last := r.rows[len(r.rows)-1].State
	return svg(p, 17*vg.Centimeter, 10.5*vg.Centimeter, "Charge of each face along the web path",
		"Charge density of face A and face B after each station with 5 to 95 % bands, and their sum. At the end face A "+
			"holds "+
			band(estimateBand(last.A), 1e6)+", face B "+band(estimateBand(last.B),
			1e6)+" µC/m². The same numbers stand in the table of stations.")
}

// finite: a plot of a number that is not looks for its ticks for ever.
func finite(x ...float64) bool {
	for _, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// boxes draws each predicted band as a bar with a line at its middle.
type boxes struct {
	x, lo, mid, hi []float64
}

func (b boxes) Plot(c draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&c)
	for i := range b.x {
		l, r := tx(b.x[i]-0.28), tx(b.x[i]+0.28)
		lo, hi, mid := ty(b.lo[i]), ty(b.hi[i]), ty(b.mid[i])
		c.FillPolygon(bar, []vg.Point{{X: l, Y: lo}, {X: r, Y: lo}, {X: r, Y: hi}, {X: l, Y: hi}})
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: vg.Points(1.2)}, l, mid, r, mid)
	}
}

func (b boxes) DataRange() (x0, x1, y0, y1 float64) {
	x0, x1, y0, y1 = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for i := range b.x {
		x0, x1 = min(x0, b.x[i]-0.5), max(x1, b.x[i]+0.5)
		y0, y1 = min(y0, b.lo[i]), max(y1, b.hi[i])
	}
	return
}

// Thumbnail draws the bar in the legend.
func (b boxes) Thumbnail(c *draw.Canvas) {
	c.FillPolygon(bar, []vg.Point{{X: c.Min.X, Y: c.Min.Y}, {X: c.Max.X, Y: c.Min.Y}, {X: c.Max.X, Y: c.Max.Y},
		{X: c.Min.X, Y: c.Max.Y}})
	y := (c.Min.Y + c.Max.Y) / 2
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: vg.Points(1.2)}, c.Min.X, y, c.Max.X, y)
}

// readingPlot draws the predicted band beside the readings of one kind; nil if
// there are none.
func (r *Report) readingPlot(q line.Quantity) ([]byte, error) {
	var names []string
	var b boxes
	var pts plotter.XYs
	scale, unit := 1e-3, "field meter display, kV"
	if q == line.OverRoller {
		scale, unit = 1, "voltmeter over the roller, V"
	}
	for _, s := range r.rows {
		for _, g := range s.Shown {
			if g.Quantity != q || !finite(g.Band[:]...) {
				continue // a reading without a prediction stands in the table only
			}
			x := float64(len(names))
			n := s.Name
			if q == line.OverRoller {
				n += ", face " + g.Face.String()
			}
			names = append(names, n)
			b.x, b.lo, b.mid, b.hi = append(b.x, x), append(b.lo, g.Band[0]*scale), append(b.mid, g.Band[1]*scale),
				append(b.hi, g.Band[2]*scale)
			for i, v := range g.Values {
				dx := 0.0
				if n := len(g.Values); n > 1 {
					dx = 0.3 * (float64(i)/float64(n-1) - 0.5)
				}
				pts = append(pts, plotter.XY{X: x + dx, Y: v * scale})
			}
		}
	}
	if len(names) == 0 {
		return nil, nil
	}
	p := newPlot(unit, names)
	sc, err := plotter.NewScatter(pts)
	if err != nil {
		return nil, err
	}
	sc.Shape, sc.Color, sc.Radius = draw.CrossGlyph{}, ink, vg.Points(3.2)
	p.Add(b, sc)
	p.Legend.Add("predicted 5 … 95 % (bar)", b)
	p.Legend.Add("readings (crosses)", sc)
	headroom(p)
	return svg(p, 17*vg.Centimeter, 9*vg.Centimeter, "Predicted "+unit+" beside the readings",
		"For each place the band in which a reading should fall and the readings taken. The same numbers stand in the "+
			"table of readings.")
}

// Figures draws what the page shows, each an SVG by itself: "charge" along the path, and
// the readings of each kind of meter beside what was predicted, "field meter" and
// "voltmeter", where there are any.
func (r *Report) Figures() (map[string]string, error) {
	out := map[string]string{}
	for name, draw := range map[string]func() ([]byte, error){"charge": r.chargePlot,
		"field meter": func() ([]byte, error) { return r.readingPlot(line.FieldMeter) },
		"voltmeter":   func() ([]byte, error) { return r.readingPlot(line.OverRoller) }} {
		b, err := draw()
		if err != nil {
			return nil, err
		}
		if b != nil {
			out[name] = string(b)
		}
	}
	return out, nil
}
