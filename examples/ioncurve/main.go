// Command ioncurve draws the ion current that an air-assisted bar delivers to a charged web against its distance, for
// three pressures: by the air stream alone, and with the ions that the field of the web draws beside it. Dashed are the
// two limits of what air can carry: recombination for a stream of both polarities, self-repulsion for a stream of one.
// Near the bar the web's field passes both. The bar and the web are invented.
//
//	go run ./examples/ioncurve -png ioncurve.png -svg ioncurve.svg
//	go run ./examples/ioncurve -narrow -png ioncurve-narrow.png
//
// Without flags it prints the figures as a table and writes no file.
package main

import (
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// gauges are the pressures of the figure.
var gauges = []units.GaugePressure{0.3 * units.BarGauge, 1 * units.BarGauge, 3 * units.BarGauge}

// The web of the figure, and the metal behind it.
const (
	net = 3 * units.MicrocoulombPerSquareMetre
	gap = 300 * units.Millimetre
)

// caution stands on the picture and below the table.
const caution = "Compressed air, high voltage and ozone can injure, a corona can ignite: local rules and competent " +
	"persons decide."

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("ioncurve", flag.ContinueOnError)
	flags.SetOutput(stderr)
	png := flags.String("png", "", "write the figure as PNG to this `file`")
	svg := flags.String("svg", "", "write the figure as SVG to this `file`")
	narrow := flags.Bool("narrow", false, "panels below each other, for a narrow page")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	curves, err := compute()
	if err == nil {
		table(stdout, curves)
	}
	for _, file := range []string{*png, *svg} {
		if err == nil && file != "" {
			err = save(curves, *narrow, file)
		}
	}
	if err != nil {
		fmt.Fprintln(stderr, "ioncurve:", err)
		return 1
	}
	return 0
}

// point is one distance; currents in µA/m.
type point struct {
	mm, alone, all, pairs, single float64
	flag                          known.Validity
}

// curve is one pressure.
type curve struct {
	gauge  units.GaugePressure
	air    units.VolumeFlow // ANR per metre of width
	jet    units.Speed
	points []point
}

// steps is the number of steps from 10 mm to 1 m.
const steps = 80

func compute() ([]curve, error) {
	emitter, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.DC, Current: 200 * units.MicroamperePerMetre})
	if err != nil {
		return nil, err
	}
	ions := ionflow.SmallIons().At(0, 0, 0)
	var curves []curve
	for _, g := range gauges {
		stream, mass, err := jet.Supply{Gauge: g, Ambient: units.Atmosphere, Temperature: units.Celsius(20),
			Discharge: 0.7}.Blow(jet.JetSpec{Kind: jet.Row, Width: units.Millimetre, Pitch: 20 * units.Millimetre})
		if err != nil {
			return nil, err
		}
		c := curve{gauge: g, air: jet.Standard(units.MassFlow(mass), units.ReferenceISO8778).Volume(),
			jet: stream.Spec().Speed}
		push := stream.FlowPerWidth() * float64(c.jet) // Q0'·U0
		for i := range steps + 1 {
			x := 0.01 * math.Pow(100, float64(i)/steps)
			src, err := ioniser.New(ioniser.Spec{Emitter: emitter, Distance: units.Length(x), Ions: ions,
				Air: ioniser.BlownAir{Stream: stream, Captured: 0.3, At: 205 * units.MetrePerSecond}})
			if err != nil {
				return nil, err
			}
			p, err := src.At(gap)
			if err != nil {
				return nil, err
			}
			alone, all := p.CurrentBracket(net)
			c.points = append(c.points, point{x * 1e3, float64(alone) * 1e6, float64(all) * 1e6,
				units.ElementaryCharge * push / (float64(ions.Alpha) * x) * 1e6,
				units.Epsilon0 * push / (float64(ions.Minus) * x) * 1e6, p.Act(net, units.MetrePerSecond).Validity})
		}
		curves = append(curves, c)
	}
	return curves, nil
}

func table(w io.Writer, curves []curve) {
	fmt.Fprintln(w, "Invented bar: a row of 1 mm holes 20 mm apart; 200 µA/m of each polarity, of which air of 205 m/s "+
		"takes 30 %.\nCurrent to a web of 3 µC/m², metal 300 mm behind it, µA/m: by the air stream alone, with the field "+
		"of the web, and\nthe limits of a stream of both polarities and of one:")
	for _, c := range curves {
		fmt.Fprintf(w, "%v(g), jet %.0f m/s, air %.0f L/min ANR per metre\n", bar(c.gauge), float64(c.jet),
			float64(c.air)*60000)
		for _, i := range []int{0, 19, 40, 59, 80} { // 10, 30, 100, 299 mm and 1 m
			p := c.points[i]
			fmt.Fprintf(w, "  %5.0f mm  %6.1f  %6.1f  limits %6.1f and %6.1f  (%v)\n", p.mm, p.alone, p.all, p.pairs,
				p.single, p.flag)
		}
	}
	fmt.Fprintln(w, "At 1 m/s this web demands 3 µA/m. "+caution)
}

func bar(g units.GaugePressure) string {
	return strconv.FormatFloat(float64(g)/1e5, 'g', 2, 64) + " bar"
}
