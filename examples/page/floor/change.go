package floor

import (
	"math"
	"strings"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// change is one thing to try, as the page asks for it; text with a unit, empty where it is left open.
type change struct {
	Do      string `json:"do"`      // see changeNames
	Station string `json:"station"` // all but run, moisten and warm; add: the name of the new bar
	Speed   string `json:"speed"`   // run
	To      string `json:"to"`      // move, add: along the web; moisten: humidity; warm: temperature
	Gap     string `json:"gap"`     // move, add: to metal behind the web
	Face    string `json:"face"`    // move: that it meets, empty: as now; add; cover: that it touches
	Times   string `json:"times"`   // load, wrap: of what is now; cover: strength of the new pair, of that of the old
	Metal   bool   `json:"metal"`   // cover: earthed metal
	Passive bool   `json:"passive"` // add: without power
}

const changeNames = "earth, run, switch on, switch off, clean, move, add, remove, cover, load, wrap, moisten, " +
	"warm or core"

// sideBySide is the spread of a strength from a test of two covers side by side: ×/÷ 1.5 is its 90 % band.
var sideBySide = math.Log(1.5) / known.Z95

// of turns a request into a change of the library; what a person typed is named in the fault.
func (c *change) of() (cure.Change, error) {
	var face line.Face
	if c.Face != "" {
		if err := face.UnmarshalText([]byte(c.Face)); err != nil {
			return nil, err
		}
	}
	switch c.Do {
	case "earth":
		return cure.Earth{Station: c.Station}, nil
	case "run":
		v, err := units.Parse[units.Speed](c.Speed)
		return cure.Run{Speed: v}, err
	case "switch on", "switch off":
		return cure.Switch{Station: c.Station, On: c.Do == "switch on"}, nil
	case "clean":
		return cure.Clean{Station: c.Station}, nil
	case "remove":
		return cure.Remove{Station: c.Station}, nil
	case "core":
		return cure.Shield{Station: c.Station}, nil
	case "cover":
		x := cure.Cover{Station: c.Station, Face: face, Metal: c.Metal}
		if c.Times == "" {
			return x, nil
		}
		v, err := ratio("strength", c.Times)
		x.Strength = known.Band{Value: float64(v), Spread: sideBySide, Kind: known.LogNormal}
		return x, err
	case "load":
		v, err := ratio("load", c.Times)
		return cure.Load{Station: c.Station, Times: v}, err
	case "wrap":
		v, err := ratio("wrap", c.Times)
		return cure.Wrap{Station: c.Station, Times: v}, err
	case "moisten":
		v, err := units.Parse[units.RelativeHumidity](c.To)
		return cure.Moisten{To: v}, err
	case "warm":
		v, err := units.Parse[units.Temperature](c.To)
		return cure.Warm{To: v}, err
	case "move":
		m := cure.Move{Station: c.Station, Face: face}
		var err error
		if m.To, err = optional[units.Length](c.To); err == nil {
			m.Gap, err = optional[units.Length](c.Gap)
		}
		return m, err
	case "add":
		return c.bar(face)
	}
	return nil, known.Wrong("change", c.Do, changeNames)
}

// bar is a new ioniser, 25 mm off the web.
func (c *change) bar(face line.Face) (cure.Change, error) {
	s := line.StationSpec{Name: strings.TrimSpace(c.Station), Kind: line.Ioniser,
		Ioniser: &line.IonSpec{Face: face, Distance: 25 * units.Millimetre, Passive: c.Passive}}
	if s.Name == "" {
		return nil, known.Wrong("name of the new bar", c.Station, "a name that no station has")
	}
	if face == line.NoFace {
		s.Ioniser.Face = line.FaceA
	}
	var err error
	if s.At, err = units.Parse[units.Length](c.To); err == nil {
		s.Gap, err = optional[units.Length](c.Gap)
	}
	return cure.Add{Station: s}, err
}

func optional[T units.Quantity](s string) (v T, err error) {
	if s == "" {
		return v, nil
	}
	return units.Parse[T](s)
}
