package line

import (
	"errors"
	"slices"

	"example.org/pithball/units/known"
)

// CheckLook finds what the description has nothing of: the station and, of a reading of
// the running web, the meter, each by its name, and a roller under a voltmeter. It asks
// nothing else of the description, which [New] may refuse: who writes a description and
// readings wants the faults of both in one round. Errors are [*known.FieldError]s, joined.
func (d *Description) CheckLook(r *Look) error {
	_, _, err := d.look(r)
	return err
}

// look returns the indices of the station and of the meter, 0 where none is needed.
func (d *Description) look(r *Look) (station, meter int, err error) {
	station = slices.IndexFunc(d.Stations, func(s StationSpec) bool { return s.Name == r.Station })
	meter = slices.IndexFunc(d.Meters, func(m Meter) bool { return m.Name == r.Meter })
	var want MeterKind
	switch r.Quantity {
	case FieldMeter:
		want = FieldMeterKind
	case OverRoller:
		want = VoltmeterKind
	}
	var noMeter error
	// A kind that was not read is told of the description.
	if want != 0 && (meter < 0 || d.Meters[meter].Kind != want && d.Meters[meter].Kind != 0) {
		noMeter = known.Wrong("meter", r.Meter, "the name of a "+want.String()+" of the description")
	}
	meter = max(meter, 0)
	switch {
	case station < 0:
		return station, meter, errors.Join(
			known.Wrong("station", r.Station, "the name of a station of the description"), noMeter)
	case want == 0 || !r.Running:
		return station, meter, nil
	case noMeter != nil:
		return station, meter, noMeter
	}
	if kind := d.Stations[station].Kind; want == VoltmeterKind && kind != Roller && kind != Nip && kind != 0 {
		return station, meter, known.Wrong("station", r.Station, "a roller or nip for an over-roller voltmeter")
	}
	return station, meter, nil
}
