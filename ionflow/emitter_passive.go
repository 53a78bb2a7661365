package ionflow

import (
	"errors"
	"math"

	"example.org/pithball/internal/named"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TipLaw is the law for the field at which a corona starts at a point.
type TipLaw uint8

// The laws. Both are used far outside the radii that they were fitted to.
const (
	// PeekCylinder is 31·δ·(1 + 0.308/√(δ·r)) kV/cm with r in cm, of wires.
	PeekCylinder TipLaw = iota
	// PeekSphere is 27.2·δ·(1 + 0.54/√(δ·r)) kV/cm with r in cm, of spheres. Not compared with a source.
	PeekSphere
)

var tipLaws = [...]string{"Peek cylinder", "Peek sphere"}

// String returns the name, or "TipLaw(n)".
func (l TipLaw) String() string { return named.Of("TipLaw", tipLaws[:], l) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (l TipLaw) MarshalText() ([]byte, error) { return named.Write("tip law", tipLaws[:], l) }

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (l *TipLaw) UnmarshalText(b []byte) error { return named.Read("tip law", tipLaws[:], b, l) }

// PassiveBand is the factor by which the onset of a needle is uncertain either way:
// the two tip laws differ by 1.41 and 50 µm lies outside the range of both. [1]
const PassiveBand = 1.6

// OnsetField returns the field at which a corona starts at a tip of radius r, in
// air of relative density delta (1 at 25 °C and 1013 hPa). r and delta must be above
// 0, else NaN. Constants after F. W. Peek, Dielectric Phenomena in High-Voltage
// Engineering (1929), not compared with the book: always flagged.
func OnsetField(law TipLaw, r units.Length, delta float64) (units.ElectricField, known.Validity) { // delta [1]
	if !(r > 0) || !(delta > 0) || law > PeekSphere {
		return units.ElectricField(math.NaN()), known.Unpublished
	}
	cm := float64(r) * 100
	a, b := 31e5, 0.308
	if law == PeekSphere {
		a, b = 27.2e5, 0.54
	}
	return units.ElectricField(a * delta * (1 + b/math.Sqrt(delta*cm))), known.Unpublished
}

// OnsetVoltage returns the voltage between a needle with tip radius r and a surface
// at distance d at which its corona starts: the field at the tip of a hyperboloid is
// E = 2V/(r·ln(4d/r)), so V = E_on·r·ln(4d/r)/2. It varies slowly with d. d must be more
// than the radius, else NaN. Always flagged: see [OnsetField]; take it as uncertain by
// [PassiveBand] either way.
func OnsetVoltage(law TipLaw, r, d units.Length, delta float64) (units.Voltage, known.Validity) { // delta [1]
	if !(d > r) {
		return units.Voltage(math.NaN()), known.Unpublished
	}
	e, flag := OnsetField(law, r, delta)
	return units.Voltage(float64(e) * float64(r) / 2 * math.Log(4*float64(d)/float64(r))), flag
}

// PassiveSpec describes tinsel, a brush or a row of earthed needles near a web.
type PassiveSpec struct {
	Tip      units.Length // radius of the tips
	Distance units.Length // from the tips to the web
	// Body is the distance from the web to the nearest earthed plane on the side of
	// the needles (the bar that holds them, or the far wall). The potential of the
	// web, σ·Body/ε0 at field factor 1, is what the tips feel: a body close to the web
	// takes their field away, a far one leaves it. At least Distance.
	Body   units.Length
	Delta  float64           // [1] relative density of the air; 0: 1
	Law    TipLaw            // of the onset
	Zone   units.Length      // length of the web under the corona; 0: 1.2 × Distance
	Supply units.LineCurrent // most that the points can carry; 0: 1000 µA/m
	Ions   Ions              // of the air
}

// Onset returns the net charge density at field factor 1 below which the source
// does nothing, ε0·V_on/Body, and the voltage V_on of the web at which the tips start.
// With tips of 50 µm at 25 mm and the body there too it is 1.1 µC/m². No published value
// was found to compare it with: the abstract of John A. McInally, Inductive Static
// Eliminators: Methods of Efficiency Measurement, IEEE Trans. Ind. Appl. 13 (1977) 227,
// doi:10.1109/TIA.1977.4503397, gives 1 to 2 µC/m² as the limit of what passive points
// discharge, an order of magnitude below powered devices: what they remove, not what is left.
func (s PassiveSpec) Onset() (units.SurfaceChargeDensity, units.Voltage, known.Validity) {
	if s.Delta == 0 {
		s.Delta = 1
	}
	v, flag := OnsetVoltage(s.Law, s.Tip, s.Distance, s.Delta)
	return units.SurfaceChargeDensity(units.Epsilon0 * float64(v) / float64(s.Body)), v, flag
}

// NewPassive returns the neutraliser of a passive source: drawn ions of the opposite
// polarity, nothing below the onset. It gets no credit for a balanced double layer,
// whose outside field is zero. The factor for [Neutraliser.Act] is h/(Body + h).
// Errors are joined [*known.FieldError]s: Tip 1 µm … 2 mm, Distance from twice
// Tip to 1 m, Body from Distance to 100 m, Delta 0.3 … 1.5, ions as [Ions.Check].
func NewPassive(spec PassiveSpec) (Neutraliser, error) {
	if spec.Delta == 0 {
		spec.Delta = 1
	}
	if spec.Zone == 0 {
		spec.Zone = 1.2 * spec.Distance
	}
	if spec.Supply == 0 {
		spec.Supply = 1000 * units.MicroamperePerMetre
	}
	if err := errors.Join(
		known.InRange("tip", spec.Tip, 1e-6, 2e-3),
		known.InRange("distance", spec.Distance, 2*spec.Tip, 1),
		known.InRange("body", spec.Body, spec.Distance, 100),
		known.InRange("delta", spec.Delta, 0.3, 1.5),
		spec.Ions.Check(),
	); err != nil {
		return Neutraliser{}, err
	}
	if spec.Law > PeekSphere {
		return Neutraliser{}, known.Wrong("law", uint8(spec.Law), "a tip law")
	}
	on, _, _ := spec.Onset()
	return NewNeutraliser(NeutraliserSpec{
		Plus:  Carriers{Mobility: spec.Ions.Plus, Supply: spec.Supply},
		Minus: Carriers{Mobility: spec.Ions.Minus, Supply: spec.Supply},
		Zone:  spec.Zone,
		Gap:   spec.Distance,
		Onset: on,
	})
}

// Notices returns the cautions that go with any use of a passive source.
func (s PassiveSpec) Notices() []known.Notice {
	return []known.Notice{
		{Code: "passive-earth", Condition: "points that lose their earth charge up and can shock or spark",
			Consult: "the rules for earthing of the place", Decide: "a lasting connection to earth and its regular measurement"},
		{Code: "passive-explosive-atmosphere", Condition: "a corona is an ignition source, a passive one too",
			Consult: "IEC TS 60079-32-1 and the zoning of the place", Decide: "whether a passive source may be used at all"},
	}
}

// UnassistedSpec describes a powered bar without air, whose ions the charge of the
// web must draw across; the bar's own field lowers the floor but is not credited with drawing.
type UnassistedSpec struct {
	Emitter  Emitter       // points that make the ions, their voltage, switching and balance
	Distance units.Length  // from the points to the web
	Pitch    units.Length  // distance between the points
	Start    units.Voltage // corona onset of the points; below the emitter's voltage
	Zone     units.Length  // length of the web under the bar; 0: 1.2 × Distance
	// Crosswind is the speed of the air across the gap that carries ions off, for
	// example a share of the web speed. 0: none.
	Crosswind units.Speed
	Ions      Ions // of the air
}

// Reach returns the distance to which the bar's own alternating field V/d carries ions
// in half a period, d = √(μV/(2f)), for the slower ion: within it both polarities
// arrive without help of the charge. +Inf for DC.
func (s UnassistedSpec) Reach() units.Length {
	f := s.Emitter.spec.Switch
	if f == 0 {
		return units.Length(math.Inf(1))
	}
	mu := min(s.Ions.Plus, s.Ions.Minus)
	return units.Length(math.Sqrt(float64(mu) * float64(s.Emitter.spec.Voltage) / (2 * float64(f))))
}

// Floor returns the net charge density at field factor 1 below which ions no longer
// arrive: the field of the bar, V/d, and that of the charge, σ/ε0, must together carry
// them across before the polarity changes, d/(μE) < 1/(2f), and before the crosswind
// w has taken them past half the zone, d/(μE) < L/(2w):
//
//	σ_floor = ε0·max(0, max(2fd/μ, 2wd/(μL)) − V/d)
//
// Derived for a uniform field, to an order of magnitude.
func (s UnassistedSpec) Floor() units.SurfaceChargeDensity {
	d, mu := float64(s.Distance), float64(min(s.Ions.Plus, s.Ions.Minus))
	need := max(2*float64(s.Emitter.spec.Switch)*d/mu, 2*float64(s.Crosswind)*d/(mu*float64(s.zone())))
	return units.SurfaceChargeDensity(units.Epsilon0 * max(0, need-float64(s.Emitter.spec.Voltage)/d))
}

func (s UnassistedSpec) zone() units.Length {
	if s.Zone == 0 {
		// The current of a point to a plane falls to half at 30° off the axis (E. Warburg, Wied.
		// Ann. 67 (1899) 69, cos^4.65): 2·tan(30.5°) = 1.18.
		return 1.2 * s.Distance
	}
	return s.Zone
}

// Saturation returns the most that one row of points at the pitch p can send to a plane
// at distance d against its own space charge, 2·ε0·μ·V·(V − V_start)/(d·p), the
// saturation current of a point-to-plane corona. After R. S. Sigmond, J. Appl. Phys. 53
// (1982) 891, not compared with the paper: flagged.
func (s UnassistedSpec) Saturation() (units.LineCurrent, known.Validity) {
	v, mu := float64(s.Emitter.spec.Voltage), float64(min(s.Ions.Plus, s.Ions.Minus))
	return units.LineCurrent(2 * units.Epsilon0 * mu * v * max(0, v-float64(s.Start)) /
		(float64(s.Distance) * float64(s.Pitch))), known.Unpublished
}

// NewUnassisted returns the neutraliser of a powered bar without air. What a polarity
// can supply is the smaller of its emission and the saturation current at the
// distance; AC and pulsed sources give each polarity the gap for half of the time, which halves
// the saturation current and the drift (as half the mobility). Errors are
// joined [*known.FieldError]s: Distance 1 mm … 1 m, Pitch 1 mm … 1 m, Start 0 up to
// the voltage, Crosswind 0 … 100 m/s, ions as [Ions.Check].
func NewUnassisted(spec UnassistedSpec) (Neutraliser, error) {
	e := spec.Emitter.spec
	errs := []error{
		known.InRange("distance", spec.Distance, 1e-3, 1),
		known.InRange("pitch", spec.Pitch, 1e-3, 1),
		known.NotNegative("zone", spec.Zone),
		known.InRange("crosswind", spec.Crosswind, 0, 100),
		spec.Ions.Check(),
	}
	if e.Current == 0 {
		errs = append(errs, known.Wrong("emitter", "zero value", "an emitter from NewEmitter"))
	} else {
		errs = append(errs, known.Positive("emitter.voltage", e.Voltage), known.InRange("start", spec.Start, 0, e.Voltage))
	}
	if err := errors.Join(errs...); err != nil {
		return Neutraliser{}, err
	}
	top, _ := spec.Saturation()
	if !(top > 0) {
		return Neutraliser{}, known.Wrong("start", spec.Start, "less than the voltage of the emitter")
	}
	share := 1.0
	if e.Kind != DC {
		share = 0.5
	}
	top = units.LineCurrent(share * float64(top))
	plus, minus := spec.Emitter.Currents()
	s := NeutraliserSpec{Zone: spec.zone(), Gap: spec.Distance, Onset: spec.Floor()}
	if plus > 0 {
		s.Plus = Carriers{Mobility: units.Mobility(share * float64(spec.Ions.Plus)), Supply: min(plus, top)}
	}
	if minus > 0 {
		s.Minus = Carriers{Mobility: units.Mobility(share * float64(spec.Ions.Minus)), Supply: min(minus, top)}
	}
	return NewNeutraliser(s)
}

// FarthestUnassisted returns the greatest distance between lo and hi at which the bar of spec
// leaves at most want of sigma on a web of speed v; see [AirBar.FarthestFor] for the field factor and
// the errors. Zone follows the distance where it is 0 in spec.
func FarthestUnassisted(spec UnassistedSpec, want, sigma units.SurfaceChargeDensity, v units.Speed, factor float64,
	lo, hi units.Length) (units.Length, error) { // factor [1]
	spec.Distance = hi
	if _, err := NewUnassisted(spec); err != nil {
		return units.Length(math.NaN()), err
	}
	x, err := search("distance", want, float64(lo), float64(hi), true, goal(sigma, v, factor), func(x float64) float64 {
		s := spec
		s.Distance = units.Length(x)
		n, err := NewUnassisted(s)
		if err != nil {
			return math.NaN()
		}
		d, _ := n.Act(sigma, v, factor)
		return math.Abs(float64(sigma + d))
	})
	return units.Length(x), err
}
