package survey_test

import (
	"fmt"
	"math"
	"os"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// The plant of these examples is the invented slitter of examples/survey.

// slitter diagnoses the demonstration, from the readings that keep lets through.
func slitter(keep func(r *survey.Reading) bool) *survey.Diagnosis {
	f, err := os.Open("../../examples/survey/demo/line.json")
	if err != nil {
		panic(err)
	}
	defer f.Close()
	d, err := line.ReadDescription(f)
	if err != nil {
		panic(err)
	}
	l, err := line.New(d)
	if err != nil {
		panic(err)
	}
	g, err := os.Open("../../examples/survey/demo/survey.csv")
	if err != nil {
		panic(err)
	}
	defer g.Close()
	s, err := survey.ReadSurvey(g)
	if err != nil {
		panic(err)
	}
	var kept survey.Survey
	for i := range s.Readings {
		if keep(&s.Readings[i]) {
			kept.Readings = append(kept.Readings, s.Readings[i])
		}
	}
	out, err := survey.Diagnose(l, &kept)
	if err != nil {
		panic(err)
	}
	return out
}

func all(*survey.Reading) bool           { return true }
func noVoltmeter(r *survey.Reading) bool { return r.Quantity != line.OverRoller }

// Question 8: which roller is the source?
func Example_question08() {
	d := slitter(all)
	fmt.Println(must(d.Verdict()).Source)
	fmt.Println(must(slitter(noVoltmeter).Verdict()).Source[:44], "… without the voltmeter")
	// Output:
	// Main source: tension nip, face A +14 (+7.3 … +20) µC/m² and face B −12 (−19 … −6.2) µC/m²; the step lies between the readings at idler 1 and tension nip.
	// Main source: these readings cannot tell: sev … without the voltmeter
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// Less is said of fewer readings.
func TestQuestion08(t *testing.T) {
	if with, less := slitter(all), slitter(noVoltmeter); with.Answer.Kind != survey.OneSource ||
		less.Answer.Kind == survey.OneSource {
		t.Errorf("%v, without the voltmeter %v", with.Answer.Kind, less.Answer.Kind)
	}
}

// rollSlope fits the net charge [µC/m²] behind the idlers against the logarithm of the
// diameter of the roll [mm] at one speed: what moves with the roll is the peel's.
func rollSlope(diameter, net []float64) (slope, se, p float64) {
	x := make([]float64, len(diameter))
	for i, d := range diameter {
		x[i] = math.Log(d)
	}
	a, b := stat.LinearRegression(x, net, nil, false)
	var rest, spread float64
	mean := stat.Mean(x, nil)
	for i := range x {
		rest += math.Pow(net[i]-a-b*x[i], 2)
		spread += math.Pow(x[i]-mean, 2)
	}
	n := float64(len(x)) - 2
	se = math.Sqrt(rest / n / spread)
	return b, se, 2 * distuv.StudentsT{Sigma: 1, Nu: n}.CDF(-math.Abs(b/se))
}

// Question 9: is it the unwind peel or the idlers? The net behind both against the diameter.
func Example_question09() {
	slope, se, p := rollSlope([]float64{1000, 800, 600, 400}, []float64{-3.05, -3.3, -3.6, -4.1})
	t := distuv.StudentsT{Sigma: 1, Nu: 2}.Quantile(0.95)
	moved := slope * math.Log(1000.0/400)
	fmt.Printf("the peel: %.2f (%.2f … %.2f) of 4.1 µC/m² go with the roll from 1000 to 400 mm, p %.4f; "+
		"the rest needs a place "+
		"before the first idler\n", moved, moved-t*se*math.Log(2.5), moved+t*se*math.Log(2.5), p)
	// Output:
	// the peel: 1.05 (0.96 … 1.13) of 4.1 µC/m² go with the roll from 1000 to 400 mm, p 0.0007; the rest needs a place before the first idler
}

func TestQuestion09(t *testing.T) {
	slope, se, p := rollSlope([]float64{1000, 800, 600, 400}, []float64{-3.05, -3.3, -3.6, -4.1})
	if !(math.Abs(slope-1.14082) <= 1e-4) || !(math.Abs(se-0.0300777) <= 1e-5) || !(math.Abs(p-0.000694383) <= 1e-6) {
		t.Errorf("%g ± %g, p %g", slope, se, p)
	}
	if flat, _, much := rollSlope([]float64{1000, 800, 600, 400},
		[]float64{-3.5, -3.4, -3.6, -3.5}); !(math.Abs(flat) <= 0.2) || much < 0.3 {
		t.Errorf("a net that does not go with the roll: %g, p %g", flat, much)
	}
}

// Question 10: my meter says almost nothing behind bar B2: is the film clean?
func Example_question10() {
	d := slitter(all)
	i := d.Line().Station("A6 after bar B2")
	s := d.States[i]
	fmt.Printf("no: A %+.0f (%+.0f … %+.0f), B %+.0f (%+.0f … %+.0f) µC/m², net %+.1f; they cancel at a distance: %v\n",
		1e6*s.A.Value, 1e6*s.A.Low,
		1e6*s.A.High, 1e6*s.B.Value, 1e6*s.B.Low, 1e6*s.B.High, 1e6*s.Net.Value, d.Cancels(i))
	// Output:
	// no: A +14 (+9 … +21), B -14 (-21 … -9) µC/m², net -0.2; they cancel at a distance: true
}

// Without a voltmeter over a roller the faces stay open.
func TestQuestion10(t *testing.T) {
	with, less := slitter(all), slitter(noVoltmeter)
	i := with.Line().Station("A6 after bar B2")
	if !with.Cancels(i) || less.Cancels(i) || less.States[i].A.SD < 3*with.States[i].A.SD {
		t.Errorf("A ± %g with, ± %g without a voltmeter", with.States[i].A.SD, less.States[i].A.SD)
	}
}
