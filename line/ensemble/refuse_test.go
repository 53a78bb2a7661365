package ensemble

import (
	"errors"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// good is a line of one contact, a way and an ioniser.
func good() Spec {
	return Spec{Humidity: known.Band{Value: 0.4}, Leak: &Leak{Time: units.Second}, Steps: []Step{
		{Contact: &Contact{Face: line.FaceA, Exposure: known.Band{Value: 1}}, Read: true}, {Way: units.Second},
		{Ioniser: &Ioniser{Face: line.FaceB, Share: 0.5}}}}
}

func TestNewRefuses(t *testing.T) {
	ok := good()
	if _, err := New(&ok); err != nil {
		t.Fatal(err)
	}
	if _, err := New(nil); err == nil {
		t.Error("nothing was taken for a specification")
	}
	for field, spoil := range map[string]func(s *Spec){
		"steps":                       func(s *Spec) { s.Steps = nil },
		"humidity":                    func(s *Spec) { s.Humidity.Value = 1.1 },
		"humidity.kind":               func(s *Spec) { s.Humidity.Kind = known.AtLeast },
		"dampest":                     func(s *Spec) { s.Dampest = 1.1 },
		"driest":                      func(s *Spec) { s.Driest, s.Dampest = 0.5, 0.4 },
		"leak.time":                   func(s *Spec) { s.Leak.Time = 0 },
		"leak.decades":                func(s *Spec) { s.Leak.Decades = -1 },
		"leak.at":                     func(s *Spec) { s.Leak.At = 2 },
		"steps[0]":                    func(s *Spec) { s.Steps[0].Way = 1 },
		"steps[1]":                    func(s *Spec) { s.Steps[1].Way = 0 },
		"steps[1].way":                func(s *Spec) { s.Steps[1].Way = -1 },
		"steps[0].contact.face":       func(s *Spec) { s.Steps[0].Contact.Face = line.NoFace },
		"steps[0].contact.saturation": func(s *Spec) { s.Steps[0].Contact.Saturation.Value = 2e-3 },
		"steps[0].contact.exposure":   func(s *Spec) { s.Steps[0].Contact.Exposure.Value = 0 },
		"steps[0].contact.cap":        func(s *Spec) { s.Steps[0].Contact.Cap = -1e-6 },
		"steps[2].ioniser.face":       func(s *Spec) { s.Steps[2].Ioniser.Face = line.NoFace },
		"steps[2].ioniser.share":      func(s *Spec) { s.Steps[2].Ioniser.Share = 1.5 },
		"steps[2].ioniser.most":       func(s *Spec) { s.Steps[2].Ioniser.Most = 1 },
		"steps[0].contact.exposure.spread": func(s *Spec) {
			s.Steps[0].Contact.Exposure = known.Band{Value: 1, Spread: 6, Kind: known.LogNormal}
		},
	} {
		s := good()
		spoil(&s)
		names(t, field, func() error { _, err := New(&s); return err }())
	}
}

// names wants an error that names the field.
func names(t *testing.T, field string, err error) {
	t.Helper()
	var fe *known.FieldError
	if !errors.As(err, &fe) || !strings.Contains(err.Error(), field+":") {
		t.Errorf("%s: %v", field, err)
	}
}

func TestRunRefuses(t *testing.T) {
	s := good()
	l, err := New(&s)
	if err != nil {
		t.Fatal(err)
	}
	_, err = l.Run(1, 0, 0, 0.5)
	names(t, "lines", err)
	if two, err := l.Run(2, 0, 0, 0.5); err != nil || two.Lines != 2 {
		t.Errorf("two lines: %v", err)
	}
	_, err = l.Run(100, 0, 0, 1.5)
	names(t, "chances", err)
	_, err = l.Run(100, 0, -1e-6, 0.5)
	names(t, "limit", err)
}

func TestFitRefuses(t *testing.T) {
	fit := func(spoil func(s *Spec)) error {
		s := good()
		spoil(&s)
		l, err := New(&s)
		if err != nil {
			t.Fatal(err)
		}
		_, err = l.Fit()
		return err
	}
	full := good()
	full.Steps[0].Contact.Exposure = known.Band{Value: 50.5}
	_, err := New(&full)
	names(t, "steps[0].contact.exposure", err)
	full.Steps[0].Contact.Exposure = known.Band{Value: 1}
	single := before(t)
	names(t, "mean", single.All(make([]float64, 2), make([]float64, 1), make([]float64, 2), 1e-6, nil))
	names(t, "mean", single.All(make([]float64, 1), make([]float64, 2), make([]float64, 2), 1e-6, nil))
	names(t, "steps[0]", fit(func(s *Spec) { s.Steps[0].Contact.Cap = 1e-6 }))
	names(t, "steps[2]", fit(func(s *Spec) { s.Steps[2].Ioniser.Most = 1e-6 }))
	names(t, "steps[0].contact.saturation.kind", fit(func(s *Spec) {
		s.Steps[0].Contact.Saturation = known.Band{Value: 1e-6, Spread: 1, Kind: known.LogNormal}
	}))
	names(t, "steps", fit(func(s *Spec) { s.Steps[0].Read = false }))
	names(t, "steps", fit(func(s *Spec) { s.Steps = s.Steps[1:] }))
	s := good()
	l, err := New(&s)
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Fit()
	if err != nil {
		t.Fatal(err)
	}
	one := make([]float64, 1)
	names(t, "mean", f.All(one, one, make([]float64, 2), 1e-6, nil))
	names(t, "leak", f.All(one, one, one, 1e-6, make([]units.Time, 2)))
	names(t, "leak[0]", f.All(one, one, one, 1e-6, make([]units.Time, 1)))
	names(t, "noise", f.All(one, one, one, 0, nil))
}
