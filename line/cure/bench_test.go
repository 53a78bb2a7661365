package cure

import (
	"os"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// The verbs, each on plant A as its survey left it; goods on plants B and C.

func BenchmarkCalibrate(b *testing.B) {
	l, err := line.New(plantDescription(b))
	if err != nil {
		b.Fatal(err)
	}
	f, err := os.Open("../../examples/survey/demo/survey.csv")
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	s, err := survey.ReadSurvey(f)
	if err != nil {
		b.Fatal(err)
	}
	d, err := survey.Diagnose(l, s)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Calibrate(d, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// The aim of a plan is less than 2 s.
func BenchmarkPlan(b *testing.B) {
	site := nobody()
	m := diagnosed(b, &site)
	for b.Loop() {
		if _, err := m.Plan(Aim{Speed: 5}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTry(b *testing.B) {
	site := nobody()
	m := diagnosed(b, &site)
	for b.Loop() {
		if _, err := m.Try(Load{Station: "tension nip", Times: 0.5},
			Move{Station: "bar B1", To: 3 * units.Metre}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPredict(b *testing.B)    { each(b, func(m *Calibrated) { m.Predict() }) }
func BenchmarkIfOneFails(b *testing.B) { each(b, func(m *Calibrated) { m.IfOneFails() }) }
func BenchmarkMaxSpeed(b *testing.B)   { each(b, func(m *Calibrated) { m.MaxSpeed(0.05) }) }
func BenchmarkConductors(b *testing.B) { each(b, func(m *Calibrated) { m.Conductors() }) }
func BenchmarkBestPlace(b *testing.B) {
	each(b, func(m *Calibrated) { _, _ = m.BestPlace("idler 2", 25*units.Millimetre) })
}

func each(b *testing.B, verb func(m *Calibrated)) {
	m := free(b, nil)
	for b.Loop() {
		verb(m)
	}
}

func BenchmarkGoods(b *testing.B) {
	for _, plant := range []string{"plant_b", "plant_c"} {
		g := goodsOf(b, plant+".json")
		r := route(b, g)
		b.Run(plant+"/new", func(b *testing.B) {
			for b.Loop() {
				route(b, g)
			}
		})
		b.Run(plant+"/predict", func(b *testing.B) {
			for b.Loop() {
				r.Predict(0)
			}
		})
		b.Run(plant+"/plan", func(b *testing.B) {
			for b.Loop() {
				r.Plan(units.Celsius(8))
			}
		})
	}
}
