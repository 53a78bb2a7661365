package survey_test

import (
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// TestRepeatsSpeak: behind a nip that gave +10 and −10 µC/m² four displays at each of
// three places agree within 100 V, 0.04 µC/m². Spots of 20 % of each face by itself would
// scatter by 0.2·√200 = 2.8 µC/m², and the mean of four by 1.4; what does not scatter
// is known better than that. Where they do scatter by 2.8 it is not.
func TestRepeatsSpeak(t *testing.T) {
	net := func(spots [4]float64) survey.Estimate {
		desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), nip("N", 2), place("Q", 3), place("T", 4), place("U", 5))
		desc.Meters[0].FullScale = 100e3
		for i := range desc.Meters {
			desc.Meters[i].Spots = 0.2
		}
		rows := [][]survey.Reading{over("R", line.FaceA, 0), fields("P", 0), over("N", line.FaceA, 10*perFace),
			over("N", line.FaceB, -10*perFace), ohms("R", 1), ohms("N", 2)}
		for _, name := range []string{"Q", "T", "U"} {
			f := fields(name, 0)
			for i := range f {
				f[i].Value = spots[i]
			}
			rows = append(rows, f)
		}
		return read(t, desc, rows...).States[4].Net
	}
	agree := net([4]float64{100, -100, 50, -50})
	apart := net([4]float64{2.8 * perNet, -2.8 * perNet, 2 * perNet, -2 * perNet})
	if sd := agree.SD / micro; sd > 0.45 {
		t.Errorf("readings that agree: net ± %.2f µC/m²", sd)
	}
	if sd := apart.SD / micro; sd < 0.7 || sd > 1.8 {
		t.Errorf("readings that scatter by 2.8 µC/m²: net ± %.2f, by hand 1.4/√3 to 1.4", sd)
	}
	if agree.Low > 0 || agree.High < 0 {
		t.Errorf("%+v", agree)
	}
}
