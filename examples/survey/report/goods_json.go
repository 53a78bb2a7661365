package report

import (
	"encoding/json"
	"io"
	"math"

	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/units/known"
)

// The JSON of goods: numbers in the unit of the body, which stands beside them.
type (
	jsonGoods struct {
		Schema   string         `json:"schema"`
		Line     string         `json:"line"`
		Note     string         `json:"note,omitempty"`
		Kind     cure.BodyKind  `json:"kind"`
		Unit     string         `json:"unit"`
		Limit    *float64       `json:"limit,omitempty"`
		Verdict  []string       `json:"verdict"`
		Sources  []jsonSource   `json:"sources"`
		Stops    []jsonStop     `json:"stops"`
		Wanted   []jsonStop     `json:"stops_at_wanted_rate,omitempty"`
		Ground   []jsonMetal    `json:"ground"`
		Stop     string         `json:"stop,omitempty"`
		Before   float64        `json:"before"`
		Cures    []jsonGoodCure `json:"cures"`
		Refused  []jsonGoodCure `json:"refused"`
		Chosen   []int          `json:"chosen"`
		Slow     float64        `json:"chosen_rate_per_s,omitempty"` // slowing down in a set of several
		After    float64        `json:"after"`
		Then     []jsonStop     `json:"then,omitempty"`
		MostRate float64        `json:"greatest_rate_per_s"`
		Notices  []known.Notice `json:"notices"`
	}
	jsonSource struct {
		Station string     `json:"station"`
		Chance  float64    `json:"chance"`
		Gives   [3]float64 `json:"gives_5_50_95"`
	}
	jsonStop struct {
		Station string     `json:"station"`
		Charge  [3]float64 `json:"charge_5_50_95"`
		Over    float64    `json:"over"`
	}
	jsonMetal struct {
		Station    string   `json:"station"`
		Resistance *float64 `json:"resistance_ohm"`
		Isolated   bool     `json:"isolated"`
	}
	jsonGoodCure struct {
		Step    cure.Step   `json:"step"`
		What    string      `json:"what"`
		Before  float64     `json:"before"`
		After   float64     `json:"after"`
		Reaches bool        `json:"reaches"`
		Reason  string      `json:"reason,omitempty"`
		Water   float64     `json:"water_kg_per_s,omitempty"`
		Needed  float64     `json:"ions_needed_A,omitempty"`
		Brought *[3]float64 `json:"ions_brought_5_50_95_A,omitempty"`
	}
)

// JSON writes the report for programs.
func (r *Goods) JSON(w io.Writer) error {
	g, p := r.in.Goods, r.plan
	j := jsonGoods{Schema: "pithball goods result 1", Line: g.Name, Note: g.Note, Kind: g.Kind, Unit: g.Unit(),
		Verdict: r.Lines(), Stops: jsonStops(r.now), Wanted: jsonStops(r.wish), Stop: p.Stop, Before: p.Before,
		Cures: goodCures(p.Cures), Refused: goodCures(p.Refused), Chosen: append([]int{}, r.chosen...), After: r.after,
		Then: jsonStops(r.then), MostRate: float64(p.MaxRate), Slow: float64(r.slow), Notices: r.Notices(),
		Ground:  []jsonMetal{},
		Sources: []jsonSource{}}
	if x := r.in.Route.Limit(); x > 0 {
		j.Limit = &x
	}
	for _, s := range p.Verdict {
		j.Sources = append(j.Sources, jsonSource{s.Name, s.Chance, s.Gain})
	}
	for _, c := range p.Ground {
		m := jsonMetal{Station: c.Name, Isolated: c.Resistance == 0 || c.Resistance > survey.GroundLimit}
		if x := float64(c.Resistance); x > 0 && !math.IsInf(x, 0) {
			m.Resistance = &x
		}
		j.Ground = append(j.Ground, m)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(j)
}

func jsonStops(list []cure.StopPrediction) (out []jsonStop) {
	for _, s := range list {
		out = append(out, jsonStop{s.Name, s.Charge, s.Over})
	}
	return out
}

func goodCures(list []cure.GoodsCure) []jsonGoodCure {
	out := []jsonGoodCure{}
	for _, c := range list {
		x := jsonGoodCure{Step: c.Step, What: c.What, Before: c.Before, After: c.After, Reaches: c.Reaches, Reason: c.Reason,
			Water: float64(c.Water), Needed: float64(c.Needed)}
		if c.Needed > 0 {
			x.Brought = &[3]float64{float64(c.Brought[0]), float64(c.Brought[1]), float64(c.Brought[2])}
		}
		out = append(out, x)
	}
	return out
}
