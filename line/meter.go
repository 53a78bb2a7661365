package line

import (
	"fmt"
	"math"

	"example.org/pithball/charge/field"
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
	Cross    units.Length // position across the web from edge A, 0: not recorded
	Roll     units.Length // diameter of the wound roll that a field meter reads at an unwind or winder
	Running  bool         // whether the line runs
	Meter    string       // name of the meter in the description
}

// View is how a reading sees the web at its station.
type View struct {
	Station, Meter int     // indices in the description
	OnA, OnB       float64 // [V/(C/m²)] display per charge density of each face
	Sensitivity    float64 // [1] relative error of the display from placing
	PlaceSD        float64 // [1] relative standard deviation of the geometry, or of the film
	Edge           float64 // [1] what is left of the display near an edge of the web; in OnA and OnB
	Most           float64 // [V] a greater display says nothing of the web; 0: no such limit
	OverFilm       bool    // over a roller
	Unused         string  // why the reading does not enter an estimate of charge
}

// FieldMeter returns the field meter of that name, with the full scale that the
// description gives it (10 MV if it gives none): for what the meter shows of a field,
// or what a reading says, away from the line. An unknown name, and a voltmeter, are a
// [*known.FieldError].
func (l *Line) FieldMeter(name string) (field.FieldMeter, error) {
	for i := range l.desc.Meters {
		m := &l.desc.Meters[i]
		if m.Name != name || m.Kind != FieldMeterKind {
			continue
		}
		full := m.FullScale
		if full == 0 {
			full = units.DisplayVoltage(mostVolts)
		}
		return field.NewFieldMeter(field.FieldMeterSpec{Nominal: m.Nominal, FaceRadius: m.FaceRadius, Guarded: m.Guarded,
			SheetRadius: l.desc.Web.Width / 2, FullScale: full})
	}
	return field.FieldMeter{}, known.Wrong("meter", name, "the name of a field meter of the description")
}

// PerOuter is the potential of the web on an earthed roller per charge density
// of its outer face. [V/(C/m²)]
func (l *Line) PerOuter() float64 {
	return float64(l.film.SurfaceVoltage(units.MicrocoulombPerSquareMetre)) / float64(units.MicrocoulombPerSquareMetre)
}

// View works out how a reading sees the web. Errors are [*known.FieldError]s: an
// unknown station or meter, a station where the quantity cannot be read.
func (l *Line) View(r *Look) (View, error) {
	var w View
	var err error
	if w.Station, w.Meter, err = l.desc.look(r); err != nil {
		return w, err
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
	w.Edge = 1
	if r.Quantity == OverRoller {
		return l.viewOverRoller(w, r), nil
	}
	switch {
	case kind == Unwind || kind == Winder:
		return l.viewRoll(w, r), nil
	case (kind == Roller || kind == Nip) && r.Gap == 0:
		w.Unused = "not used: a field meter over a roller sees almost nothing of the web; " +
			"a reading beside it needs the gap behind the web"
		return w, nil
	}
	factor, sd := l.PlaceFactor(w.Station, r.Distance, r.Gap)
	w.PlaceSD = sd
	if !(factor > 0) {
		w.Unused = "not used: the metal behind the web leaves nothing for the meter to see"
		return w, nil
	}
	if w.Edge = l.edge(w.Station, r); w.Edge < edgeLeast {
		w.Unused = "not used: too near the edge of the web, where the display says more of the edge than of the charge"
		return w, nil
	}
	m := l.meters[w.Meter]
	w.OnA = w.Edge * float64(
		m.DisplayAt(units.MicrocoulombPerSquareMetre, factor),
	) / float64(
		units.MicrocoulombPerSquareMetre,
	)
	w.OnB = w.OnA
	w.Sensitivity = math.Abs(
		m.DistanceSensitivity(r.Distance, gapFor(r.Distance, factor)),
	) * float64(
		l.desc.Meters[w.Meter].Placing,
	) / float64(
		r.Distance,
	)
	return w, nil
}

// edgeLeast is the least share of the display in mid-web at which a reading near an
// edge still says something of the charge.
const edgeLeast = 0.6

// edge is the display at the reading's position across the web over that on its
// middle line: two edges of a wide sheet, field.EdgeFactor, less the sheet itself.
func (l *Line) edge(i int, r *Look) float64 {
	s, w := &l.desc.Stations[i], l.desc.Web.Width
	gap := r.Gap
	switch {
	case gap > 0:
	case s.Past != nil:
		gap = field.GapBehindRoller(s.Past.Radius, s.Past.X)
	default:
		gap = s.Gap
	}
	if r.Cross <= 0 || gap <= 0 {
		return 1
	}
	at := field.EdgeFactor(
		r.Cross,
		r.Distance,
		gap,
	) + field.EdgeFactor(
		w-r.Cross,
		r.Distance,
		gap,
	) - field.FieldFactor(
		r.Distance,
		gap,
	)
	return max(at/field.StripFactor(w, r.Distance, gap), 0)
}

// viewOverRoller is the view of a non-contact voltmeter over a roller: it reads the
// face that does not lie on the metal.
func (l *Line) viewOverRoller(w View, r *Look) View {
	s := &l.desc.Stations[w.Station]
	switch {
	case s.Roller.Kind != BareMetal:
		w.Unused = "not used: a voltmeter over an insulating roller does not read against earthed metal"
	case s.Kind == Roller && s.Change[0].Face == r.Face:
		w.Unused = fmt.Sprintf(
			"not used: face %s lies on the roller; a voltmeter over it sees face %s",
			r.Face,
			r.Face.Other(),
		)
	}
	w.OverFilm = true
	// Air carried under the web adds to the film.
	w.PlaceSD = math.Hypot(l.filmSD, float64(airUnderWeb)*l.film.RelativePermittivity/float64(l.film.Thickness))
	volts := l.PerOuter()
	if r.Face == FaceA {
		w.OnA = volts
	} else {
		w.OnB = volts
	}
	return w
}

// airUnderWeb is the thickness of the air that a running web carries onto a roller,
// to which its reading is uncertain: a judgement.
const airUnderWeb = 1 * units.Micrometre

// viewRoll is the view of a field meter at the wound roll: the field of all its
// wraps (package field, Roll) on an insulating core, doubled by the earthed face of
// the meter as that of a line charge before a plane, 2R/(R + d).
func (l *Line) viewRoll(w View, r *Look) View {
	s := &l.desc.Stations[w.Station]
	core := s.Core
	if core == 0 {
		core = 40 * units.Millimetre
	}
	switch {
	case r.Roll == 0:
		w.Unused = "not used: a reading on the wound roll needs the roll's diameter"
		return w
	case s.Earthed:
		w.Unused = "not used: earthed metal inside the roll takes its field"
		return w
	case r.Roll <= 2*core:
		w.Unused = "not used: the roll is not thicker than its core"
		return w
	}
	web := &l.desc.Web
	per := func(outer, inner units.SurfaceChargeDensity) float64 {
		roll, err := field.NewRoll(
			field.RollSpec{CoreRadius: core, Thickness: web.Thickness, RelativePermittivity: web.RelativePermittivity.Value,
				Outer: outer, Inner: inner, Surroundings: max(2*units.Metre, r.Roll)},
		)
		if err != nil {
			return 0
		}
		n := int(math.Round(float64(r.Roll/2-core) / float64(web.Thickness)))
		mirror := float64(r.Roll) / float64(r.Roll/2+r.Distance)
		e := units.ElectricField(float64(roll.At(n).Field) * mirror)
		return float64(l.meters[w.Meter].DisplayOf(e)) / float64(units.MicrocoulombPerSquareMetre)
	}
	w.OnA, w.OnB = per(units.MicrocoulombPerSquareMetre, 0), per(0, units.MicrocoulombPerSquareMetre)
	w.PlaceSD = 0.3
	// Beyond this display the air at the roll has given way and it says nothing of
	// the web.
	w.Most = 0.5 * float64(l.netCap) / units.Epsilon0 * float64(l.desc.Meters[w.Meter].Nominal)
	return w
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
// expected [V], for charges that are known; NaN where [Line.Noise] is.
func (l *Line) Deviation(w *View, mid float64) float64 {
	if w.Meter < 0 || w.Meter >= len(l.desc.Meters) {
		return math.NaN()
	}
	m := &l.desc.Meters[w.Meter]
	n := l.Noise(w, mid)
	return math.Sqrt(sq(n.Own) + sq(n.Gain*float64(m.Gain)) + sq(float64(m.Offset)) + sq(n.Place*w.PlaceSD))
}

// Expect returns the 5, 50 and 95 % quantiles of what a reading shows if the web
// carries the charges a and b on its faces at the reading's station: the spread
// of the meter, of its placing, of the geometry and of the spots; volts for a field meter
// and a voltmeter over a roller. The Look needs its Meter, and Running for the web in motion; a field
// meter reads beside rollers and nips, where metal is a known gap behind the web, and at a
// wound roll of a stated diameter. Errors are [*known.FieldError]s: an unknown station
// or meter, a quantity or place that does not see the charge of the web.
func (l *Line) Expect(
	r *Look,
	a, b units.SurfaceChargeDensity,
) (band [3]float64, err error) { // [unit of the quantity]
	w, err := l.View(r)
	if err != nil {
		return band, err
	}
	if w.Unused != "" {
		return band, known.Wrong("quantity", r.Quantity, "a reading of the running web: "+w.Unused)
	}
	mid := w.OnA*float64(a) + w.OnB*float64(b)
	if math.IsNaN(mid) || math.IsInf(mid, 0) {
		// A caller who compares a reading with a band of NaN finds no difference.
		return band, known.Wrong("charge", a, "finite charges on both faces; the web of a line that stands has none here")
	}
	sd := l.Deviation(&w, mid)
	return [3]float64{mid - known.Z95*sd, mid, mid + known.Z95*sd}, nil
}

func sq(x float64) float64 { return x * x }
