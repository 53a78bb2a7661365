package cure

import (
	"errors"
	"fmt"
	"strings"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// GoodsAnswers are the eight answers of which a first description of goods is made: what
// they are, of what, how fast, how heavy, what is too much, the stops in one line of
// words, and the air. Zone and flammables are asked where hazards are listed and cures
// are planned.
type GoodsAnswers struct {
	Name             string                 `json:"name"`                // of the line
	Note             string                 `json:"note,omitempty"`      // free text; a demo says here that it is invented
	Kind             BodyKind               `json:"kind"`                // what moves
	Moisture         MoistureAnswer         `json:"moisture"`            // unknown: absorbing
	Rate             units.Frequency        `json:"rate,omitempty"`      // of sheets, parts or doses
	Speed            units.Speed            `json:"speed,omitempty"`     // of a profile
	Basis            units.BasisWeight      `json:"basis,omitempty"`     // of a sheet
	Mass             units.Mass             `json:"mass,omitempty"`      // of a dose
	Tolerance        units.Mass             `json:"tolerance,omitempty"` // of a dose, either way
	Limit            float64                `json:"limit,omitempty"`     // too much, as Goods [unit of the body]
	Stations         string                 `json:"stations"`            // kinds of stop of the body, with commas
	Temperature      units.Temperature      `json:"temperature"`         // where the goods are conditioned
	RelativeHumidity units.RelativeHumidity `json:"relativeHumidity"`    // there
}

// StartGoods makes a first description of eight answers and lists what it assumed: what
// each stop gives, how the body leaks, the nozzles. It is to be checked and corrected;
// without readings its verdict is a guess. Errors are [*known.FieldError]s.
func StartGoods(a GoodsAnswers) (*Goods, []line.Assumption, error) {
	if a.Kind.stops() == nil {
		return nil, nil, known.Wrong("kind", a.Kind, enum.OneOf(bodyNames[:]))
	}
	guess := bodies[a.Kind].guess
	var list []line.Assumption
	assume := func(field, value, within string) {
		list = append(list, line.Assumption{Field: field, Value: value, Range: within})
	}
	g := &Goods{Schema: GoodsSchema, Name: a.Name, Note: a.Note, Kind: a.Kind, Rate: a.Rate, Speed: a.Speed,
		Basis: a.Basis,
		Mass:  a.Mass, Limit: a.Limit,
		Airs: []NamedAir{{Name: "room", Temperature: a.Temperature, RelativeHumidity: a.RelativeHumidity}}}
	var errs []error
	if strings.TrimSpace(a.Name) == "" {
		errs = append(errs, known.Wrong("name", a.Name, "a name of the line"))
	}
	c := a.Moisture.class()
	if c == 0 {
		errs = append(errs, known.Wrong("moisture", a.Moisture, enum.OneOf(moistureNames[:])))
	}
	g.Leak = &LeakLaw{Class: c, At: a.RelativeHumidity, Time: 10 * units.Second, Decades: 0.06, Spread: 0.5}
	assume("leak", "10 s at that humidity, 0.06 decades faster a %RH", "two decay tests at unlike humidities replace it")
	if c == humidity.Inert {
		g.Leak.Time, g.Leak.Decades = 1e5*units.Second, 0
		list[0].Value = "a day, whatever the humidity"
	}
	if a.Tolerance > 0 {
		g.Scatter = &MassScatter{Tolerance: a.Tolerance, Now: a.Tolerance, Good: a.Tolerance / 3,
			NowCharge: units.ChargePerMass(bodies[DoseBody].guess), GoodCharge: units.ChargePerMass(bodies[DoseBody].guess / 20)}
		assume("scatter", "now as wide as the tolerance at 5 nC/g, a third of it in a good state", "from your own weights")
	}
	number := map[string]int{}
	told := map[string]bool{}
	for i, w := range strings.Split(a.Stations, ",") {
		w = strings.ToLower(strings.TrimSpace(w))
		number[w]++
		s := Stop{Name: w, Air: "room"}
		if err := s.Kind.UnmarshalText([]byte(w)); err != nil {
			at := fmt.Sprintf("stations[%d]", i)
			errs = append(errs, known.Wrong(at, w, "of a "+a.Kind.String()+" one of "+listed(a.Kind.stops())))
			told[at] = true
		}
		if number[w] > 1 {
			s.Name = fmt.Sprintf("%s %d", w, number[w])
		}
		switch {
		case s.Kind == IoniserStop:
			s.Nozzle = &IonStream{Distance: 300 * units.Millimetre, Air: 10 * units.MetrePerSecond,
				HalfRadius: 40 * units.Millimetre}
			s.Dwell = 0.5 * units.Second
			assume("stations ("+s.Name+").nozzle", "300 mm off, 10 m/s at the body, 40 mm half radius, 0.5 s",
				"measure distance and air speed at the body")
		case s.Kind == BoardStop:
			s.Path = decay.EarthedEdge
		case s.Kind.charges():
			s.Change = known.Band{Spread: guess, Kind: known.Normal}
		}
		if s.Kind == SlideStop {
			s.Without = &known.Band{Value: 0.1, Spread: 0.1, Kind: known.Normal}
			assume("stations ("+s.Name+").without", "a tenth is left when its cover is taken away or bonded",
				"say nothing where the slide is bare metal")
		}
		g.Stations = append(g.Stations, s)
	}
	assume("stations[].change", fmt.Sprintf("nothing ± %.3g µ%s", 1e6*guess, g.Unit()),
		"readings correct this; without them nothing is known of a stop")
	for _, n := range []string{"frame", "slide or board", "container or pile plate"} {
		g.Conductors = append(g.Conductors, Metal{Name: n})
	}
	assume("conductors", "three parts, none measured", "list every metal part with its resistance to earth")
	err := errors.Join(errs...)
	_, made := NewRoute(g, nil)
	err = errors.Join(err, written.Fields(made, func(f string) string {
		switch {
		case f == "name" || strings.HasPrefix(f, "leak."): // told by the answers
			return ""
		case strings.HasPrefix(f, "stations["): // stations[2] (nip).kind
			if f = f[:strings.Index(f, "]")+1]; told[f] {
				return ""
			}
			return f
		}
		return strings.TrimPrefix(f, "airs[0].")
	}))
	if err != nil {
		return nil, nil, err
	}
	return g, list, nil
}
