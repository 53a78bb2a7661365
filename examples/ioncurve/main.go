// Command ioncurve draws the ion current that an air-assisted bar brings to a web
// against its distance, for three pressures, with the two ceilings that no
// source can pass: recombination for a stream of both polarities, self-repulsion
// for a stream of one. The bar is invented.
//
//	go run ./examples/ioncurve -png ioncurve.png -svg ioncurve.svg
//
// Without flags it prints the figures as a table and writes no file.
package main

import (
	"flag"
	"fmt"
	"image/color"
	"io"
	"math"
	"os"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// gauges are the pressures of the figure.
var gauges = []units.GaugePressure{0.3 * units.BarGauge, 1 * units.BarGauge, 3 * units.BarGauge}

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("ioncurve", flag.ContinueOnError)
	flags.SetOutput(stderr)
	png := flags.String("png", "", "write the figure as PNG to this `file`")
	svg := flags.String("svg", "", "write the figure as SVG to this `file`")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	curves, err := compute()
	if err == nil {
		table(stdout, curves)
	}
	for _, file := range []string{*png, *svg} {
		if err != nil || file == "" {
			continue
		}
		var p *plot.Plot
		if p, err = figure(curves); err == nil {
			err = p.Save(17*vg.Centimeter, 12*vg.Centimeter, file)
		}
	}
	if err != nil {
		fmt.Fprintln(stderr, "ioncurve:", err)
		return 1
	}
	return 0
}

// curve is one pressure.
type curve struct {
	gauge                                units.GaugePressure
	air                                  units.VolumeFlow // ANR per metre of width
	jet                                  units.Speed
	delivered, recombination, oneCharged plotter.XYs // µA/m against mm
}

func compute() ([]curve, error) {
	emitter, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.DC, Current: 200 * units.MicroamperePerMetre})
	if err != nil {
		return nil, err
	}
	spec := ionflow.AirBarSpec{
		Emitter:  emitter,
		Captured: 0.3,
		Distance: 0.1 * units.Metre,
		Ions:     ionflow.SmallIons().At(0, 0, 0),
		Jet:      jet.JetSpec{Kind: jet.Row, Width: units.Millimetre, Pitch: 20 * units.Millimetre},
	}
	var curves []curve
	for _, g := range gauges {
		bar, mass, err := spec.Blown(ionflow.Blow{Gauge: g, Ambient: units.Atmosphere, Temperature: units.Celsius(20),
			Discharge: 0.7})
		if err != nil {
			return nil, err
		}
		c := curve{gauge: g, air: jet.ANR.Volume(units.MassFlow(mass)), jet: bar.Spec().Jet.Speed}
		for i := range 201 {
			x := units.Length(0.01 * math.Pow(200, float64(i)/200)) // 10 mm … 2 m
			d := bar.At(x)
			at := func(j units.LineCurrent) plotter.XY { return plotter.XY{X: float64(x) * 1e3, Y: float64(j) * 1e6} }
			c.delivered = append(c.delivered, at(d.PlusCurrent))
			c.recombination = append(c.recombination, at(d.Recombination))
			c.oneCharged = append(c.oneCharged, at(d.Repulsion))
		}
		curves = append(curves, c)
	}
	return curves, nil
}

func table(w io.Writer, curves []curve) {
	fmt.Fprintln(w, "Invented bar: a row of 1 mm holes 20 mm apart; "+
		"200 µA/m of each polarity, of which the air takes 30 %.")
	fmt.Fprintln(w, "Current of each polarity that reaches the distance, with the ceilings for both polarities and "+
		"for one, µA/m:")
	for _, c := range curves {
		fmt.Fprintf(w, "%v(g), jet %.0f m/s, air %.0f L/min ANR per metre\n", bar(c.gauge), float64(c.jet),
			float64(c.air)*60000)
		for _, i := range []int{0, 87, 128, 174} { // 10, 100, 297 and 1004 mm
			fmt.Fprintf(w, "  %5.0f mm  %6.2f  of at most %6.2f  or %6.2f\n", c.delivered[i].X, c.delivered[i].Y,
				c.recombination[i].Y, c.oneCharged[i].Y)
		}
	}
	fmt.Fprintln(w, "1 µC/m² at 60 m/min demands 1 µA/m. Compressed air can injure and is loud: the rules of the "+
		"place decide.")
}

func bar(g units.GaugePressure) string {
	return strconv.FormatFloat(float64(g)/1e5, 'g', 2, 64) + " bar"
}

func figure(curves []curve) (*plot.Plot, error) {
	p := plot.New()
	face := font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Points(10)}
	// The name of the vertical axis stands in the title: on a logarithmic axis the plot
	// package leaves room for it at the wrong place.
	p.Title.Text = "Ion current of each polarity that reaches a web, µA per metre of width (invented bar)"
	p.X.Label.Text = "distance from the holes, mm"
	p.Title.TextStyle.Font, p.X.Label.TextStyle.Font = face, face
	p.X.Tick.Label.Font, p.Y.Tick.Label.Font, p.Legend.TextStyle.Font = face, face, face
	p.Title.Padding = vg.Points(6)
	p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 10, 4000, 0.02, 200
	p.X.Tick.Marker, p.Y.Tick.Marker = decades{}, decades{}
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = color.Gray{0xdd}, color.Gray{0xdd}
	p.Add(grid)

	inks := []color.Color{color.RGBA{0x8a, 0x4b, 0x08, 0xff}, color.RGBA{0x12, 0x6b, 0x77, 0xff},
		color.RGBA{0x5b, 0x2a, 0x62, 0xff}}
	var styles [3]*plotter.Line
	for i, c := range curves {
		for k, pts := range []plotter.XYs{c.delivered, c.recombination, c.oneCharged} {
			l, err := plotter.NewLine(pts)
			if err != nil {
				return nil, err
			}
			l.Color = inks[i%len(inks)]
			switch k {
			case 0:
				l.Width = vg.Points(2.2)
			case 1:
				l.Width, l.Dashes = vg.Points(1), []vg.Length{vg.Points(7), vg.Points(3)}
			case 2:
				l.Width, l.Dashes = vg.Points(1), []vg.Length{vg.Points(1.5), vg.Points(2.5)}
			}
			p.Add(l)
			key := *l
			key.Color = color.Gray{0x22}
			styles[k] = &key
		}
		end := c.delivered[len(c.delivered)-1]
		name, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{end}, Labels: []string{" " + bar(c.gauge) + " (g)"}})
		if err != nil {
			return nil, err
		}
		name.TextStyle[0].Font, name.TextStyle[0].Color, name.TextStyle[0].YAlign = face, inks[i%len(inks)], draw.YCenter
		p.Add(name)
	}
	demand, err := plotter.NewLine(plotter.XYs{{X: 10, Y: 1}, {X: 2000, Y: 1}})
	if err != nil {
		return nil, err
	}
	demand.Color, demand.Width = color.Gray{0x77}, vg.Points(0.7)
	note, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: 10.5, Y: 0.93}},
		Labels: []string{"asked by 1 µC/m² at 60 m/min"}})
	if err != nil {
		return nil, err
	}
	note.TextStyle[0].Font, note.TextStyle[0].Color, note.TextStyle[0].YAlign = face, color.Gray{0x55}, draw.YTop
	p.Add(demand, note)
	p.Legend.Add("delivered, both polarities", styles[0])
	p.Legend.Add("ceiling of recombination (both polarities)", styles[1])
	p.Legend.Add("ceiling of self-repulsion (one polarity)", styles[2])
	p.Legend.Top, p.Legend.Padding = true, vg.Points(2)
	p.Legend.YOffs, p.Legend.XOffs = -vg.Points(4), -vg.Points(8)
	return p, nil
}

// decades labels the powers of ten of a logarithmic axis, with marks between.
type decades struct{}

// Ticks returns the marks between lo and hi.
func (decades) Ticks(lo, hi float64) []plot.Tick {
	var ticks []plot.Tick
	for e := math.Floor(math.Log10(lo)); e <= math.Ceil(math.Log10(hi)); e++ {
		for m := 1.0; m < 10; m++ {
			v, _ := strconv.ParseFloat(fmt.Sprintf("%.0fe%.0f", m, e), 64) // exact, unlike m·10^e
			if v < lo*(1-1e-9) || v > hi*(1+1e-9) {
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
