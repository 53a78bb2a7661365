package report

import (
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

func number64(t interface{ Fatal(...any) }, s string) float64 {
	v, err := strconv.ParseFloat(strings.Replace(s, "−", "-", 1), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestChargePlot reads the drawing back: by the figures at its grid every disc of face A and every square of face B
// stands at the charge of its station.
func TestChargePlot(t *testing.T) {
	r := &Report{}
	a, b := []float64{-2, -1, 14, 13.5}, []float64{0.5, -1, -15.5, -16.5} // µC/m²
	for i := range a {
		at := func(x float64) survey.Estimate {
			return survey.Estimate{Value: x * 1e-6, Low: (x - 1) * 1e-6, High: (x + 1) * 1e-6}
		}
		r.rows = append(r.rows, stationRow{Name: fmt.Sprintf("<s%d>", i), At: units.Length(float64(i * i)),
			State: survey.StationState{A: at(a[i]), B: at(b[i]), Net: at(a[i] + b[i])}})
	}
	s, err := r.chargePlot()
	if err != nil {
		t.Fatal(err)
	}
	grid := regexp.MustCompile(`<text x="[\d.]+" y="([\d.]+)" text-anchor="end">(−?[\d.]+)</text>`).FindAllStringSubmatch(s, -1)
	if len(grid) < 4 {
		t.Fatalf("%d figures at the grid", len(grid))
	}
	y0, v0 := number64(t, grid[0][1]), number64(t, grid[0][2])
	y1, v1 := number64(t, grid[len(grid)-1][1]), number64(t, grid[len(grid)-1][2])
	value := func(y float64) float64 { return v0 + (y+3-y0)/(y1-y0)*(v1-v0) } // a figure stands 3 pt lower than its line
	discs := regexp.MustCompile(`<circle cx="([\d.]+)" cy="([\d.]+)"`).FindAllStringSubmatch(s, -1)
	squares := regexp.MustCompile(`<rect x="([\d.]+)" y="([\d.]+)" width="5.2"`).FindAllStringSubmatch(s, -1)
	if len(discs) != 5 || len(squares) != 5 { // the last of each is the sample of the legend
		t.Fatalf("%d discs and %d squares", len(discs), len(squares))
	}
	left, right := number64(t, discs[0][1]), number64(t, discs[3][1])
	for i := range a {
		if v := value(number64(t, discs[i][2])); !(math.Abs(v-a[i]) <= 0.03) {
			t.Errorf("station %d: disc at %.2f µC/m², want %g", i, v, a[i])
		}
		if v := value(number64(t, squares[i][2]) + 2.6); !(math.Abs(v-b[i]) <= 0.03) {
			t.Errorf("station %d: square at %.2f µC/m², want %g", i, v, b[i])
		}
		if x := (number64(t, discs[i][1]) - left) / (right - left); !(math.Abs(x-float64(i*i)/9) <= 1e-3) {
			t.Errorf("station %d stands at %.3f of the path, want %.3f", i, x, float64(i*i)/9)
		}
	}
	if strings.Contains(s, "<s0>") || !strings.Contains(s, "&lt;s0&gt;") {
		t.Error("a name is not escaped")
	}
	r.rows[1].State.A.High = math.NaN()
	if _, err := r.chargePlot(); err == nil {
		t.Error("no number was drawn")
	}
}

// TestFigureBounds: whatever numbers a report holds, the drawing is well formed, inside its frame, and short.
func TestFigureBounds(t *testing.T) {
	names := rapid.StringOfN(rapid.RuneFrom([]rune(" <>&'\""), unicode.L, unicode.S, unicode.Zs), 0, 120, -1)
	rapid.Check(t, func(t *rapid.T) {
		r := &Report{}
		scale := math.Pow(10, rapid.Float64Range(-14, 9).Draw(t, "scale"))
		value := rapid.Float64Range(-1, 1)
		at := 0.0
		for i := range rapid.IntRange(1, 40).Draw(t, "stations") {
			e := func(name string) survey.Estimate {
				v, w := scale*value.Draw(t, name), scale*math.Abs(value.Draw(t, name))
				return survey.Estimate{Value: v, Low: v - w, High: v + w}
			}
			row := stationRow{Name: names.Draw(t, "name"), At: units.Length(at),
				State: survey.StationState{A: e("A"), B: e("B"), Net: e("net")}}
			if rapid.Bool().Draw(t, "read") {
				row.Shown = []readingGroup{{Quantity: line.FieldMeter, Band: [3]float64{-scale, 0, scale},
					Values: []float64{scale * value.Draw(t, "display"), 0, 0}[:1+i%3], Meter: "m"}}
			}
			r.rows = append(r.rows, row)
			at += math.Abs(value.Draw(t, "gap")) + 1e-3
		}
		all, err := r.Figures()
		if err != nil {
			t.Fatal(err)
		}
		for name, s := range all {
			if err := xml.Unmarshal([]byte(s), new(struct{ XMLName xml.Name })); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
				t.Fatalf("%s: %s", name, s)
			}
			for _, m := range regexp.MustCompile(`[ML](-?[\d.]+) (-?[\d.]+)`).FindAllStringSubmatch(s, -1) {
				if x, y := number64(t, m[1]), number64(t, m[2]); x < 0 || x > wide || y < 0 || y > 10.5*centimetre {
					t.Fatalf("%s: a line goes to %v %v", name, x, y)
				}
			}
			if n := strings.Count(s, `text-anchor="end">`); n < 2 || n > 12 {
				t.Fatalf("%s: %d figures at the axis", name, n)
			}
		}
	})
}

// TestNice: the steps of an axis, by hand.
func TestNice(t *testing.T) {
	for x, want := range map[float64]float64{1: 1, 1.01: 2, 2.5: 5, 6: 10, 0.03: 0.05, 70: 100} {
		if got := nice(x); !(math.Abs(got/want-1) <= 1e-12) {
			t.Errorf("nice(%v) = %v, want %v", x, got, want)
		}
	}
	f := &figure{step: 0.5}
	for v, want := range map[float64]string{-1.5: "−1.5", 0.5: "0.5", 1e-17: "0"} {
		if got := f.mark(v); got != want {
			t.Errorf("%v is written %q, want %q", v, got, want)
		}
	}
}
