package ioniser

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Both ends of the range of every field of a source, with air, with points, passive.
func TestRangesOfSources(t *testing.T) {
	air := func(t *testing.T) Spec { return blownSpec(t, 0.1, 100) }
	points := func(t *testing.T) Spec { return pointSpec(t, 0.05) }
	passive := func(*testing.T) Spec { return tinsel(0.02, 0.1) }
	nan := math.NaN()
	plume := func(u, b float64) func(*Spec) { return func(s *Spec) { s.Air.Stream = flat(u, b) } }
	for _, c := range []struct {
		of     func(*testing.T) Spec
		change func(*Spec)
		field  string
	}{
		{air, func(s *Spec) { s.Distance = 1e-3 }, ""}, {air, func(s *Spec) { s.Distance = 0.99e-3 }, "distance"},
		{air, func(s *Spec) { s.Distance = 10 }, ""}, {air, func(s *Spec) { s.Distance = 10.1 }, "distance"},
		{points, func(s *Spec) { s.Distance = 1 }, ""}, {points, func(s *Spec) { s.Distance = 1.01 }, "distance"},
		{air, func(s *Spec) { s.Span = 1000 }, ""}, {air, func(s *Spec) { s.Span = 1001 }, "span"},
		{air, func(s *Spec) { s.Span = -1e-3 }, "span"}, {air, func(s *Spec) { s.Wind = 100 }, ""},
		{air, func(s *Spec) { s.Wind = 100.5 }, "wind"}, {air, func(s *Spec) { s.Wind = -0.1 }, "wind"},
		{air, func(s *Spec) { s.Offset = units.Voltage(nan) }, "offset"}, {air, func(s *Spec) { s.Offset = 0.5 }, ""},
		{air, func(s *Spec) { s.Ions.Minus = 0 }, "minus"},
		{points, func(s *Spec) { s.Offset = 3500 }, ""}, {points, func(s *Spec) { s.Offset = -3500 }, ""},
		{points, func(s *Spec) { s.Offset = 3501 }, "offset"}, {points, func(s *Spec) { s.Offset = -3501 }, "offset"},
		{passive, func(s *Spec) { s.Offset = 1 }, "offset"},
		{points, func(s *Spec) {
			s.Emitter = emitter(t, ionflow.EmitterSpec{Current: 3e-4, Voltage: 7000, Balance: 0.1})
		}, ""},
		{points, func(s *Spec) {
			s.Offset, s.Emitter = 1, emitter(t, ionflow.EmitterSpec{Current: 3e-4, Voltage: 7000, Balance: 0.1})
		}, "offset"},
		{points, func(s *Spec) { s.Points.Pitch = 1e-3 }, ""},
		{points, func(s *Spec) { s.Points.Pitch = 0.99e-3 }, "points.pitch"},
		{points, func(s *Spec) { s.Points.Pitch = 1 }, ""}, {points, func(s *Spec) { s.Points.Pitch = 1.01 }, "points.pitch"},
		{points, func(s *Spec) { s.Points.Body = 0.05 }, ""},
		{points, func(s *Spec) { s.Points.Body = 0.049 }, "points.body"},
		{points, func(s *Spec) { s.Points.Body = 100 }, ""}, {points, func(s *Spec) { s.Points.Body = 100.5 }, "points.body"},
		{points, func(s *Spec) { s.Points.Start = 0 }, ""}, {points, func(s *Spec) { s.Points.Start = -1 }, "points.start"},
		{points, func(s *Spec) { s.Points.Start = 6999 }, ""},
		{points, func(s *Spec) { s.Points.Start = 7000 }, "points.start"},
		{points, func(s *Spec) { s.Emitter = emitter(t, ionflow.EmitterSpec{Current: 3e-4}) }, "emitter.voltage"},
		{points, func(s *Spec) { s.Points.Tip = 1e-5 }, "points"}, {points, func(s *Spec) { s.Points.Delta = 1 }, "points"},
		{points, func(s *Spec) { s.Points.Law = 1 }, "points"}, {points, func(s *Spec) { s.Points.Most = 1e-3 }, "points"},
		{points, func(s *Spec) { s.Points = Points{} }, "points.pitch"},
		{air, func(s *Spec) { s.Points = Points{Start: 1} }, "points.pitch"},
		{air, func(s *Spec) { s.Air.Captured = 1e-6 }, ""}, {air, func(s *Spec) { s.Air.Captured = 0.9e-6 }, "air.captured"},
		{air, func(s *Spec) { s.Air.Captured = 1 }, ""}, {air, func(s *Spec) { s.Air.Captured = 1.01 }, "air.captured"},
		{air, func(s *Spec) { s.Air.At = 1e-3 }, ""}, {air, func(s *Spec) { s.Air.At = 0.9e-3 }, "air.at"},
		{air, func(s *Spec) { s.Air.At = 700 }, ""}, {air, func(s *Spec) { s.Air.At = 700.5 }, "air.at"},
		{air, func(s *Spec) { s.Air.Contact = 100 }, ""}, {air, func(s *Spec) { s.Air.Contact = 100.5 }, "air.contact"},
		{air, func(s *Spec) { s.Air.Contact = -0.1 }, "air.contact"}, {air, plume(700, 1e-3), ""},
		{air, plume(701, 1e-3), "air.stream"}, {air, plume(0.5, 0.5), ""}, {air, plume(1, 1e4), ""},
		{air, plume(1, 1.1e4), "air.stream"}, {air, plume(0, 1e-3), "air.stream"}, {air, plume(-1, 1e-3), "air.stream"},
		{air, plume(1, 0), "air.stream"},
		{air, func(s *Spec) { s.Air.Stream = Plume{100, 1e-3, -0.1, false} }, "air.stream"}, // ends at the web
		{passive, func(s *Spec) { s.Points.Body = 0.02201 }, ""},
		{passive, func(s *Spec) { s.Points.Body = 0.0219 }, "points.body"},
		{passive, func(s *Spec) { s.Points.Body = 100 }, ""}, {passive, func(s *Spec) { s.Points.Body = 101 }, "points.body"},
		{passive, func(s *Spec) { s.Points.Pitch = 1e-3 }, ""},
		{passive, func(s *Spec) { s.Points.Pitch = 0.9e-3 }, "points.pitch"},
		{passive, func(s *Spec) { s.Points.Pitch = 1 }, ""},
		{passive, func(s *Spec) { s.Points.Pitch = 1.01 }, "points.pitch"},
		{passive, func(s *Spec) { s.Points.Start = 1e6 }, ""},
		{passive, func(s *Spec) { s.Points.Start = 1.01e6 }, "points.start"},
		{passive, func(s *Spec) { s.Points.Start = -1 }, "points.start"},
		{passive, func(s *Spec) { s.Points.Start, s.Points.Tip = 1, 0 }, ""},
		{passive, func(s *Spec) { s.Points.Delta = 0.3 }, ""},
		{passive, func(s *Spec) { s.Points.Delta = 0.29 }, "points.delta"},
		{passive, func(s *Spec) { s.Points.Delta = 1.5 }, ""},
		{passive, func(s *Spec) { s.Points.Delta = 1.51 }, "points.delta"},
		{passive, func(s *Spec) { s.Points.Most = 1e-9 }, ""},
		{passive, func(s *Spec) { s.Points.Most = 0.9e-9 }, "points.most"},
		{passive, func(s *Spec) { s.Points.Most = 0.1 }, ""},
		{passive, func(s *Spec) { s.Points.Most = 0.101 }, "points.most"},
		{passive, func(s *Spec) { s.Points.Tip = 1e-6 }, ""},
		{passive, func(s *Spec) { s.Points.Tip = 0.9e-6 }, "points.tip"},
		{passive, func(s *Spec) { s.Points.Tip = 2e-3 }, ""},
		{passive, func(s *Spec) { s.Points.Tip = 2.01e-3 }, "points.tip"},
		{passive, func(s *Spec) { s.Distance, s.Points.Tip = 3e-3, 1.5e-3 }, ""},
		{passive, func(s *Spec) { s.Distance, s.Points.Tip = 3e-3, 1.6e-3 }, "points.tip"},
		{passive, func(s *Spec) { s.Points.Law = ionflow.PeekSphere }, ""},
		{passive, func(s *Spec) { s.Points.Law = ionflow.PeekSphere + 1 }, "points.law"},
	} {
		s := c.of(t)
		c.change(&s)
		_, err := New(s)
		var fe *known.FieldError
		switch {
		case c.field == "" && err != nil:
			t.Error(err)
		case c.field != "" && (!errors.As(err, &fe) || fe.Field != c.field):
			t.Errorf("%v, want an error about %s", err, c.field)
		}
	}
	src, err := New(tinsel(0.02, 0.1))
	if err != nil {
		t.Fatal(err)
	}
	if p := src.Spec().Points; p.Delta != 1 || p.Most != 1e-3 {
		t.Errorf("defaults %+v", p)
	}
	if src, err = New(pointSpec(t, 0.05)); err != nil || src.Spec().Points.Body != 0.05 {
		t.Errorf("a body at %v, %v", src.Spec().Points.Body, err)
	}
	s := blownSpec(t, 0.1, 80)
	s.Air.At = 0
	if src, err = New(s); err != nil || src.Spec().Air.At != 80 {
		t.Errorf("captured at %v, %v", src.Spec().Air.At, err)
	}
}
