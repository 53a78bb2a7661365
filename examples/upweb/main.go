// Command upweb plots how much of a charge laid on a moving web goes back
// against the motion, over the ratio of the spreading speed v_s = 1/(2ε0ρ_s) to
// the speed U of the web:
//
//   - on an endless free web, the share found up-web of its place, (1/π)·atan(v_s/U):
//     there is no threshold at v_s = U;
//   - in a 1 m span between two earthed rollers of 50 mm radius, the share of a
//     deposit at mid-span that flows back into the roller behind: the opening gap
//     holds the charge down and the web carries nearly all of it on, until the web
//     spreads charge tens of times faster than it runs.
//
// The span and its rollers are invented for the demonstration.
//
//	go run ./examples/upweb -o upweb.png
package main

import (
	"flag"
	"fmt"
	"image/color"
	"io"
	"log"
	"math"
	"os"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/examples/internal/picture"
	"example.org/pithball/units"
)

func main() {
	log.SetFlags(0)
	out := flag.String("o", "upweb.svg", "picture to write, .png or .svg")
	flag.Parse()
	if err := run(*out, os.Stdout); err != nil {
		log.Fatal(err)
	}
}

// run writes the picture to path and the numbers to w.
func run(path string, w io.Writer) error {
	var endless, span plotter.XYs
	fmt.Fprintln(w, "v_s/U    endless web   1 m span, 50 mm rollers")
	for e := -2.0; e <= 3.001; e += 0.0625 {
		r := math.Pow(10, e)
		up, back, err := shares(r)
		if err != nil {
			return err
		}
		endless = append(endless, plotter.XY{X: r, Y: 100 * up})
		span = append(span, plotter.XY{X: r, Y: 100 * back})
		if math.Abs(e-math.Round(e)) < 1e-9 {
			fmt.Fprintf(w, "%-8.4g %5.1f %%       %5.1f %%\n", r, 100*up, 100*back)
		}
	}
	fmt.Fprintln(w, caution)
	return draw(path, endless, span)
}

// shares returns the share up-web on an endless web and the share that flows back
// from mid-span into the inlet roller, at v_s/U = r.
func shares(r float64) (up, back float64, err error) {
	const u = 2 * units.MetrePerSecond
	vs := units.Speed(r * float64(u))
	w, err := sheet.NewFreeSpanWeb(sheet.FreeSpanSpec{
		Length: units.Metre, Speed: u,
		// ρ_s from v_s = 1/(2 ε0 ρ_s).
		SurfaceResistivity: units.SheetResistance(1 / (2 * units.Epsilon0 * float64(vs))),
		InletRadius:        50 * units.Millimetre, OutletRadius: 50 * units.Millimetre,
		ContactGap: 5 * units.Micrometre,
	}, &sheet.FreeSpanSettings{Step: 0.2})
	if err != nil {
		return 0, 0, err
	}
	return sheet.UpWebShare(vs, u), 1 - w.DownstreamShare(units.Metre/2), nil
}

// caution stands on the picture and below the table: whoever reads it wants to know where charge goes.
const caution = "Computed; rollers and span are invented. It approves nothing: earth all rollers first."

func draw(path string, endless, span plotter.XYs) error {
	at := strings.Index(caution, " It approves") + 1
	c, err := picture.New(path, picture.Narrow, 9*vg.Centimeter, []string{"Charge that goes back on a moving web"},
		[]string{caution[:at-1], caution[at:]})
	if err != nil {
		return err
	}
	p := plot.New()
	p.X.Label.Text = "spreading speed over speed of the web"
	p.Y.Label.Text = "share of the deposit, %"
	p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, picture.Decades{}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0.01, 1000, 0, 72
	var ticks plot.ConstantTicks
	for v := 0; v <= 50; v += 10 {
		ticks = append(ticks, plot.Tick{Value: float64(v), Label: strconv.Itoa(v)})
	}
	p.Y.Tick.Marker = ticks
	picture.Styled(p)
	for _, c := range []struct {
		name string
		xy   plotter.XYs
		col  color.Color
		dash []vg.Length
	}{
		{"endless web: up-web of its place", endless, picture.First, nil},
		{"1 m span: into the roller behind", span, picture.Second, []vg.Length{6, 4}},
	} {
		l, err := plotter.NewLine(c.xy)
		if err != nil {
			return err
		}
		l.Color, l.Width, l.Dashes = c.col, vg.Points(1.8), c.dash
		p.Add(l)
		p.Legend.Add(c.name, l)
	}
	c.Plots([][]*plot.Plot{{p}})
	return c.Save()
}
