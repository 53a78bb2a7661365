package field

import (
	"math"
	"strconv"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// FaceObservation is one measured combination of the two face charges,
// WeightA·σ_A + WeightB·σ_B = Value ± SD. Build it with [ObservedNet],
// [ObservedFaceA] and [ObservedFaceB].
type FaceObservation struct {
	WeightA float64                    // [1] share of face A in the reading
	WeightB float64                    // [1] share of face B in the reading
	Value   units.SurfaceChargeDensity // measured combination
	SD      units.SurfaceChargeDensity // its standard deviation, more than 0
}

// ObservedNet is a field-meter reading in a free span: the sum of both faces.
func ObservedNet(net, sd units.SurfaceChargeDensity) FaceObservation {
	return FaceObservation{1, 1, net, sd}
}

// ObservedFaceA is a voltmeter reading over a roller with face A outside.
func ObservedFaceA(a, sd units.SurfaceChargeDensity) FaceObservation {
	return FaceObservation{1, 0, a, sd}
}

// ObservedFaceB is a voltmeter reading over a roller with face B outside.
func ObservedFaceB(b, sd units.SurfaceChargeDensity) FaceObservation {
	return FaceObservation{0, 1, b, sd}
}

// FacesKnown says what a set of observations determines.
type FacesKnown uint8

// What is determined.
const (
	NothingKnown   FacesKnown = iota // no observation
	OneCombination                   // one combination, for example the net charge alone
	BothFacesKnown                   // both faces
)

var facesNames = [...]string{"nothing", "one combination", "both faces"}

// String returns the name, or "FacesKnown(n)".
func (k FacesKnown) String() string { return enum.Name("FacesKnown", facesNames[:], k) }

// MarshalText writes the name; a value that says nothing is a
// [*known.FieldError].
func (k FacesKnown) MarshalText() ([]byte, error) { return enum.Write("faces_known", facesNames[:], k) }

// UnmarshalText reads a name as written by String.
func (k *FacesKnown) UnmarshalText(b []byte) error {
	return enum.Read("faces_known", facesNames[:], b, k)
}

// Advice says it in a sentence and names the measurement that would tell the rest;
// "" for an unknown value.
func (k FacesKnown) Advice() string {
	switch k {
	case NothingKnown:
		return "nothing is determined: take a field-meter reading in a free span"
	case OneCombination:
		return "only one combination of the two faces is determined; a net of zero is no sign of an uncharged film: read " +
			"the outer face over an earthed roller with a non-contact voltmeter, on a roller of each wrap side"
	case BothFacesKnown:
		return "both faces are determined"
	}
	return ""
}

// FaceCharges is the estimate of the two face charges. What the observations do not
// determine is NaN.
type FaceCharges struct {
	Known FacesKnown                 // what is determined
	A     units.SurfaceChargeDensity // face A
	B     units.SurfaceChargeDensity // face B
	SDA   units.SurfaceChargeDensity // standard deviation of A
	SDB   units.SurfaceChargeDensity // standard deviation of B
	Net   units.SurfaceChargeDensity // A + B
	SDNet units.SurfaceChargeDensity // standard deviation of Net
	// Misfit is the weighted sum of squared residuals: of the order of the number
	// of observations less 2 if the observations agree. [1]
	Misfit float64
}

// SeparateFaces estimates both face charges from any observations by weighted
// least squares (Gauss–Markov; with normal errors the maximum of likelihood).
// The standard deviations follow from those of the observations, whatever the
// misfit. It returns a [*known.FieldError] for a weight or value that is not
// finite, both weights zero, or a standard deviation that is not above 0.
func SeparateFaces(obs ...FaceObservation) (FaceCharges, error) {
	nan := units.SurfaceChargeDensity(math.NaN())
	f := FaceCharges{A: nan, B: nan, SDA: nan, SDB: nan, Net: nan, SDNet: nan}
	var aa, ab, bb, ay, by float64
	for i := range obs {
		o := &obs[i]
		at := "observation[" + strconv.Itoa(i) + "]"
		if w := math.Abs(o.WeightA) + math.Abs(o.WeightB); !(w > 0) || math.IsInf(w, 1) {
			return FaceCharges{}, known.Wrong(at+".weight_a", o.WeightA, "finite weights, not both 0")
		}
		if err := known.Finite(at+".value", o.Value); err != nil {
			return FaceCharges{}, err
		}
		if err := known.Positive(at+".sd", o.SD); err != nil {
			return FaceCharges{}, err
		}
		a, b, y := o.WeightA/float64(o.SD), o.WeightB/float64(o.SD), float64(o.Value)/float64(o.SD)
		aa += a * a
		ab += a * b
		bb += b * b
		ay += a * y
		by += b * y
	}
	if len(obs) == 0 {
		return f, nil
	}
	det := aa*bb - ab*ab
	// The observations determine both faces unless all have the same ratio of
	// weights; 1e-9 separates that from rounding.
	if det <= 1e-9*aa*bb {
		f.Known = OneCombination
		switch {
		case bb == 0:
			f.A, f.SDA = units.SurfaceChargeDensity(ay/aa), units.SurfaceChargeDensity(1/math.Sqrt(aa))
		case aa == 0:
			f.B, f.SDB = units.SurfaceChargeDensity(by/bb), units.SurfaceChargeDensity(1/math.Sqrt(bb))
		case math.Abs(aa-bb) <= 1e-9*aa && ab > 0:
			f.Net, f.SDNet = units.SurfaceChargeDensity(ay/aa), units.SurfaceChargeDensity(1/math.Sqrt(aa))
		}
		for i := range obs {
			o := &obs[i]
			// Along the determined direction the fitted value of each observation.
			fit := (o.WeightA*ay + o.WeightB*by) / (aa + bb)
			r := (float64(o.Value) - fit) / float64(o.SD)
			f.Misfit += r * r
		}
		return f, nil
	}
	f.Known = BothFacesKnown
	a, b := (bb*ay-ab*by)/det, (aa*by-ab*ay)/det
	for i := range obs {
		o := &obs[i]
		r := (float64(o.Value) - o.WeightA*a - o.WeightB*b) / float64(o.SD)
		f.Misfit += r * r
	}
	f.A, f.B, f.Net = units.SurfaceChargeDensity(a), units.SurfaceChargeDensity(b), units.SurfaceChargeDensity(a+b)
	f.SDA, f.SDB = units.SurfaceChargeDensity(math.Sqrt(bb/det)), units.SurfaceChargeDensity(math.Sqrt(aa/det))
	f.SDNet = units.SurfaceChargeDensity(math.Sqrt((aa + bb - 2*ab) / det))
	return f, nil
}
