package ioniser

import (
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Station is a source at its position along the web.
type Station struct {
	Place *Place       // the source before the web
	At    units.Length // of its middle, along the web
}

// Series is a number of sources that a web passes one after another. The zero value gives NaN.
type Series struct{ list []Station }

// NewSeries checks that the sources stand in the order of the web and act one after another. Two sources whose
// zones overlap, one beside the other on one face or facing it across the web, share the field of the charge
// and the room for their ions: what they do together is not the sum, no law for it is known here, and they are
// refused. Errors are joined [*known.FieldError]s.
func NewSeries(list ...Station) (Series, error) {
	if len(list) == 0 {
		return Series{}, known.Wrong("stations", "none", "at least one")
	}
	for k, s := range list {
		name := fmt.Sprintf("stations[%d]", k)
		if s.Place == nil || s.Place.source == nil {
			return Series{}, known.Wrong(name+".place", "nil", "a place")
		}
		if err := known.Finite(name+".at", s.At); err != nil {
			return Series{}, err
		}
		if k == 0 {
			continue
		}
		before := list[k-1]
		least := before.At + (before.Place.Zone()+s.Place.Zone())/2
		if s.At < least {
			return Series{}, known.Wrong(name+".at", s.At,
				fmt.Sprintf("%v or more: the zones of two sources that share a field are not added", least))
		}
	}
	return Series{append([]Station(nil), list...)}, nil
}

// Act returns what is left after all sources, and what each did.
func (s Series) Act(dst []Result, net units.SurfaceChargeDensity, v units.Speed) (units.SurfaceChargeDensity,
	known.Validity) {
	left, flag, _ := s.act(dst, net, v, -1)
	return left, flag
}

// act leaves out the source skip.
func (s Series) act(dst []Result, net units.SurfaceChargeDensity, v units.Speed,
	skip int) (units.SurfaceChargeDensity, known.Validity, int) {
	var flag known.Validity
	n := 0
	if s.list == nil {
		net, flag = units.SurfaceChargeDensity(math.NaN()), known.WrongShape
	}
	for k := range s.list {
		r := Result{Left: net}
		if k != skip {
			r = s.list[k].Place.Act(net, v)
		}
		net, flag = r.Left, flag|r.Validity
		if k < len(dst) {
			dst[k] = r
			n++
		}
	}
	return net, flag, n
}

// Failure is what is left when one source of a series is off.
type Failure struct {
	Off      int                        // index of the source
	Left     units.SurfaceChargeDensity // net charge density after the others
	Validity known.Validity             // of it
}

// IfOneFails returns what is left with each source off in turn, in their order. A source with air that
// has lost its voltage still blows; its air does nothing to the charge.
func (s Series) IfOneFails(net units.SurfaceChargeDensity, v units.Speed) []Failure {
	out := make([]Failure, len(s.list))
	for k := range out {
		left, flag, _ := s.act(nil, net, v, k)
		out[k] = Failure{k, left, flag}
	}
	return out
}

// Zone returns the length of web on which the source acts: the contact length of a stream, 1.2 times the
// distance of points.
func (p *Place) Zone() units.Length {
	if p.source == nil {
		return units.Length(math.NaN())
	}
	return units.Length(p.source.zone)
}
