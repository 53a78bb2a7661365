package survey_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/pithball/internal/counter"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// sixty is a survey of 60 readings of a line of 24 changes and 72 unknowns: 12 places with
// four spots each, and a voltmeter over 12 of the rollers between. One roller gives so
// many µC/m², the others 0.4, the nip 2 to each face; spots scatter by 10 %.
func sixty(t testing.TB, main float64) (*line.Line, *survey.Survey) {
	var between []line.StationSpec
	s := &survey.Survey{}
	var q [2]float64 // µC/m² on the faces
	for i := range 21 {
		at := 0.6 * float64(i+1)
		name, face := fmt.Sprintf("R%d", i+1), line.FaceA+line.Face(i%2)
		gives := 0.4 * float64(1-i%3)
		if i == 6 {
			gives = main
		}
		if i == 10 {
			between = append(between, nip(name, at))
			q[0], q[1] = q[0]+2, q[1]-2
		} else {
			between = append(between, roller(name, at, face))
			q[i%2] += gives
		}
		if i%2 == 0 || i == 1 {
			s.Readings = append(s.Readings, over(name, face.Other(), perFace*q[1-i%2])...)
		}
		if i%2 == 1 || i == 0 || i == 20 {
			between = append(between, place("P"+name, at+0.3))
			s.Readings = append(s.Readings, fields("P"+name, perNet*(q[0]+q[1]))...)
		}
	}
	for i := range s.Readings {
		s.Readings[i].Value *= 1 + 0.1*counter.Normal(4, uint64(i))
	}
	return newLine(t, hand(between...)), s
}

// floor is a survey of 60 readings of a line of 9 changes and 25 unknowns, as
// [survey.Posterior] counts them: five places with nine displays across the web each and
// three rollers with five of a voltmeter, so that what is unlisted in the 8 stretches
// between has 16 unknowns. One roller gives so many µC/m², the others 0.5, the nip 1 to each
// face; spots scatter by 10 %.
func floor(t testing.TB, main float64) (*line.Line, *survey.Survey) {
	q := [2]float64{0, 0} // µC/m² on the faces
	s := &survey.Survey{}
	show := func(n int, r survey.Reading) {
		for k := range n {
			r.Repeat, r.Cross = k+1, units.Length(0.2+1.6*float64(k)/float64(n-1))
			s.Readings = append(s.Readings, r)
		}
	}
	field := func(name string) { show(9, fields(name, perNet*(q[0]+q[1]))[0]) }
	volt := func(name string, f line.Face) { show(5, over(name, f, perFace*q[f-line.FaceA])[0]) }
	field("P0")
	q[0] += 0.5
	volt("R1", line.FaceB)
	q[1] -= 0.5
	field("P2")
	q[0] += main
	field("P3")
	q[0], q[1] = q[0]+1, q[1]-1
	q[1] += 0.5
	volt("R4", line.FaceA)
	field("P4")
	q[0] -= 0.5
	volt("R5", line.FaceB)
	field("P5")
	for i := range s.Readings {
		s.Readings[i].Value *= 1 + 0.1*counter.Normal(9, uint64(i))
	}
	return newLine(t, hand(place("P0", 0.5), roller("R1", 1, line.FaceA), roller("R2", 2, line.FaceB), place("P2", 2.5),
		roller("R3", 3, line.FaceA), place("P3", 3.5), nip("nip", 4), roller("R4", 5, line.FaceB), place("P4", 5.5),
		roller("R5", 6, line.FaceA), place("P5", 6.5))), s
}

// TestFloor counts what BenchmarkDiagnose says of its survey.
func TestFloor(t *testing.T) {
	l, s := floor(t, 5)
	d := diagnose(t, l, s)
	if n, u, c := len(s.Readings), d.Posterior().Len(), len(d.Changes); n != 60 || u != 25 || c != 9 {
		t.Errorf("%d readings, %d unknowns, %d changes", n, u, c)
	}
	if d.Answer.Kind != survey.OneSource || l.Description().Stations[d.Answer.Sets[0][0]].Name != "R3" {
		t.Errorf("%+v", d.Answer)
	}
}

// BenchmarkDiagnose diagnoses the demo, 60 readings of 25 unknowns, and 60 readings of 24
// changes and 72 unknowns: with a source of 8 µC/m² half of the places are out of range,
// with 5 none is.
func BenchmarkDiagnose(b *testing.B) {
	l, s := floor(b, 5)
	b.Run("60x25", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			diagnose(b, l, s)
		}
	})
	l, s = floor(b, 9)
	b.Run("60x25-out", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			diagnose(b, l, s)
		}
	})
	for _, c := range []struct {
		name string
		main float64
	}{{"60x72", 5}, {"60x72-out", 8}} {
		name, main := c.name, c.main
		l, s := sixty(b, main)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				diagnose(b, l, s)
			}
		})
	}
	l, s = newLine(b, demoDescription(b)), demoSurvey(b)
	b.Run("demo", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			diagnose(b, l, s)
		}
	})
}

// longSurvey reads two spots at every place of a long line.
func longSurvey(d *line.Description) *survey.Survey {
	s := &survey.Survey{}
	for i := range d.Stations {
		if d.Stations[i].Kind != line.Place {
			continue
		}
		for k := range 2 {
			r := survey.Reading{Repeat: 1, Speed: d.Speed}
			r.Look = line.Look{Station: d.Stations[i].Name, Quantity: line.FieldMeter, Face: line.FaceA, Running: true,
				Meter: "meter 1", Distance: 25 * units.Millimetre, Cross: units.Length(0.3 + 0.5*float64(k))}
			r.Value = 3000 * math.Sin(float64(i)/50) * (1 + 0.1*counter.Normal(3, uint64(2*i+k)))
			s.Readings = append(s.Readings, r)
		}
	}
	return s
}

// BenchmarkLongLine diagnoses a thousand stations, all places of which were read; under
// 5 s is asked.
func BenchmarkLongLine(b *testing.B) {
	d := longLine(b, 1000)
	l, s := newLine(b, d), longSurvey(d)
	for b.Loop() {
		diagnose(b, l, s)
	}
}
