package line

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/plain"
	"example.org/pithball/internal/strictjson"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Schema is the first field of every line description.
const Schema = "pithball line 1"

// Face is one face of the web, fixed to it at the unwind.
type Face uint8

// The faces.
const (
	NoFace Face = iota
	FaceA
	FaceB
)

var faceNames = [...]string{"-", "A", "B"}

// String returns "A", "B" or "-".
func (f Face) String() string { return enum.Name("Face", faceNames[:], f) }

// Other returns the other face.
func (f Face) Other() Face {
	switch f {
	case FaceA:
		return FaceB
	case FaceB:
		return FaceA
	}
	return NoFace
}

// MarshalText writes "A", "B" or "-"; an unknown value is a [*known.FieldError].
func (f Face) MarshalText() ([]byte, error) { return enum.Write("face", faceNames[:], f) }

// UnmarshalText reads "A", "B", "a", "b" or "-", which is no face; anything else is a
// [*known.FieldError] and leaves the value as it was.
func (f *Face) UnmarshalText(b []byte) error {
	switch string(b) {
	case "a":
		*f = FaceA
	case "b":
		*f = FaceB
	default:
		if enum.Read("face", faceNames[:], b, f) != nil {
			return known.Wrong("face", string(b), "A or B")
		}
	}
	return nil
}

// StationKind is what stands at a station.
type StationKind uint8

// The kinds of station.
const (
	Unwind  StationKind = iota + 1 // the roll or pile the web comes from; always the first station
	Roller                         // a roller that touches one face
	Nip                            // a pair of rollers that touches both faces
	Ioniser                        // a source of ions that meets one face
	Place                          // a place where readings are taken; nothing happens to the web
	Winder                         // the roll or pile the web goes to; always the last station
)

var kindNames = [...]string{Unwind: "unwind", Roller: "roller", Nip: "nip", Ioniser: "ioniser", Place: "place",
	Winder: "winder"}

// String returns the name of the kind, "StationKind(n)" without one.
func (k StationKind) String() string { return enum.Name("StationKind", kindNames[:], k) }

// MarshalText writes the name of the kind; a value without one is a
// [*known.FieldError].
func (k StationKind) MarshalText() ([]byte, error) { return enum.Write("kind", kindNames[:], k) }

// UnmarshalText reads the name of a kind; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (k *StationKind) UnmarshalText(b []byte) error { return enum.Read("kind", kindNames[:], b, k) }

// Description is a production line as the plant knows it: plain data, no
// results. It is read by [ReadDescription] and checked by [New].
type Description struct {
	Schema   string        `json:"schema"`         // the constant Schema
	Name     string        `json:"name"`           // of the line
	Note     string        `json:"note,omitempty"` // free text; a demo says here that it is invented
	Web      Web           `json:"web"`            // what runs through the line
	Speed    units.Speed   `json:"speed"`          // at which the survey was taken; more than 0
	Wish     units.Speed   `json:"wish,omitempty"` // wanted speed, 0 if none
	Air      AirSpec       `json:"air"`            // ambient at the line
	Limit    Limit         `json:"limit"`          // what the net charge is judged against
	Meters   []Meter       `json:"meters"`         // instruments by name
	Stations []StationSpec `json:"stations"`       // in the order of the web path

	places strictjson.Places // where everything stood in the file it was read from
	form   error             // faults of the form of that file
}

// Web is the material that runs through the line.
type Web struct {
	Material             string                  `json:"material"`                  // name, for the report
	Thickness            units.Length            `json:"thickness"`                 // 0.1 µm … 50 mm
	ThicknessSpread      units.Ratio             `json:"thicknessSpread,omitempty"` // relative standard deviation, 0 … 0.5
	Width                units.Length            `json:"width"`                     // 1 mm … 20 m
	Density              units.Density           `json:"density"`                   // 1 … 20000 kg/m³
	RelativePermittivity known.Band              `json:"relativePermittivity"`      // [1] 1 … 100
	VolumeResistivity    units.VolumeResistivity `json:"volumeResistivity"`         // at the ambient, more than 0
	Humidity             humidity.Class          `json:"humidity"`                  // whether moisture makes it leak
	// by how much log₁₀ of every leak time falls per %RH, 0 … 1: two decay tests; left out: not known, 0.06 ± 0.03
	DecadesPerPercent *known.Band `json:"decadesPerPercent,omitempty"`
	// of the web itself, at which the humidity of the air counts, −40 … 200 °C; left out: that of the air
	Temperature units.Temperature `json:"temperature,omitempty"`
	// the share of a fabric or non-woven that is air, 0 … 0.99 of its volume; density and permittivity
	// are those of the solid, charges are per area of the whole, both sides of it and all fibres together.
	Open units.Ratio `json:"open,omitempty"`
}

// AirSpec is the ambient of the line.
type AirSpec struct {
	Temperature      units.Temperature      `json:"temperature"`      // −40 … 80 °C
	RelativeHumidity units.RelativeHumidity `json:"relativeHumidity"` // over water, 0 … 100 %
	Pressure         units.Pressure         `json:"pressure"`         // 50 … 120 kPa
}

// Limit is what the net charge density of the web is judged against.
type Limit struct {
	// "cling" (image attraction equals the weight of the sheet,
	// σ = √(2ε0·m″g), computed from the web), "5 kV/in" (a runnability level that is one
	// author's practice, not a standard) or "own" (then net is given).
	Kind LimitKind `json:"kind"`
	// the limit for kind "own", more than 0.
	Net units.SurfaceChargeDensity `json:"net,omitempty"`
}

// Meter is an instrument with its own errors (standard deviations).
type Meter struct {
	Name string `json:"name"` // as the survey's column meter names it
	// "field meter" or "voltmeter" (non-contact, over a roller)
	Kind       MeterKind            `json:"kind"`
	Nominal    units.Length         `json:"nominal,omitempty"`    // field meter: display = field × this distance
	FaceRadius units.Length         `json:"faceRadius,omitempty"` // field meter: radius of its earthed face
	Guarded    bool                 `json:"guarded,omitempty"`    // field meter: the face is part of a wide earthed plane
	FullScale  units.DisplayVoltage `json:"fullScale,omitempty"`  // a reading at or above it says "at least"
	Gain       units.Ratio          `json:"gain"`                 // relative error shared by all its readings
	Offset     units.Voltage        `json:"offset"`               // offset shared by all its readings
	Placing    units.Length         `json:"placing,omitempty"`    // field meter: error of the distance
	Spots      units.Ratio          `json:"spots"`                // relative scatter from spot to spot of the charge
}

// StationSpec is one station of the path.
type StationSpec struct {
	Name string       `json:"name"` // unique
	Kind StationKind  `json:"kind"` // what stands there
	At   units.Length `json:"at"`   // position along the web path, never falling
	// the distance from the web to the metal behind it, and past the roller
	// that stands behind the web: a place or an ioniser has one of the two.
	Gap     units.Length `json:"gap,omitempty"`
	Past    *PastSpec    `json:"past,omitempty"`    // see gap
	Roller  *RollerSpec  `json:"roller,omitempty"`  // the roller, at a roller or nip
	Change  []ChangeSpec `json:"change,omitempty"`  // what the contact is thought to do, at an unwind, roller or nip
	Ioniser *IonSpec     `json:"ioniser,omitempty"` // the source, at an ioniser
	// ionisers that were switched off while readings were taken at this
	// place.
	Off []string `json:"off,omitempty"`
	// the way by which net charge reaches earth between this station and
	// the next; without it net charge stays.
	Leak *LeakSpec `json:"leak,omitempty"`
	// of the web from this station on, until another gives one: a stretch that is heated or cooled, −40 …
	// 200 °C and above the dew point of the air, whose water stays that of the room; left out: that before it.
	WebTemperature units.Temperature `json:"webTemperature,omitempty"`
	// of a winder: whether metal that is earthed lies inside the
	// roll.
	Earthed bool `json:"earthed,omitempty"`
	// the outer radius of a winder's core; 0: 40 mm.
	Core units.Length `json:"core,omitempty"`
}

// RollerSpec is a roller.
type RollerSpec struct {
	Radius    units.Length      `json:"radius"`              // 1 mm … 2 m
	Kind      RollerKind        `json:"kind"`                // "metal" or "insulating" (a cover that keeps charge)
	Cover     units.Time        `json:"cover,omitempty"`     // insulating: time constant with which the cover loses charge
	Capacity  units.Capacitance `json:"capacity,omitempty"`  // to its surroundings if its earth fails, typical
	Sparkover units.Voltage     `json:"sparkover,omitempty"` // at which it sparks to the frame, 0 if unknown
}

// ChangeSpec is what one face is thought to gain at a contact: the prior that
// readings correct.
type ChangeSpec struct {
	Face   Face                       `json:"face"`   // the face touched
	Median units.SurfaceChargeDensity `json:"median"` // change at the survey speed
	Spread units.SurfaceChargeDensity `json:"spread"` // standard deviation, 1e-12 … 1e-3 C/m²
	// n: one pass closes 1−e^−n of the way to saturation, 1e-3 … 50; 0 means 1
	Exposure units.Ratio `json:"exposure,omitempty"`
	Speed    known.Band  `json:"speed"` // [1] exponent of the change with line speed
}

// IonSpec is an ioniser that meets one face.
type IonSpec struct {
	Face     Face         `json:"face"`     // the face it meets
	Distance units.Length `json:"distance"` // from the web, 1 mm … 5 m
	// the maker's data; then the rest below is not given but for passive. Without it the bar takes a share
	// of what it sees, by the conductivity of the air at the web and the length of its plume.
	Bar *Bar `json:"bar,omitempty"`
	// of the air at the web by ions of the neutralising sign
	Conductivity units.Conductivity         `json:"conductivity,omitempty"`
	Zone         units.Length               `json:"zone,omitempty"`    // length of the plume along the web
	Supply       units.LineCurrent          `json:"supply,omitempty"`  // most it can deliver
	Onset        units.SurfaceChargeDensity `json:"onset,omitempty"`   // passive: below this net charge it does nothing
	Offset       units.SurfaceChargeDensity `json:"offset,omitempty"`  // net charge it leaves from imbalance
	Passive      bool                       `json:"passive,omitempty"` // needs no supply
}

// PastSpec says how far past the tangent point of a roller something stands.
type PastSpec struct {
	Radius units.Length `json:"radius"` // of the roller
	X      units.Length `json:"x"`      // along the web from the tangent point
}

// ReadDescription reads a description in JSON. Quantities are strings with units such
// as "220 m/min". All faults come back at once, joined by errors.Join: each names line,
// field, the value as written and, where it can be told, the range in the unit of the file.
// What [New] finds of a description that was read here, it tells in the same way. Beside
// faults of form comes what could be read, for files that go with it to be checked in the
// same round; New refuses it with the same faults.
func ReadDescription(r io.Reader) (*Description, error) {
	const most = 1 << 20
	b, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, err
	}
	if len(b) > most {
		return nil, known.Wrong("description", "more than 1 MiB", "a line description of at most 1 MiB")
	}
	if len(bytes.TrimSpace(b)) == 0 {
		return nil, known.Wrong("description", "", "a JSON object with schema \""+Schema+"\"")
	}
	if e := plain.Encoded(b); e != "" {
		return nil, known.Wrong("description", "text in "+e, "text in UTF-8")
	}
	d := &Description{}
	places, err := strictjson.DecodePlaces(b, d)
	if err != nil { // with what is out of its range among the rest
		d.form = errors.Join(err, places.Stated(d.check()))
		return d, d.form
	}
	d.places = places
	return d, nil
}

// check finds every fault of the description.
func (d *Description) check() error {
	var errs []error
	add := func(err error) {
		if err != nil {
			errs = append(errs, err)
		}
	}
	if d.Schema != Schema {
		add(known.Wrong("schema", d.Schema, "\""+Schema+"\""))
	}
	if strings.TrimSpace(d.Name) == "" {
		add(known.Wrong("name", "", "a name of the line"))
	}
	add(known.InRange("web.thickness", d.Web.Thickness, 1e-7, 0.05))
	add(known.InRange("web.thicknessSpread", d.Web.ThicknessSpread, 0, 0.5))
	add(known.InRange("web.width", d.Web.Width, 1e-3, 20))
	add(known.InRange("web.density", d.Web.Density, 1, 20000))
	add(banded("web.relativePermittivity", d.Web.RelativePermittivity, 1, 100))
	add(known.InRange("web.open", d.Web.Open, 0, 0.99))
	add(known.InRange("web.volumeResistivity", d.Web.VolumeResistivity, 1e-9, mostResistive))
	add(d.Web.checkMoisture())
	add(known.InRange("speed", d.Speed, 1e-4, 100))
	if d.Wish != 0 {
		add(known.InRange("wish", d.Wish, 1e-4, 100))
	}
	add(known.InRange("air.temperature", d.Air.Temperature, units.Celsius(-40), units.Celsius(80)))
	add(known.InRange("air.relativeHumidity", d.Air.RelativeHumidity, 0, 1))
	add(known.InRange("air.pressure", d.Air.Pressure, 50e3, 120e3))
	switch d.Limit.Kind {
	case ClingLimit, FieldLimit:
		if d.Limit.Net != 0 {
			add(known.Wrong("limit.net", d.Limit.Net, "nothing unless limit.kind is \"own\""))
		}
	case OwnLimit:
		add(known.InRange("limit.net", d.Limit.Net, leastLimit, mostCharge))
	default:
		add(known.Wrong("limit.kind", d.Limit.Kind, "one of cling, 5 kV/in, own"))
	}
	d.checkTexts(add)
	names := map[string]bool{}
	for i := range d.Meters {
		add(d.Meters[i].check(fmt.Sprintf("meters[%d]", i), names))
	}
	add(d.checkStations())
	d.checkStretches(add)
	return errors.Join(errs...)
}

func (m *Meter) check(at string, names map[string]bool) error {
	var errs []error
	if m.Name == "" || names[m.Name] {
		errs = append(errs, known.Wrong(at+".name", m.Name, "a name that no other meter has"))
	}
	names[m.Name] = true
	switch m.Kind {
	case FieldMeterKind:
		errs = append(errs, known.InRange(at+".nominal", m.Nominal, 1e-3, 1), known.InRange(at+".placing", m.Placing, 0, 0.1))
		if m.FaceRadius != 0 {
			errs = append(errs, known.InRange(at+".faceRadius", m.FaceRadius, 1e-3, 1))
		}
		if !m.Guarded && m.FaceRadius == 0 {
			errs = append(errs, known.Wrong(at+".faceRadius", m.FaceRadius,
				"the radius of the face of a meter that is not guarded"))
		}
	case VoltmeterKind:
	default:
		errs = append(errs, known.Wrong(at+".kind", m.Kind, "field meter or voltmeter"))
	}
	errs = append(errs, orZero(at+".fullScale", m.FullScale, 1, mostVolts), known.InRange(at+".gain", m.Gain, 0, 1),
		orZero(at+".offset", m.Offset, 1e-6, mostVolts), known.InRange(at+".spots", m.Spots, 0, 2))
	return errors.Join(errs...)
}

func (d *Description) checkStations() error {
	n := len(d.Stations)
	if n < 2 {
		return known.Wrong("stations", fmt.Sprintf("%d stations", n), "2 … 1000 stations, an unwind first and a winder last")
	}
	if n > 1000 {
		return known.Wrong("stations", fmt.Sprintf("%d stations", n), "2 … 1000 stations")
	}
	var errs []error
	names := map[string]int{}
	ion := map[string]bool{}
	for i := range d.Stations {
		s := &d.Stations[i]
		at := fmt.Sprintf("stations[%d]", i)
		if s.Name == "" {
			errs = append(errs, known.Wrong(at+".name", "", "a name that no other station has"))
		} else if j, ok := names[s.Name]; ok {
			errs = append(errs, known.Wrong(at+".name", s.Name,
				fmt.Sprintf("a name that no other station has; stations[%d] has it", j)))
		}
		names[s.Name] = i
		if s.Name != "" {
			at += " (" + s.Name + ")"
		}
		if s.Kind == 0 {
			errs = append(errs, known.Wrong(at+".kind", "", "one of "+strings.Join(kindNames[1:], ", ")))
			continue
		}
		if i > 0 && !(s.At >= d.Stations[i-1].At) {
			errs = append(errs, known.Wrong(at+".at", s.At,
				fmt.Sprintf("%v or more: stations are listed in the order of the web path, and %q stands there",
					d.Stations[i-1].At, d.Stations[i-1].Name)))
		}
		errs = append(errs, known.InRange(at+".at", s.At, 0, 1e4), s.check(at, i == 0, i == n-1))
		for _, o := range s.Off {
			if !ion[o] {
				errs = append(errs, known.Wrong(at+".off", o, "the name of an ioniser that stands before this place"))
			}
		}
		ion[s.Name] = s.Kind == Ioniser
	}
	return errors.Join(errs...)
}

func (s *StationSpec) check(at string, first, last bool) error {
	var errs []error
	add := func(err error) { errs = append(errs, err) }
	if first != (s.Kind == Unwind) {
		add(known.Wrong(at+".kind", s.Kind, "an unwind as the first station and nowhere else"))
	}
	if last != (s.Kind == Winder) {
		add(known.Wrong(at+".kind", s.Kind, "a winder as the last station and nowhere else"))
	}
	switch open := s.Kind == Place || s.Kind == Ioniser; {
	case !open && (s.Gap != 0 || s.Past != nil):
		add(known.Wrong(at+".gap", s.Gap, "no gap or past except at a place or an ioniser"))
	case open && (s.Gap != 0) == (s.Past != nil):
		add(known.Wrong(at+".gap", s.Gap, "either gap, the distance to the metal behind the web, or past, the roller "+
			"behind it"))
	case open && s.Past != nil:
		add(known.InRange(at+".past.radius", s.Past.Radius, 1e-3, 2))
		add(known.InRange(at+".past.x", s.Past.X, 1e-3, 100))
	case open:
		add(known.InRange(at+".gap", s.Gap, 1e-6, 100))
	}
	if (s.Kind == Roller || s.Kind == Nip) != (s.Roller != nil) {
		add(known.Wrong(at+".roller", "", "a roller at a roller or nip and nowhere else"))
	}
	if (s.Kind == Ioniser) != (s.Ioniser != nil) {
		add(known.Wrong(at+".ioniser", "", "an ioniser at a station of kind ioniser and nowhere else"))
	}
	if r := s.Roller; r != nil {
		add(known.InRange(at+".roller.radius", r.Radius, 1e-3, 2))
		add(orZero(at+".roller.capacity", r.Capacity, 1e-15, mostFarad))
		add(orZero(at+".roller.sparkover", r.Sparkover, 1, mostVolts))
		switch r.Kind {
		case BareMetal:
		case InsulatingCover:
			add(known.InRange(at+".roller.cover", r.Cover, leastLeak, mostLeak))
		default:
			add(known.Wrong(at+".roller.kind", r.Kind, "metal or insulating"))
		}
	}
	if ion := s.Ioniser; ion != nil {
		if ion.Face == NoFace {
			add(known.Wrong(at+".ioniser.face", "", "A or B"))
		}
		add(known.InRange(at+".ioniser.distance", ion.Distance, 1e-3, 5))
		if b := ion.Bar; b != nil {
			rest := *ion
			rest.Face, rest.Distance, rest.Bar, rest.Passive = NoFace, 0, nil, false
			if rest != (IonSpec{}) {
				add(known.Wrong(at+".ioniser.bar", b.Kind, "no conductivity, zone, supply, onset or offset beside a bar"))
			}
			if ion.Passive != (b.Kind == ionflow.Passive) {
				add(known.Wrong(at+".ioniser.passive", ion.Passive, "true for a bar of the kind passive and only for it"))
			}
			add(known.InRange(at+".ioniser.bar.fit", b.Fit, 0, 100))
			return errors.Join(append(errs, s.checkRest(at))...)
		}
		add(orZero(at+".ioniser.conductivity", ion.Conductivity, 1e-18, mostIons))
		add(known.InRange(at+".ioniser.zone", ion.Zone, 1e-4, 10))
		add(orZero(at+".ioniser.supply", ion.Supply, 1e-15, mostSupply))
		add(orZero(at+".ioniser.onset", ion.Onset, leastSpread, mostCharge))
		add(known.InRange(at+".ioniser.offset", ion.Offset, -mostCharge, mostCharge))
	}
	return errors.Join(append(errs, s.checkRest(at))...)
}

// checkRest checks what stands at any kind of station.
func (s *StationSpec) checkRest(at string) error {
	var errs []error
	add := func(err error) { errs = append(errs, err) }
	add(s.checkChange(at))
	if l := s.Leak; l != nil {
		if !l.Path.Leads() {
			add(known.Wrong(at+".leak.path", l.Path, "a path that leads to earth"))
		}
		add(known.InRange(at+".leak.time", l.Time, leastLeak, mostLeak))
	}
	if s.Kind != Winder && (s.Core != 0 || s.Earthed) {
		add(known.Wrong(at+".core", s.Core, "no core and no earthed except at a winder"))
	} else if s.Core != 0 {
		add(known.InRange(at+".core", s.Core, 1e-3, 2))
	}
	if s.Off != nil && s.Kind != Place {
		add(known.Wrong(at+".off", strings.Join(s.Off, ", "), "nothing except at a place"))
	}
	return errors.Join(errs...)
}

func (s *StationSpec) checkChange(at string) error {
	var errs []error
	want := map[StationKind]int{Unwind: 2, Roller: 1, Nip: 2}[s.Kind]
	if len(s.Change) != want {
		return known.Wrong(at+".change", fmt.Sprintf("%d faces", len(s.Change)),
			fmt.Sprintf("%d for %s: one for each face that it touches", want, s.Kind))
	}
	if want == 2 && s.Change[0].Face == s.Change[1].Face {
		errs = append(errs, known.Wrong(at+".change", s.Change[0].Face, "one entry for each of faces A and B"))
	}
	for j := range s.Change {
		c := &s.Change[j]
		cat := fmt.Sprintf("%s.change[%d]", at, j)
		if c.Face == NoFace {
			errs = append(errs, known.Wrong(cat+".face", "", "A or B"))
		}
		errs = append(errs, known.InRange(cat+".median", c.Median, -1e-3, 1e-3),
			known.InRange(cat+".spread", c.Spread, leastSpread, 1e-3),
			orZero(cat+".exposure", c.Exposure, 1e-3, 50), banded(cat+".speed", c.Speed, -2, 3))
	}
	return errors.Join(errs...)
}
