package jet

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Supply is the compressed air that blows through a hole, a slot or a row of holes.
type Supply struct {
	Gauge       units.GaugePressure // at the holes or the slot, above 0
	Ambient     units.Pressure      // of the room
	Temperature units.Temperature   // of the supplied air
	Discharge   float64             // [1] coefficient of the holes or the slot, see [NozzleSpec]
}

// Blow returns the jet that the supply blows through the geometric shape of spec, whose Speed is not used, and the
// mass flow: per metre of width in kg/(s·m) of a slot or a row, in kg/s of one hole. The equivalent source carries
// the mass and the momentum of the real, choked or contracted, one at the density of the room ([Nozzle.Flow]);
// consumption is that of [Standard]. A gauge pressure of 0 is an error, for there is no jet; the other
// ranges are those of [NewNozzle], [Nozzle.Flow] and [NewJet].
func (s Supply) Blow(spec JetSpec) (Jet, float64, error) { // [kg/(s·m)] or [kg/s]
	fail := func(err error) (Jet, float64, error) { return Jet{}, math.NaN(), err }
	errs := []error{known.Positive("gauge", s.Gauge), known.Positive("width", spec.Width)}
	area, per := Hole(spec.Width), 1.0
	switch spec.Kind {
	case Plane:
		area = units.Area(spec.Width) // one metre of slot
	case Row:
		errs = append(errs, known.Positive("pitch", spec.Pitch))
		per = 1 / float64(spec.Pitch)
	}
	if err := errors.Join(errs...); err != nil {
		return fail(err)
	}
	n, err := NewNozzle(NozzleSpec{Area: area, Discharge: s.Discharge})
	if err != nil {
		return fail(err)
	}
	f, err := n.Flow(s.Gauge, s.Ambient, s.Temperature)
	if err != nil {
		return fail(err)
	}
	spec.Speed, spec.Width = f.Jet, f.Diameter
	if spec.Kind == Plane {
		spec.Width = units.Length(Hole(f.Diameter)) // the same area, one metre long
	}
	j, err := NewJet(spec)
	if err != nil {
		return fail(err)
	}
	return j, float64(f.Mass) * per, nil
}
