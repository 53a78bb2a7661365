package report

import (
	"fmt"
	"math"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

const (
	centimetre = 72 / 2.54       // [pt]
	wide       = 17 * centimetre // [pt] of every figure
)

// finite: a number that is none has no place on an axis.
func finite(x ...float64) bool {
	for _, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// widen takes values into a range.
func widen(r *[2]float64, x ...float64) {
	for _, v := range x {
		r[0], r[1] = min(r[0], v), max(r[1], v)
	}
}

// chargePlot draws the charge of each face along the path.
func (r *Report) chargePlot() (string, error) {
	names := make([]string, len(r.rows))
	span := max(float64(r.rows[len(r.rows)-1].At-r.rows[0].At), 1e-3) // m
	faces := [2][][3]float64{}                                        // [µC/m²] low, middle, high
	var net []float64
	ys := [2]float64{}
	for i, s := range r.rows {
		names[i] = s.Name
		for k, e := range []survey.Estimate{s.State.A, s.State.B} {
			lo, mid, hi := e.Band()
			b := [3]float64{lo * 1e6, mid * 1e6, hi * 1e6}
			if !finite(b[:]...) {
				return "", fmt.Errorf("the charge after station %q is no number", s.Name)
			}
			faces[k] = append(faces[k], b)
			widen(&ys, b[:]...)
		}
		net = append(net, s.State.Net.Value*1e6)
		widen(&ys, net[i])
	}
	along := newLabels(r.rows, span)
	f := newFigure(wide, 10.5*centimetre, names, [2]float64{along.min, along.max}, ys)
	f.title = "Charge of each face along the web path"
	last := r.rows[len(r.rows)-1].State
	f.saying = "Charge density of face A and face B after each station with 5 to 95 % bands, and their sum. At the end " +
		"face A holds " + band(estimateBand(last.A), 1e6) + ", face B " + band(estimateBand(last.B), 1e6) +
		" µC/m². The same numbers stand in the table of stations."
	f.axes("charge, µC/m²")
	for i := range along.at {
		x, n := f.x(along.at[i]), f.x(along.name[i])
		f.path(stroke{faintColour, 0.6, ""}, [2]float64{n, f.bottom}, [2]float64{x, f.bottom - 9},
			[2]float64{x, f.top})
		f.name(n, along.text[i])
	}
	style := [2]stroke{{plumColour, 1.3, ""}, {tealColour, 1.3, "5 3"}}
	mark := [2]func(string, float64, float64){f.disc, f.square}
	dx := [2]float64{-1, 1} // [pt] so that neither hides the other
	for k, list := range faces {
		whisker := stroke{style[k].colour, 0.8, ""}
		var way [][2]float64
		for i, b := range list {
			x := f.x(along.at[i]) + dx[k]
			lo, hi := f.y(b[0]), f.y(b[2])
			f.path(whisker, [2]float64{x, lo}, [2]float64{x, hi})
			f.path(whisker, [2]float64{x - 2, lo}, [2]float64{x + 2, lo})
			f.path(whisker, [2]float64{x - 2, hi}, [2]float64{x + 2, hi})
			way = append(way, [2]float64{x, f.y(b[1])})
		}
		f.path(style[k], way...)
		for _, p := range way {
			mark[k](style[k].colour, p[0], p[1])
		}
		x, y := f.legend([]string{"face A (discs, full line)", "face B (squares, dashed)"}[k])
		f.path(style[k], [2]float64{x, y}, [2]float64{x + 22, y})
		mark[k](style[k].colour, x+11, y)
	}
	dotted := stroke{inkColour, 1, "1 2"}
	var way [][2]float64
	for i, v := range net {
		way = append(way, [2]float64{f.x(along.at[i]), f.y(v)})
	}
	f.path(dotted, way...)
	x, y := f.legend("sum of both, what a meter sees (dotted)")
	f.path(dotted, [2]float64{x, y}, [2]float64{x + 22, y})
	return f.String(), nil
}

// readingPlot draws the predicted band beside the readings of one kind; empty if
// there are none.
func (r *Report) readingPlot(q line.Quantity) string {
	var names []string
	var groups []*readingGroup
	scale, unit := 1e-3, "field meter display, kV"
	if q == line.OverRoller {
		scale, unit = 1, "voltmeter over the roller, V"
	}
	ys := [2]float64{}
	for i := range r.rows {
		for k := range r.rows[i].Shown {
			g := &r.rows[i].Shown[k]
			if g.Quantity != q || !finite(g.Band[:]...) {
				continue // a reading without a prediction stands in the table only
			}
			n := r.rows[i].Name
			if q == line.OverRoller {
				n += ", face " + g.Face.String()
			}
			names, groups = append(names, n), append(groups, g)
			for _, v := range append(g.Band[:], g.Values...) {
				widen(&ys, v*scale)
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	f := newFigure(wide, 9*centimetre, names, [2]float64{-0.6, float64(len(names)) - 0.4}, ys)
	f.title = "Predicted " + unit + " beside the readings"
	f.saying = "For each place the band in which a reading should fall and the readings taken. The same numbers stand " +
		"in the table of readings."
	f.axes(unit)
	for i, g := range groups {
		x := float64(i)
		f.name(f.x(x), names[i])
		l, r := f.x(x-0.28), f.x(x+0.28)
		f.box(l, f.y(g.Band[0]*scale), r, f.y(g.Band[2]*scale))
		mid := f.y(g.Band[1] * scale)
		f.path(stroke{inkColour, 1.2, ""}, [2]float64{l, mid}, [2]float64{r, mid})
		for k, v := range g.Values {
			dx := 0.0
			if n := len(g.Values); n > 1 {
				dx = 0.3 * (float64(k)/float64(n-1) - 0.5)
			}
			f.cross(f.x(x+dx), f.y(v*scale))
		}
	}
	x, y := f.legend("predicted 5 … 95 % (bar)")
	f.box(x, y-4, x+22, y+4)
	f.path(stroke{inkColour, 1.2, ""}, [2]float64{x, y}, [2]float64{x + 22, y})
	x, y = f.legend("readings (crosses)")
	f.cross(x+11, y)
	return f.String()
}

// Figures draws what the page shows, each an SVG by itself: "charge" along the path, and
// the readings of each kind of meter beside what was predicted, "field meter" and
// "voltmeter", where there are any.
func (r *Report) Figures() (map[string]string, error) {
	charge, err := r.chargePlot()
	if err != nil {
		return nil, err
	}
	out := map[string]string{"charge": charge}
	if s := r.readingPlot(line.FieldMeter); s != "" {
		out["field meter"] = s
	}
	if s := r.readingPlot(line.OverRoller); s != "" {
		out["voltmeter"] = s
	}
	return out, nil
}
