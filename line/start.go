package line

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/lazy"
	"example.org/pithball/internal/written"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Answers are what is asked of somebody who has no description of the line yet: what
// moves, how fast, what goes wrong, the stations in one line of words, the air, what
// comes next and whether a meter is at hand. Zone and flammables are asked where
// hazards are listed and cures are planned, and stay unanswered here.
type Answers struct {
	Name      string        `json:"name"`              // of the line
	Note      string        `json:"note,omitempty"`    // free text; a demo says here that it is invented
	Material  string        `json:"material"`          // bopp, pp, pe, pet, pvc, pa, paper, or any name
	Thickness units.Length  `json:"thickness"`         // as Web
	Width     units.Length  `json:"width"`             // as Web
	Density   units.Density `json:"density,omitempty"` // 0: by the material
	Speed     units.Speed   `json:"speed"`             // at which the line runs
	Wish      units.Speed   `json:"wish,omitempty"`    // wanted speed, 0 if none
	Trouble   Trouble       `json:"trouble"`           // what goes wrong; its limit follows it
	Where     string        `json:"where,omitempty"`   // for the record
	Since     string        `json:"since,omitempty"`   // for the record
	// words from the unwind to the winder, with commas: unwind, idler, roller,
	// nip, bar, brush, winder; words may stand before them: tension nip, lay-on roller.
	Stations         string                 `json:"stations"`
	Temperature      units.Temperature      `json:"temperature"`
	RelativeHumidity units.RelativeHumidity `json:"relativeHumidity"`
	Next             string                 `json:"next,omitempty"`  // slit, sheet, wind, stack, peel, print, coat, store
	Meter            YesNo                  `json:"meter,omitempty"` // is one at hand?
}

// Assumption is what [Start] took for want of an answer.
type Assumption struct {
	Field string `json:"field"` // of the description
	Value string `json:"value"` // that was taken
	Range string `json:"range"` // in which it lies, or what to do about it
}

// stock is what is taken of a material by its name: figures of handbooks, common
// practice, no source.
type stock struct {
	density   units.Density
	epsr      float64
	rho       units.VolumeResistivity
	class     humidity.Class
	sentences string
}

var stocks = lazy.Value[map[string]stock]{Make: func() map[string]stock {
	return map[string]stock{
		"bopp": {905 * units.KilogramPerCubicMetre, 2.2, 1e15 * units.OhmMetre, humidity.Inert, "1e14 … 1e17 Ω·m"},
		"pp":   {905 * units.KilogramPerCubicMetre, 2.2, 1e15 * units.OhmMetre, humidity.Inert, "1e14 … 1e17 Ω·m"},
		"pe":   {925 * units.KilogramPerCubicMetre, 2.3, 1e15 * units.OhmMetre, humidity.Inert, "1e13 … 1e17 Ω·m"},
		"pet":  {1390 * units.KilogramPerCubicMetre, 3.2, 1e14 * units.OhmMetre, humidity.Inert, "1e13 … 1e16 Ω·m"},
		"pvc": {1380 * units.KilogramPerCubicMetre, 3.3, 1e13 * units.OhmMetre, humidity.Inert,
			"1e11 … 1e14 Ω·m, by its softener"},
		"pa": {1140 * units.KilogramPerCubicMetre, 3.8, 1e11 * units.OhmMetre, humidity.Absorbing,
			"1e9 … 1e13 Ω·m, by its moisture"},
		"paper": {900 * units.KilogramPerCubicMetre, 2.5, 1e10 * units.OhmMetre, humidity.Absorbing,
			"1e7 … 1e13 Ω·m, by its moisture"},
	}
}}

type startWord struct {
	kind    StationKind
	passive bool
}

// startWords are the words of a line in one row.
var startWords = lazy.Value[map[string]startWord]{Make: func() map[string]startWord {
	return map[string]startWord{"unwind": {kind: Unwind}, "idler": {kind: Roller}, "roller": {kind: Roller},
		"nip": {kind: Nip},
		"bar": {kind: Ioniser}, "brush": {kind: Ioniser, passive: true}, "winder": {kind: Winder}}
}}

// Start makes a first description of eight answers and lists everything that it
// assumed: spacing, rollers, bars, spreads. Limit and resistivity follow the trouble and
// the material; every contact gets a wide prior. A description that a plant checks and
// corrects is worth more than one it has to write. Errors are [*known.FieldError]s.
func Start(a Answers) (*Description, []Assumption, error) {
	var s starter
	words := strings.Split(a.Stations, ",")
	for i := range words {
		words[i] = strings.ToLower(strings.TrimSpace(words[i]))
	}
	var errs []error
	if n := len(words); n < 2 || startWords.Get()[words[0]].kind != Unwind || startWords.Get()[words[n-1]].kind != Winder {
		errs = append(errs, known.Wrong("stations", a.Stations, "words with commas from unwind to winder"))
	}
	m, ok := stocks.Get()[strings.ToLower(a.Material)]
	if !ok {
		m = stock{1000 * units.KilogramPerCubicMetre, 2.5, 1e13 * units.OhmMetre, humidity.Adsorbing,
			"1e7 … 1e17 Ω·m: not a material that is held"}
		s.assume("web.humidity", "adsorbing", "inert, adsorbing or absorbing: ask the maker")
	}
	if a.Density > 0 {
		m.density = a.Density
	} else {
		s.assume("web.density", m.density, "± 5 % for a clean polymer, ± 20 % else")
	}
	s.assume("web.relativePermittivity", m.epsr, "± 10 %")
	s.assume("web.volumeResistivity", m.rho, m.sentences)
	s.d = Description{Schema: Schema, Name: a.Name, Note: a.Note, Speed: a.Speed, Wish: a.Wish,
		Web: Web{Material: a.Material, Thickness: a.Thickness, ThicknessSpread: 0.03, Width: a.Width, Density: m.density,
			RelativePermittivity: known.Band{Value: m.epsr, Spread: 0.05, Kind: known.LogNormal}, VolumeResistivity: m.rho,
			Humidity: m.class},
		Air: AirSpec{Temperature: a.Temperature, RelativeHumidity: a.RelativeHumidity, Pressure: units.Atmosphere}}
	s.assume("air.pressure", units.Atmosphere, "less in the heights: 1 % for each 85 m")
	errs = append(errs, s.judge(&a))
	s.meters(&a)
	for i, w := range words {
		errs = append(errs, s.station(i, w))
	}
	s.assume("stations[].at", "0.6 m apart", "measure along the web")
	s.assume("stations[].roller", "metal, Ø 100 mm, 200 pF, sparks over at 7 kV", "Ø 50 … 300 mm; say which are covered")
	s.assume("stations[].change", "nothing ± 3 µC/m² (nip ± 12, unwind ± 5), exponent of speed 0.5 ± 0.3",
		"readings correct this; without them nothing is known of a contact")
	if m.class != humidity.Inert {
		s.assume("stations[].webTemperature", "that of the air", "give it where the web is heated or cooled (oven, chill "+
			"roll), and again where it ends: its leaks follow the humidity at it")
	}
	err := errors.Join(errs...)
	_, made := New(&s.d)
	err = errors.Join(err, written.Fields(made, func(f string) string {
		if name := answered.Get()[f]; name != "" || err == nil {
			return cmp.Or(name, f)
		}
		return "" // it follows from what is told already
	}))
	if err != nil {
		return nil, nil, err
	}
	return &s.d, s.list, nil
}

// answered names the answer in which a field of the description was given.
var answered = lazy.Value[map[string]string]{Make: func() map[string]string {
	return map[string]string{"name": "name", "note": "note", "speed": "speed", "wish": "wish",
		"web.material": "material", "web.thickness": "thickness", "web.width": "width", "web.density": "density",
		"air.temperature": "temperature", "air.relativeHumidity": "relativeHumidity"}
}}

// starter is a description in the making.
type starter struct {
	d      Description
	list   []Assumption
	number map[string]int
}

func (s *starter) assume(field string, value any, within string) {
	s.list = append(s.list, Assumption{field, fmt.Sprint(value), within})
}

// judge takes the limit by the trouble.
func (s *starter) judge(a *Answers) error {
	switch a.Trouble {
	case TroubleJam, TroubleDoubleFeed, TroubleCling, TroubleShock, TroubleDust, TroubleSensorTrip:
		s.d.Limit = Limit{Kind: ClingLimit}
		s.assume("limit", "cling", "or 5 kV/in, one author's practice; ask on which days it ran without trouble")
	case TroubleMisplaced:
		s.d.Limit = Limit{Kind: OwnLimit, Net: units.SurfaceChargeDensity(
			units.Epsilon0 * 2.5 * float64(units.KilovoltPerInch))}
		s.assume("limit", "2.5 kV/in", "for thin labels: one author's practice")
	case TroubleSparkMark:
		s.d.Limit = Limit{Kind: OwnLimit, Net: units.SurfaceChargeDensity(
			units.Epsilon0 * 20 * float64(units.KilovoltPerCentimetre))}
		s.assume("limit", "20 kV/cm", "air breaks down at about 30")
	default:
		return known.Wrong("trouble", a.Trouble, enum.OneOf(troubleNames[:]))
	}
	return nil
}

func (s *starter) meters(a *Answers) {
	s.d.Meters = []Meter{{Name: "field meter", Kind: FieldMeterKind, Nominal: 25 * units.Millimetre, Guarded: true,
		FullScale: 20 * units.DisplayVoltage(units.Kilovolt), Gain: 0.06, Offset: 40 * units.Volt,
		Placing: 3 * units.Millimetre,
		Spots:   0.25},
		// The faces show over a roller, to this one only; nothing is asked of it until readings name it.
		{Name: "voltmeter", Kind: VoltmeterKind, FullScale: units.DisplayVoltage(500 * units.Volt), Gain: 0.04,
			Offset: 3 * units.Volt, Spots: 0.25}}
	what := "25 mm, guarded, ± 6 %, 40 V of zero, 3 mm of placing, 25 % from spot to spot; " +
		"a voltmeter for rollers, to 500 V, ± 4 %, " +
		"3 V of zero"
	if a.Meter != Yes {
		what += "; none at hand: get one before anything is bought"
	}
	s.assume("meters", what, "the maker's sheet; the scatter from your own repeats")
}

func (s *starter) station(i int, word string) error {
	const uC = units.MicrocoulombPerSquareMetre
	at := units.Length(0.6 * float64(i))
	if s.number == nil {
		s.number = map[string]int{}
	}
	s.number[word]++
	x := StationSpec{Name: fmt.Sprintf("%s %d", word, s.number[word]), At: at}
	spread := func(f Face, sd units.SurfaceChargeDensity) ChangeSpec {
		return ChangeSpec{Face: f, Spread: sd, Speed: known.Band{Value: 0.5, Spread: 0.3, Kind: known.Normal}}
	}
	is := startWords.Get()[word[strings.LastIndex(word, " ")+1:]] // a tension nip is a nip, a lay-on roller a roller
	switch x.Kind = is.kind; is.kind {
	case Unwind:
		x.Name, x.Change = word, []ChangeSpec{spread(FaceA, 5*uC), spread(FaceB, 5*uC)}
	case Winder:
		x.Name = word
	case Roller:
		x.Roller = &RollerSpec{Radius: 50 * units.Millimetre, Kind: BareMetal, Capacity: 200 * units.Picofarad,
			Sparkover: 7 * units.Kilovolt}
		face := FaceB
		if i%2 == 0 {
			face = FaceA
		}
		x.Change = []ChangeSpec{spread(face, 3*uC)}
		s.assume(x.Name+" touches", "face "+face.String(), "look which face lies on it")
	case Nip:
		x.Roller = &RollerSpec{Radius: 60 * units.Millimetre, Kind: BareMetal, Capacity: 200 * units.Picofarad,
			Sparkover: 7 * units.Kilovolt}
		x.Change = []ChangeSpec{spread(FaceA, 12*uC), spread(FaceB, 12*uC)}
	case Ioniser:
		x.Gap = 300 * units.Millimetre
		x.Ioniser = &IonSpec{Face: FaceA, Distance: 25 * units.Millimetre, Conductivity: units.Conductivity(1.6e-9),
			Zone: 50 * units.Millimetre, Supply: 300 * units.MicroamperePerMetre}
		if is.passive {
			x.Ioniser.Passive, x.Ioniser.Onset = true, 1.5*uC
		}
		s.assume(x.Name, "face A, 25 mm off in mid-span", "measure its place; a roller near it takes most of its effect")
	default:
		return known.Wrong(fmt.Sprintf("stations[%d]", i), word, "unwind, idler, roller, nip, bar, brush or winder; "+
			"what the web slides over counts as a roller, knives are left out")
	}
	s.d.Stations = append(s.d.Stations, x)
	if x.Kind == Winder {
		return nil
	}
	// A place to read behind everything that charges or discharges.
	p := StationSpec{Name: "after " + x.Name, Kind: Place, At: at + 0.3*units.Metre, Gap: 300 * units.Millimetre}
	s.d.Stations = append(s.d.Stations, p)
	return nil
}
