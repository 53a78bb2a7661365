package charge

import (
	"errors"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ContactBands is a [ContactSpec] whose numbers have a spread. Sampling realises
// plain contacts.
type ContactBands struct {
	Saturation     known.Band          // [C/m²] as ContactSpec.Saturation
	Exposure       known.Band          // [1] as ContactSpec.Exposure
	SpeedExponent  known.Band          // [1] as ContactSpec.SpeedExponent
	LoadExponent   known.Band          // [1] as ContactSpec.LoadExponent
	ReferenceSpeed units.Speed         // where Saturation holds
	ReferenceLoad  units.ForcePerWidth // where Saturation holds
}

// Check returns the errors of the bands and of the median contact.
func (b *ContactBands) Check() error {
	errs := []error{b.Saturation.Check("saturation"), b.Exposure.Check("exposure"),
		b.SpeedExponent.Check("speed_exponent"), b.LoadExponent.Check("load_exponent")}
	_, err := NewContact(b.at([4]float64{}))
	return errors.Join(append(errs, err)...)
}

// At returns the contact at standard normal scores for saturation, exposure,
// speed and load exponent, in this order; values beyond what [NewContact]
// accepts are moved to the limit. Give the score of a number that is shared by
// several contacts to each of them.
func (b *ContactBands) At(z [4]float64) ContactSpec { // z [1]
	s := b.at(z)
	s.Saturation = units.SurfaceChargeDensity(math.Min(math.Max(float64(s.Saturation), -float64(maxSaturation)),
		float64(maxSaturation)))
	s.Exposure = math.Min(math.Max(s.Exposure, 0), 700)
	s.SpeedExponent = math.Min(math.Max(s.SpeedExponent, -1), 2)
	s.LoadExponent = math.Min(math.Max(s.LoadExponent, -1), 2)
	return s
}

func (b *ContactBands) at(z [4]float64) ContactSpec {
	return ContactSpec{Saturation: units.SurfaceChargeDensity(b.Saturation.At(z[0])), Exposure: b.Exposure.At(z[1]),
		SpeedExponent: b.SpeedExponent.At(z[2]), LoadExponent: b.LoadExponent.At(z[3]),
		ReferenceSpeed: b.ReferenceSpeed, ReferenceLoad: b.ReferenceLoad}
}

// Mode is the kind of a contact.
type Mode uint8

// The kinds of contact.
const (
	PeelContact  Mode = iota // parting of faces that lay on each other: unwind, tape, liner
	RollContact              // wrapped roller without slip
	NipContact               // loaded nip without slip
	SlideContact             // rubbing: slipping roller, guide, edge, chute
)

var modeNames = [...]string{"peel", "roll", "nip", "slide"}

// String returns the name of the kind, or "Mode(n)".
func (m Mode) String() string { return enum.Name("Mode", modeNames[:], m) }

// MarshalText writes the name; a value that is no kind of contact is a
// [*known.FieldError].
func (m Mode) MarshalText() ([]byte, error) { return enum.Write("mode", modeNames[:], m) }

// UnmarshalText reads a name as written by String.
func (m *Mode) UnmarshalText(b []byte) error { return enum.Read("mode", modeNames[:], b, m) }

// ModePrior is what is known of a kind of contact before any measurement.
type ModePrior struct {
	SpeedExponent known.Band   // [1]
	LoadExponent  known.Band   // [1]
	Speed         known.Source // of SpeedExponent
	Load          known.Source // of LoadExponent
}

// Prior returns the exponents to start from, with wide spreads: sources disagree
// on what drives generation (tension on belts and moving fabrics, speed on
// staple yarn, both on filament yarn), so that only a step test on the line
// settles them ([FitSpeedExponent], [FitLoadExponent]). Published support:
// sliding films, potential linear in speed from 0.33 to 0.75 m/s and with the
// root of the load up to 6.5 N (LLDPE and PP under a sliding aluminium
// cylinder); repeated contact of PTFE and nylon 66 linear in load (Kleyman et
// al., Energy Harvesting and Systems 2018, doi 10.1515/ehs-2018-0001); slow peels
// of silicone rubber leave LESS with speed, exponent −0.3. Without slip only the nominal area meets, and nothing was
// found that makes a single contact depend on speed by itself.
func (m Mode) Prior() ModePrior {
	support := known.Source{Provenance: known.Published,
		Cite: "A. Kumar, M. M. Perlman, Sliding-friction electrification of polymers and charge decay, J. Polym. Sci. B " +
			"30 (1992) 859",
		Note: "abstract: LLDPE and PP films under a sliding Al cylinder; potential linear in speed 0.33-0.75 m/s, with " +
			"the root of load up to 6.5 N"}
	peel := known.Source{Provenance: known.Published,
		Cite: "Y. I. Sobolev, W. Adamkiewicz, M. Siek, B. A. Grzybowski, Nature Physics (2022), data behind fig. 3b",
		Note: "80 peels of silicone rubber from acrylic, fronts of 1.5 to 11 mm/s: -0.3 (median of slopes), -0.23 ± 0.11 " +
			"by least squares, fitted here; the band reaches to 1"}
	repeated := known.Source{Provenance: known.Published,
		Cite: "Kleyman, Kang, Twiefel, Voit, Energy Harvesting and Systems (2018), doi 10.1515/ehs-2018-0001",
		Note: "PTFE and nylon 66, repeated contact: linear in force; slope depends on temperature and humidity"}
	none := known.Source{Provenance: known.CommonPractice,
		Note: "no published exponent found; the band spans the published range of other kinds of contact"}
	wide := known.Band{Value: 0.5, Spread: 0.5, Kind: known.Uniform}       // 0 … 1
	wideLoad := known.Band{Value: 0.65, Spread: 0.35, Kind: known.Uniform} // 0.3 … 1
	switch m {
	case PeelContact:
		// A slow peel falls with speed.
		return ModePrior{SpeedExponent: known.Band{Value: 0.2, Spread: 0.8, Kind: known.Uniform}, LoadExponent: wideLoad,
			Speed: peel, Load: none}
	case SlideContact:
		return ModePrior{SpeedExponent: known.Band{Value: 0.75, Spread: 0.25, Kind: known.Uniform},
			LoadExponent: known.Band{Value: 0.65, Spread: 0.35, Kind: known.Uniform}, Speed: support, Load: support}
	case NipContact:
		return ModePrior{SpeedExponent: wide, LoadExponent: wideLoad, Speed: none, Load: repeated}
	}
	return ModePrior{SpeedExponent: wide, LoadExponent: wideLoad, Speed: none, Load: none}
}

// SlipExposure returns the number of contacts relative to the relaxation number
// of a wrapped roller or nip, n = n1·(1 + s·ℓ/a): each point of the face meets
// the partner once (n1, the exposure of one contact without slip) and once more
// for every length a of the real contact spots that slides over it, s being the
// relative slip |v_web − v_roller|/v_web and ℓ the length of contact. Contact
// spots are micrometres to tens of micrometres wide, so that a slip of 0.1 % over
// 100 mm counts like several contacts (common practice, no source: fit n1 and
// a). NaN unless all are 0 or more and spot is above 0.
func SlipExposure(one, slip float64, contact, spot units.Length) float64 { // one, slip [1] → [1]
	if !(one >= 0) || !(slip >= 0) || !(contact >= 0) || !(spot > 0) {
		return math.NaN()
	}
	return one * (1 + slip*(float64(contact)/float64(spot)))
}
