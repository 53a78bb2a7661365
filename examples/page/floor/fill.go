package floor

import (
	"fmt"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units/known"
)

// goods is a kind of web as the page offers it: typical values that the plant's own take the place of.
type goods struct {
	Name         string  `json:"name"`
	Density      string  `json:"density"`
	Permittivity float64 `json:"permittivity"` // [1]
	Resistivity  string  `json:"resistivity"`  // volume
	Humidity     string  `json:"humidity"`     // class
}

// Typical values from memory: each is told to the person as assumed.
var webs = []goods{
	{"BOPP film", "905 kg/m³", 2.2, "1e15 Ω·m", "inert"},
	{"cast polypropylene film", "900 kg/m³", 2.2, "1e15 Ω·m", "inert"},
	{"polyethylene film", "920 kg/m³", 2.3, "1e15 Ω·m", "inert"},
	{"polyester (PET) film", "1390 kg/m³", 3.2, "1e15 Ω·m", "inert"},
	{"polystyrene film", "1050 kg/m³", 2.6, "1e15 Ω·m", "inert"},
	{"rigid PVC film", "1380 kg/m³", 3.1, "1e14 Ω·m", "inert"},
	{"polyamide film", "1140 kg/m³", 3.8, "1e12 Ω·m", "absorbing"},
	{"uncoated paper", "800 kg/m³", 2.5, "1e10 Ω·m", "absorbing"},
	{"coated paper", "1150 kg/m³", 3, "1e10 Ω·m", "absorbing"},
	{"board", "750 kg/m³", 2.7, "1e10 Ω·m", "absorbing"},
}

// began is what the page needs before anything is typed.
type began struct {
	Webs     []goods                 `json:"webs"`
	Cautions map[string]known.Notice `json:"cautions"`
	Columns  []string                `json:"columns"`
	Schema   string                  `json:"schema"`
}

func start() began {
	c := map[string]known.Notice{}
	for _, id := range hazard.Notices() {
		c[id.Code()] = caution(id)
	}
	return began{webs, c, append(survey.Columns(), survey.OptionalColumns()...), line.Schema}
}

// filled is a description with what was left out.
type filled struct {
	Line    map[string]any `json:"line"`
	Assumed []string       `json:"assumed"`
}

func fillRequest(q *files) (filled, error) {
	assumed := Fill(q.Line)
	return filled{q.Line, assumed}, nil
}

// filler completes one object and keeps what was assumed.
type filler struct {
	assumed []string
}

// set gives the field a value where it has none, and says so where words are given.
func (f *filler) set(m map[string]any, key string, v any, words string) {
	if x, ok := m[key]; ok && x != nil && x != "" {
		return
	}
	m[key] = v
	if words != "" {
		f.assumed = append(f.assumed, words)
	}
}

func text(m map[string]any, key string) string {
	s, _ := m[key].(string)
	return s
}

func child(m map[string]any, key string) map[string]any {
	c, ok := m[key].(map[string]any)
	if !ok {
		c = map[string]any{}
		m[key] = c
	}
	return c
}

// Fill completes a description that a person began and returns what it assumed, in words. Nothing that is given is
// changed; what only a person can know (speed, thickness, width, where a station stands) stays missing. A description
// with a schema came from a file and is whole, apart from stations that the page added: those have its word "as".
func Fill(d map[string]any) []string {
	if d == nil {
		return nil
	}
	f := &filler{}
	began := text(d, "schema") == ""
	list, _ := d["stations"].([]any)
	for _, x := range list {
		if s, ok := x.(map[string]any); ok {
			if began || text(s, "as") != "" {
				f.station(s)
			}
			touch(s)
		}
	}
	if !began {
		return f.assumed
	}
	d["schema"] = line.Schema
	f.web(child(d, "web"))
	air := child(d, "air")
	f.set(air, "pressure", "101.3 kPa", "the air pressure is 101.3 kPa")
	f.set(d, "limit", map[string]any{"kind": "cling"},
		"the limit for the net charge is where its attraction equals the weight of one sheet")
	f.set(d, "meters", []any{
		map[string]any{"name": "field meter", "kind": "field meter", "nominal": "25 mm", "guarded": true,
			"fullScale": "20 kV", "gain": "6%", "offset": "40 V", "placing": "3 mm", "spots": "20%"},
		map[string]any{"name": "voltmeter", "kind": "voltmeter", "fullScale": "500 V", "gain": "4%", "offset": "3 V",
			"spots": "5%"},
	}, "the field meter shows field × 25 mm, up to 20 kV, reads within 6 % and 40 V and is held within 3 mm; the "+
		"voltmeter reads within 4 % and 3 V, up to 500 V; spots of the web differ by 20 %")
	return f.assumed
}

func (f *filler) web(w map[string]any) {
	name := text(w, "material")
	for _, g := range webs {
		if g.Name != name {
			continue
		}
		f.set(w, "density", g.Density, name+": "+g.Density)
		f.set(w, "relativePermittivity", map[string]any{"value": g.Permittivity, "spread": 0.05, "kind": "lognormal"},
			fmt.Sprintf("%s: relative permittivity %v, ±5 %%", name, g.Permittivity))
		f.set(w, "volumeResistivity", g.Resistivity, name+": volume resistivity "+g.Resistivity)
		f.set(w, "humidity", g.Humidity, map[string]string{"inert": name + " takes up no water",
			"absorbing": name + " takes up water from the air"}[g.Humidity])
	}
	f.set(w, "density", "1000 kg/m³", "the density of the web is 1000 kg/m³")
	f.set(w, "relativePermittivity", map[string]any{"value": 2.5, "spread": 0.15, "kind": "lognormal"},
		"the relative permittivity of the web is 2.5, ±15 %")
	f.set(w, "volumeResistivity", "1e15 Ω·m", "the web keeps its charge (volume resistivity 1e15 Ω·m)")
	f.set(w, "humidity", "inert", "the web takes up no water")
	f.set(w, "thicknessSpread", "3%", "the thickness holds within 3 %")
}

// contact is what one face is thought to gain where nothing is known: any sign, with the spread of its kind.
func contact(face, spread, exposure string) map[string]any {
	c := map[string]any{"face": face, "median": "0 µC/m²", "spread": spread,
		"speed": map[string]any{"value": 0.5, "spread": 0.3, "kind": "normal"}}
	if exposure != "" {
		c["exposure"] = exposure
	}
	return c
}

// station completes one station. The page's own word for what stands there, "as", tells rollers apart.
func (f *filler) station(s map[string]any) {
	name, as := text(s, "name"), text(s, "as")
	delete(s, "as")
	say := func(what string) string { return name + ": " + what }
	either := "any charge of either sign may be made there, "
	switch text(s, "kind") {
	case "unwind":
		f.set(s, "change", []any{contact("A", "5 µC/m²", ""), contact("B", "5 µC/m²", "")}, say(either+"5 µC/m² a face"))
	case "roller":
		r := child(s, "roller")
		f.set(r, "radius", "50 mm", say("diameter 100 mm"))
		f.set(r, "kind", "metal", say("bare metal"))
		if text(r, "kind") == "insulating" {
			f.set(r, "cover", "1000 s", say("its cover loses charge in about 1000 s"))
		}
		face := text(s, "touches")
		if face == "" {
			face = "B"
		}
		spread, exposure := "3 µC/m²", "0.2"
		if as == "lay-on" {
			spread, exposure = "4 µC/m²", "0.4"
		} else if as == "roller" && text(r, "kind") == "metal" {
			f.set(r, "capacity", "200 pF", say("200 pF to its surroundings if its earth fails"))
			f.set(r, "sparkover", "7 kV", say("sparks to the frame at 7 kV if its earth fails"))
		}
		f.set(s, "change", []any{contact(face, spread, exposure)}, say(either+spread))
	case "nip":
		r := child(s, "roller")
		f.set(r, "radius", "60 mm", say("diameter 120 mm"))
		f.set(r, "kind", "metal", say("its core is metal"))
		f.set(s, "change", []any{contact("A", "12 µC/m²", "1"), contact("B", "12 µC/m²", "1")},
			say(either+"12 µC/m² a face"))
	case "ioniser":
		f.ioniser(s, say)
	}
}

// touch turns the page's word for the face that lies on a roller into the change that it stands for.
func touch(s map[string]any) {
	if x := text(s, "touches"); x != "" {
		if list, ok := s["change"].([]any); ok && len(list) == 1 {
			if c, ok := list[0].(map[string]any); ok {
				c["face"] = x
			}
		}
	}
	delete(s, "touches")
}

func (f *filler) ioniser(s map[string]any, say func(string) string) {
	i := child(s, "ioniser")
	f.set(i, "face", "A", say("meets face A"))
	f.set(i, "distance", "25 mm", say("25 mm off the web"))
	if passive, _ := i["passive"].(bool); passive {
		f.set(i, "conductivity", "1.6 nS/m", "")
		f.set(i, "supply", "100 µA/m", say("takes up to 100 µA a metre"))
		f.set(i, "onset", "1.5 µC/m²", say("does nothing below 1.5 µC/m²"))
	}
	if bar, _ := i["bar"].(map[string]any); text(bar, "kind") != "" {
		return // the maker's data say the rest
	}
	f.set(i, "conductivity", "1.6 nS/m", say("ions as of a clean powered bar (1.6 nS/m at the web)"))
	f.set(i, "zone", "50 mm", say("its ions meet 50 mm of the web"))
	f.set(i, "supply", "300 µA/m", say("supplies up to 300 µA a metre"))
}

// Kinds are the words under which stations are added, for a check that the page offers them all.
func Kinds() []string {
	return strings.Fields("unwind roller lay-on covered nip ioniser passive place winder")
}
