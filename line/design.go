package line

import (
	"math"

	"example.org/pithball/charge/field"
	"example.org/pithball/units"
)

// Unknown is one number that a survey is asked for: what one face gained at one
// station, or at an unwind the charge with which it left the roll.
type Unknown struct {
	Station int  // index of the station in the description
	Face    Face // the face that gained it
}

// Unknowns lists what a survey of the line can be asked for: every face that a
// contact touches and every face that an ioniser meets, with the prior median and
// standard deviation of the change [C/m²].
func (l *Line) Unknowns() (u []Unknown, median, spread []float64) {
	for i := range l.desc.Stations {
		s := &l.desc.Stations[i]
		for j := range s.Change {
			c := &s.Change[j]
			u = append(u, Unknown{i, c.Face})
			median = append(median, float64(c.Median))
			spread = append(spread, float64(c.Spread))
		}
		if s.Ioniser != nil {
			u = append(u, Unknown{i, s.Ioniser.Face})
			median = append(median, 0)
			spread = append(spread, ionSpread)
		}
	}
	return u, median, spread
}

// ionSpread is the prior standard deviation of what an ioniser deposits: wide,
// so that readings before and after it decide. [C/m²]
const ionSpread = 10e-6

// Response walks the path once with unit changes: after station i the charge
// of face f is Σ_k a[i][f][k]·x[k], because everything that happens between
// contacts (leak along a named path, pairing of the faces by bulk conduction) is
// linear [1]. off names stations whose change is left out.
func (l *Line) Response(u []Unknown, v units.Speed, off []string) [][2][]float64 {
	n := len(l.desc.Stations)
	out := make([][2][]float64, n)
	var cur [2][]float64
	for f := range cur {
		cur[f] = make([]float64, len(u))
	}
	for i := range n {
		if i > 0 {
			keepNet, keepDiff := l.steps[i-1].between(v)
			for k := range u {
				net, diff := cur[0][k]+cur[1][k], cur[0][k]-cur[1][k]
				net *= keepNet
				diff *= keepDiff
				cur[0][k], cur[1][k] = (net+diff)/2, (net-diff)/2
			}
		}
		skip := false
		for _, o := range off {
			skip = skip || o == l.desc.Stations[i].Name
		}
		for k := range u {
			if u[k].Station == i && !skip && (u[k].Face == FaceA || u[k].Face == FaceB) {
				cur[u[k].Face-1][k]++
			}
		}
		out[i] = [2][]float64{append([]float64(nil), cur[0]...), append([]float64(nil), cur[1]...)}
	}
	return out
}

// PlaceFactor returns the share of the far-away field that a wide earthed face
// at the given distance sees of the web at station i, and the relative standard
// deviation of that share: 2 % behind a roller whose radius and place are known
// (two-dimensional field), 8 % for the local-gap formula, which lies 3–13 % low
// behind rollers: h/(d+h), less for a web that is not wide against d + h. A gap of more than 0 replaces the station's
// geometry. At a
// roller or nip the web lies on metal and the factor is that of the film. Both are
// NaN if there is no station i.
func (l *Line) PlaceFactor(i int, distance, gap units.Length) (factor, sd float64) { // [1]
	if i < 0 || i >= len(l.desc.Stations) {
		return math.NaN(), math.NaN()
	}
	s := &l.desc.Stations[i]
	switch {
	case gap > 0:
		return field.StripFactor(l.desc.Web.Width, distance, gap), 0.08
	case s.Past != nil:
		return field.RollerFieldFactor(s.Past.Radius, s.Past.X, distance), 0.02
	case s.Gap > 0:
		return field.StripFactor(l.desc.Web.Width, distance, s.Gap), 0.08
	case s.Kind == Roller || s.Kind == Nip:
		return l.film.OverRollerFactor(distance), 0.1
	}
	return 1, 0.08 // unwind and winder: taken as a free span before or behind the roll
}

// Noise is the error model of one reading whose expected display is fit: its own
// standard deviation and the derivative of the display with respect to the errors
// that readings share.
type Noise struct {
	Own    float64 // [V] standard deviation of this reading alone
	Gain   float64 // [V] per unit relative gain error of the meter
	Offset float64 // [1] per volt of offset of the meter
	Place  float64 // [V] per unit relative error of the place's factor, or of the film
}

// Noise is the error model of a reading of which fit is expected [V]; NaN for a view
// of another line, whose meter this one does not have.
func (l *Line) Noise(w *View, fit float64) Noise {
	if w.Meter < 0 || w.Meter >= len(l.desc.Meters) {
		nan := math.NaN()
		return Noise{nan, nan, nan, nan}
	}
	m := &l.desc.Meters[w.Meter]
	own := math.Abs(fit) * float64(m.Spots)
	if !w.OverFilm {
		own = math.Hypot(own, math.Abs(fit)*w.Sensitivity)
	}
	// A display has a last digit: 10 V below 2 kV, 100 V above; as a uniform error.
	if m.Kind == FieldMeterKind {
		step := 10.0
		if math.Abs(fit) > 2000 {
			step = 100
		}
		own = math.Hypot(own, step/math.Sqrt(12))
	}
	return Noise{Own: own, Gain: fit, Offset: 1, Place: fit}
}
