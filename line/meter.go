package line

import (
	"math"
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Look is how one reading of the web is taken: what, with which meter, where.
type Look struct {
	Station  string       // name of the station in the description
	Quantity Quantity     // what is read
	Face     Face         // the face the instrument looks at
	Distance units.Length // from instrument to web; field meter
	Gap      units.Length // from the web to the metal behind it, 0: that of the station
	Running  bool         // whether the line runs
	Meter    string       // name of the meter in the description
}

// View is how a reading sees the web at its station.
type View struct {
	Station, Meter int     // indices in the description
	OnA, OnB       float64 // [V/(C/m²)] display per charge density of each face
	Sensitivity    float64 // [1] relative error of the display from placing
	PlaceSD        float64 // [1] relative standard deviation of the geometry, or of the film
	OverFilm       bool    // over a roller
	Unused         string  // why the reading does not enter an estimate of charge
}

// PerOuter is the potential of the web on an earthed roller per charge density
// of its outer face. [V/(C/m²)]
func (l *Line) PerOuter() float64 {
	return float64(l.film.SurfaceVoltage(units.MicrocoulombPerSquareMetre)) / float64(units.MicrocoulombPerSquareMetre)
}

// View works out how a reading sees the web. Errors are [*known.FieldError]s: an
// unknown station or meter, a station where the quantity cannot be read.
func (l *Line) View(r *Look) (View, error) {
	w := View{Station: l.Station(r.Station)}
	if w.Station < 0 {
		return w, known.Wrong("station", r.Station, "the name of a station of the description")
	}
	kind := l.desc.Stations[w.Station].Kind
	switch {
	case r.Quantity == EarthResistance:
		w.Unused = "ground check"
		return w, nil
	case r.Quantity != FieldMeter && r.Quantity != OverRoller:
		w.Unused = "not used: " + r.Quantity.String() + " does not enter this estimate"
		return w, nil
	case !r.Running:
		w.Unused = "not used: the line stood still"
		return w, nil
	}
	want := map[Quantity]string{FieldMeter: "field meter", OverRoller: "voltmeter"}[r.Quantity]
	w.Meter = slices.IndexFunc(l.desc.Meters, func(m Meter) bool { return m.Name == r.Meter })
	if w.Meter < 0 || l.desc.Meters[w.Meter].Kind != want {
		return w, known.Wrong("meter", r.Meter, "the name of a "+want+" of the description")
	}
	metal := kind == Roller || kind == Nip
	if r.Quantity == OverRoller {
		if !metal {
			return w, known.Wrong("station", r.Station, "a roller or nip for an over-roller voltmeter")
		}
		if l.desc.Stations[w.Station].Roller.Kind != "metal" {
			w.Unused = "not used: a voltmeter over an insulating roller does not read against earthed metal"
		}
		w.OverFilm, w.PlaceSD = true, l.filmSD
		volts := l.PerOuter()
		if r.Face == FaceA {
			w.OnA = volts
		} else {
			w.OnB = volts
		}
		return w, nil
	}
	if metal {
		w.Unused = "not used: a field meter over a roller sees almost nothing of the web"
	}
	factor, sd := l.PlaceFactor(w.Station, r.Distance, r.Gap)
	w.PlaceSD = sd
	if factor > 0 {
		m := l.meters[w.Meter]
		w.OnA = float64(m.DisplayAt(units.MicrocoulombPerSquareMetre, factor)) / float64(units.MicrocoulombPerSquareMetre)
		w.OnB = w.OnA
		w.Sensitivity = math.Abs(m.DistanceSensitivity(r.Distance, gapFor(r.Distance, factor))) * float64(l.desc.Meters[w.Meter].Placing) / float64(r.Distance)
	}
	return w, nil
}

// gapFor returns the gap h for which h/(d+h) is the factor, by which a place
// behind a roller gets its sensitivity to distance; a factor of 1 gives 1 km.
func gapFor(d units.Length, factor float64) units.Length {
	const far = 1000 * units.Metre
	if factor >= 1 {
		return far
	}
	return min(units.Length(float64(d)*factor/(1-factor)), far)
}

// Deviation is the standard deviation [V] of what a reading shows of which mid is
// expected [V], for charges that are known.
func (l *Line) Deviation(w *View, mid float64) float64 {
	m := &l.desc.Meters[w.Meter]
	n := l.Noise(w, mid)
	return math.Sqrt(sq(n.Own) + sq(n.Gain*float64(m.Gain)) + sq(float64(m.Offset)) + sq(n.Place*w.PlaceSD))
}

// Expect returns the 5, 50 and 95 % quantiles of what a reading shows if the web
// carries the charges a and b on its faces at the reading's station: the spread
// of the meter, of its placing, of the geometry and of the spots.  Errors are [*known.FieldError]s: an unknown station or
// meter, a quantity that does not see the charge of the web.
func (l *Line) Expect(r *Look, a, b units.SurfaceChargeDensity) (band [3]float64, err error) { // [unit of the quantity]
	w, err := l.View(r)
	if err != nil {
		return band, err
	}
	if w.Unused != "" {
		return band, known.Wrong("quantity", r.Quantity, "a reading of the running web: "+w.Unused)
	}
	mid := w.OnA*float64(a) + w.OnB*float64(b)
	sd := l.Deviation(&w, mid)
	return [3]float64{mid - known.Z95*sd, mid, mid + known.Z95*sd}, nil
}

func sq(x float64) float64 { return x * x }
