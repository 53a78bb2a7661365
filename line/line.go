package line

import (
	"fmt"
	"math"

	"example.org/pithball/charge"
	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/written"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Line is a checked line: immutable, for use by many goroutines at once.
type Line struct {
	desc   Description
	steps  []step
	meters []field.FieldMeter // by index of desc.Meters; zero for a voltmeter
	film   field.Film
	filmSD float64 // relative standard deviation of t/εr
	air    humidity.Air
	limit  units.SurfaceChargeDensity
	netCap units.SurfaceChargeDensity // most net charge that a parting web keeps
}

// step is a station with everything that can be worked out beforehand.
type step struct {
	changes [2]contact
	n       int // contacts in use
	ion     source
	ionFace Face
	length  float64 // to the next station [m]
	tauNet  float64 // of the leak path to the next station, +Inf without one [s]
	tauDiff float64 // of the pairing of the two faces [s]
}

type contact struct {
	face    Face
	law     charge.Contact
	covered bool                 // the roller's cover keeps charge
	cover   charge.CoveredRoller // with law, where covered
	closes  float64              // 1 − e^−n, the share of the way to saturation that one pass makes
}

// New checks the description and resolves its laws at the ambient. All faults
// are returned at once, as [*known.FieldError]s joined by errors.Join.
func New(d *Description) (*Line, error) {
	if d == nil {
		return nil, known.Wrong("description", "nil", "a description")
	}
	if d.form != nil {
		return nil, d.form
	}
	if err := d.check(); err != nil {
		return nil, d.places.Locate(err)
	}
	l := &Line{desc: d.clone()}
	var err error
	if l.air, err = humidity.NewAir(d.Air.Temperature, d.Air.RelativeHumidity, d.Air.Pressure); err != nil {
		return nil, err
	}
	w := &l.desc.Web
	solid := 1 - float64(w.Open)
	// The field between fibres is that of air: the mean of the two by area, an upper bound of any mixture.
	l.film = field.Film{Thickness: w.Thickness, RelativePermittivity: 1 + solid*(w.RelativePermittivity.Value-1)}
	lo, hi := w.RelativePermittivity.Limits()
	l.filmSD = math.Hypot(float64(w.ThicknessSpread), solid*(hi-lo)/(2*known.Z95*l.film.RelativePermittivity))
	basis := units.BasisWeight(float64(w.Density) * float64(w.Thickness) * solid) // kg/m³ · m
	switch d.Limit.Kind {
	case ClingLimit:
		l.limit = field.ClingLimit(basis)
	case FieldLimit:
		l.limit = units.SurfaceChargeDensity(units.Epsilon0 * 5 * float64(units.KilovoltPerInch)) // ε0·E
	default:
		l.limit = d.Limit.Net
	}
	// The last gap in which a parting web can break down is the one to the next
	// earthed metal; 10 cm is the end of the published law and the lowest cap.
	l.netCap, _ = gas.CapFreeWeb(1, 10*units.Centimetre, l.air.RelativeDensity())
	for i := range l.desc.Meters {
		m := &l.desc.Meters[i]
		var f field.FieldMeter
		if m.Kind == FieldMeterKind {
			// The response is taken from a meter that never saturates; the full scale of
			// the real one decides which readings say "at least".
			f, err = field.NewFieldMeter(field.FieldMeterSpec{Nominal: m.Nominal, FaceRadius: m.FaceRadius, Guarded: m.Guarded,
				SheetRadius: w.Width / 2, FullScale: units.DisplayVoltage(1e12)})
			if err != nil {
				return nil, fmt.Errorf("meters[%d]: %w", i, err)
			}
		}
		l.meters = append(l.meters, f)
	}
	if err := l.build(); err != nil {
		return nil, d.places.Locate(err)
	}
	return l, nil
}

// build works out the steps.
func (l *Line) build() error {
	w := &l.desc.Web
	// odd mode of a thin film, decay.FilmModes
	tauDiff := float64(decay.RelaxationTime(w.VolumeResistivity, w.RelativePermittivity.Value))
	l.steps = make([]step, len(l.desc.Stations))
	for i := range l.desc.Stations {
		s := &l.desc.Stations[i]
		t := &l.steps[i]
		t.tauNet, t.tauDiff = math.Inf(1), tauDiff
		if i+1 < len(l.desc.Stations) {
			t.length = float64(l.desc.Stations[i+1].At - s.At)
		}
		if s.Leak != nil {
			t.tauNet = float64(l.desc.LeakTime(i))
		}
		for j := range s.Change {
			c, err := l.contact(s, &s.Change[j])
			if err != nil {
				return err
			}
			t.changes[j] = c
			t.n++
		}
		if ion := s.Ioniser; ion != nil {
			var err error
			if t.ion, err = l.source(i); err != nil {
				at := fmt.Sprintf("stations[%d] (%s).ioniser.", i, s.Name)
				return written.Fields(err, func(f string) string { return at + barField(f) })
			}
			t.ionFace = ion.Face
		}
	}
	return l.checkZones()
}

// contact builds the contact that makes the median change on an uncharged face
// at the survey's speed.
func (l *Line) contact(s *StationSpec, c *ChangeSpec) (contact, error) {
	return newContact(s.Roller, c, l.desc.Speed, 0, float64(c.Median), c.Speed.Value)
}

// newContact builds a contact that changes a face which arrives with the charge
// before by change, both in C/m², at the reference speed.
func newContact(r *RollerSpec, c *ChangeSpec, reference units.Speed, before, change, exponent float64) (contact,
	error) {
	n := float64(c.Exposure)
	if n == 0 {
		n = 1
	}
	out := contact{face: c.Face, closes: -math.Expm1(-n)}
	spec := charge.ContactSpec{Exposure: n, SpeedExponent: exponent, ReferenceSpeed: reference}
	spec.Saturation = units.SurfaceChargeDensity(before + change/out.closes) // σ' = σ∞ + (σ−σ∞)·e^−n
	var err error
	if out.law, err = charge.NewContact(spec); err != nil || r == nil || r.Kind != InsulatingCover {
		return out, err
	}
	out.covered = true
	// The cover stands at what the gas leaves it, or feeds the web by its leakage: the
	// saturation is the one that makes the change in that steady state.
	cover := charge.CoveredRollerSpec{Contact: out.law, Radius: r.Radius, Tau: r.Cover}
	if out.cover, err = charge.NewCoveredRoller(cover); err != nil {
		return out, err
	}
	if spec.Saturation, err = out.cover.SaturationFor(units.SurfaceChargeDensity(before),
		units.SurfaceChargeDensity(change), reference, touching); err != nil {
		return out, err
	}
	if out.law, err = charge.NewContact(spec); err != nil {
		return out, err
	}
	cover.Contact = out.law
	out.cover, err = charge.NewCoveredRoller(cover)
	return out, err
}

// clone copies the description so that the caller may change his.
func (d *Description) clone() Description {
	c := *d
	c.Meters = append([]Meter(nil), d.Meters...)
	c.Stations = append([]StationSpec(nil), d.Stations...)
	c.Web.DecadesPerPercent = copyOf(d.Web.DecadesPerPercent)
	for i := range c.Stations {
		s := &c.Stations[i]
		s.Change = append([]ChangeSpec(nil), s.Change...)
		s.Off = append([]string(nil), s.Off...)
		s.Roller, s.Ioniser, s.Past, s.Leak = copyOf(s.Roller), copyOf(s.Ioniser), copyOf(s.Past), copyOf(s.Leak)
		if s.Ioniser != nil {
			s.Ioniser.Bar = copyOf(s.Ioniser.Bar)
		}
	}
	return c
}

func copyOf[T any](p *T) *T {
	if p == nil {
		return nil
	}
	v := *p
	return &v
}

// Description returns a copy of the description.
func (l *Line) Description() Description { return l.desc.clone() }

// Len returns the number of stations.
func (l *Line) Len() int { return len(l.steps) }

// Station returns the index of the station of that name, -1 if there is none.
func (l *Line) Station(name string) int {
	for i := range l.desc.Stations {
		if l.desc.Stations[i].Name == name {
			return i
		}
	}
	return -1
}

// Air returns the ambient.
func (l *Line) Air() humidity.Air { return l.air }

// Limit returns the net charge density that the description judges against.
func (l *Line) Limit() units.SurfaceChargeDensity {
	if len(l.steps) == 0 {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return l.limit
}

// NetCap returns the most net charge density that a parting web keeps: what the
// air of the description holds over a gap of 10 cm.
func (l *Line) NetCap() units.SurfaceChargeDensity {
	if len(l.steps) == 0 {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return l.netCap
}

// Keep returns the shares of net charge and of the difference of the faces that
// are left at the station after station i, at speed v; NaN if there is no station i. [1]
func (l *Line) Keep(i int, v units.Speed) (net, diff float64) {
	if i < 0 || i >= len(l.steps) {
		return math.NaN(), math.NaN()
	}
	return l.steps[i].between(v)
}

// between returns what remains of net charge and of the difference of the faces
// on the way to the next station at speed v.
func (t *step) between(v units.Speed) (net, diff float64) { // [1]
	dwell := t.length / float64(v)
	if dwell == 0 {
		return 1, 1
	}
	net = 1
	if !math.IsInf(t.tauNet, 1) { // most spans have no leak path
		net = numeric.Exp(-dwell / t.tauNet)
	}
	return net, numeric.Exp(-dwell / t.tauDiff)
}

// Mechanism is what ruled the charge at a station.
type Mechanism uint8

// The mechanisms.
const (
	Nothing          Mechanism = iota // the station changes nothing
	Transfer                          // what the contact transfers
	GasCap                            // the breakdown of the air while parting
	Conduction                        // the conductivity of the ionised air
	SupplyOfIons                      // the current that the source can deliver
	DriftOfIons                       // the ions on the way to the web hold each other back
	BelowOnset                        // a passive source below its onset, or no field to draw ions
	InsulatingRoller                  // a roller that keeps its charge and drives back
	FieldOfPoints                     // the field between the points of a bar and the web draws the ions
)

var mechanismNames = [...]string{"nothing", "contact", "breakdown of the air", "ion conductivity",
	"ion supply", "space charge of the ions", "no field for ions", "charge kept by the roller", "field of the points"}

// String returns what ruled in words, "Mechanism(n)" without any.
func (m Mechanism) String() string { return enum.Name("Mechanism", mechanismNames[:], m) }

// MarshalText writes what ruled in words; an unknown value is a [*known.FieldError].
func (m Mechanism) MarshalText() ([]byte, error) {
	return enum.Write("mechanism", mechanismNames[:], m)
}

// UnmarshalText reads the words of String; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (m *Mechanism) UnmarshalText(b []byte) error {
	return enum.Read("mechanism", mechanismNames[:], b, m)
}

// Result is the web as it leaves a station.
type Result struct {
	A, B units.SurfaceChargeDensity // charge of each face
	// GainA and GainB are what the station gave to each face: the contact's partner
	// lost as much, or ions brought it. Lost is the net charge that reached earth on
	// the way from the station before. The three close the balance exactly.
	GainA, GainB, Lost units.SurfaceChargeDensity
	Ruled              Mechanism // what ruled the change at the station
	// Validity has the flags of an ioniser's model; [known.Estimate] for one whose data are not given, which is
	// reckoned by the share that it takes, and for a roller cover that stands at what the gas leaves it.
	Validity known.Validity
}

// Net returns the net charge density, σ_A + σ_B.
func (r Result) Net() units.SurfaceChargeDensity { return r.A + r.B }

// RunTo walks the path once at line speed v and writes the web as it leaves each
// station into dst; it returns the number written, the smaller of len(dst) and
// [Line.Len]. It allocates nothing. At a speed that is not positive and finite
// every charge is NaN.
//
// At a contact each touched face goes σ' = σ∞ + (σ−σ∞)·e^−n (package charge);
// while parting, the air caps the net charge, since the field in the opening gap
// is that of the net charge; between stations net charge leaks along the named
// path only and the difference of the faces pairs with τ = ε0·εr·ρ (thin film in
// a free span); an ioniser charges the face it meets, by what it sees of the net.
func (l *Line) RunTo(dst []Result, v units.Speed) int {
	return l.walk(dst, 0, 0, 0, v)
}

// walk runs the stations from first on, which the web reaches with the charges a
// and b of its faces [C/m²], and writes one result for each into dst.
func (l *Line) walk(dst []Result, first int, a, b float64, v units.Speed) int {
	n := min(len(dst), len(l.steps)-first)
	if !(v > 0) || math.IsInf(float64(v), 0) {
		nan := units.SurfaceChargeDensity(math.NaN())
		for i := range n {
			dst[i] = Result{A: nan, B: nan, GainA: nan, GainB: nan, Lost: nan}
		}
		return n
	}
	limit := float64(l.netCap)
	for i := range n {
		var r Result
		if first+i > 0 {
			keepNet, keepDiff := l.steps[first+i-1].between(v)
			net, diff := a+b, (a-b)*keepDiff
			left := net * keepNet
			r.Lost = units.SurfaceChargeDensity(net - left)
			a, b = (left+diff)/2, (left-diff)/2
		}
		a0, b0 := a, b
		t := &l.steps[first+i]
		for j := range t.n {
			c := &t.changes[j]
			face := &a
			if c.face == FaceB {
				face = &b
			}
			var flag known.Validity
			*face, r.Ruled, flag = c.pass(*face, v)
			r.Validity |= flag
		}
		if over := math.Abs(a+b) - limit; t.n > 0 && over > 0 {
			// The discharge in the opening gap takes its charge from the faces that touched.
			share := math.Copysign(over, a+b) / float64(t.n)
			for j := range t.n {
				if t.changes[j].face == FaceA {
					a -= share
				} else {
					b -= share
				}
			}
			r.Ruled = GasCap
		}
		if t.ionFace != NoFace {
			got, regime, flag := t.ion.act(a+b, v)
			r.Validity |= flag
			if t.ionFace == FaceA {
				a += got
			} else {
				b += got
			}
			r.Ruled = MechanismOf(regime)
		}
		r.A, r.B = units.SurfaceChargeDensity(a), units.SurfaceChargeDensity(b)
		r.GainA, r.GainB = units.SurfaceChargeDensity(a-a0), units.SurfaceChargeDensity(b-b0)
		dst[i] = r
	}
	return n
}

// MechanismOf returns what ruled at an ioniser by the regime of its model.
func MechanismOf(r ionflow.Regime) Mechanism {
	switch r {
	case ionflow.ConductivityLimited:
		return Conduction
	case ionflow.SupplyLimited:
		return SupplyOfIons
	case ionflow.DriftLimited:
		return DriftOfIons
	case ionflow.PointField:
		return FieldOfPoints
	}
	return BelowOnset
}

// pass is one pass of the web over the contact.
func (c *contact) pass(before float64, v units.Speed) (float64, Mechanism, known.Validity) {
	if c.covered {
		s := c.cover.Steady(units.SurfaceChargeDensity(before), v, touching)
		return float64(s.Web), InsulatingRoller, s.Validity
	}
	return float64(c.law.Transfer(units.SurfaceChargeDensity(before), v, touching)), Transfer, known.Inside
}

// touching is any load above zero: contacts of a line have no load exponent, and
// a load of zero would mean a lifted contact.
const touching = units.ForcePerWidth(1)
