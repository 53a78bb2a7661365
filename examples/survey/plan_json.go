package main

import (
	"math"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/units/known"
)

// The JSON forms: SI, the unit in the key.
type (
	jsonPredicted struct {
		Station string      `json:"station"`
		A       [3]float64  `json:"faceA_5_50_95_C_per_m2"`
		B       [3]float64  `json:"faceB_5_50_95_C_per_m2"`
		Net     [3]float64  `json:"net_5_50_95_C_per_m2"`
		Display *[3]float64 `json:"display_5_50_95_V"`
		Over    float64     `json:"over"`
		Face    float64     `json:"face_over"`
		Ruled   string      `json:"ruled"`
		Flags   string      `json:"validity,omitempty"` // of the model at the station
	}
	jsonCure struct {
		Step   cure.Step `json:"step"`
		What   string    `json:"what"`
		Before float64   `json:"before"`
		After  float64   `json:"after"`
		Raises []string  `json:"raises,omitempty"`
		Helps  bool      `json:"helps"`
		Reason string    `json:"reason,omitempty"`
	}
	jsonConductor struct {
		Station    string   `json:"station"`
		Resistance *float64 `json:"resistance_ohm"`
		Isolated   bool     `json:"isolated"`
		Voltage    float64  `json:"voltage_V"`
		Energy     float64  `json:"energy_J"`
	}
)

type (
	jsonFail struct {
		Stations []string      `json:"stations"`
		Rows     []jsonFailRow `json:"rows"`
	}
	jsonFailRow struct {
		Out  string       `json:"out"` // empty: all on
		Net  [][3]float64 `json:"net_5_50_95_C_per_m2"`
		Over []float64    `json:"over"`
	}
	jsonProof struct {
		Place  string     `json:"place"`
		Speed  float64    `json:"speed_m_per_s"`
		Expect [3]float64 `json:"expected_5_50_95_V"`
		Pass   float64    `json:"passes_below_V"`
	}
)

func failJSON(f *cure.Failures) *jsonFail {
	if len(f.Rows) < 2 {
		return nil
	}
	j := &jsonFail{Stations: f.Stations}
	for _, r := range f.Rows {
		x := jsonFailRow{Out: r.Out, Over: r.Over}
		for _, q := range r.Net {
			x.Net = append(x.Net, q)
		}
		j.Rows = append(j.Rows, x)
	}
	return j
}

func proofJSON(list []cure.Proof) (out []jsonProof) {
	for _, p := range list {
		out = append(out, jsonProof{p.Station, float64(p.Speed), p.Expect, float64(p.Pass)})
	}
	return out
}

func predicted(p *cure.Prediction) (out []jsonPredicted) {
	for _, s := range p.Stations {
		j := jsonPredicted{Station: s.Name, A: s.A, B: s.B, Net: s.Net, Over: s.Over, Face: s.Face, Ruled: s.Ruled.String()}
		if s.Validity != known.Inside {
			j.Flags = s.Validity.String()
		}
		if !math.IsNaN(s.Display[1]) {
			j.Display = (*[3]float64)(&s.Display)
		}
		out = append(out, j)
	}
	return out
}

func tryJSON(d *line.Description, words []string, now, then *cure.Prediction, cautions []known.Notice) any {
	return struct {
		Schema       string          `json:"schema"`
		Line         string          `json:"line"`
		Note         string          `json:"note,omitempty"`
		Changes      []string        `json:"changes"`
		Extrapolated bool            `json:"extrapolated"`
		Assumed      bool            `json:"assumed"`
		AnyOver      [2]float64      `json:"any_over_now_then"`
		AnyFace      [2]float64      `json:"any_face_over_now_then"`
		Now          []jsonPredicted `json:"now"`
		Then         []jsonPredicted `json:"then"`
		PerYear      float64         `json:"per_year"`
		Currency     string          `json:"currency,omitempty"`
		Notices      []known.Notice  `json:"notices"`
	}{"pithball try 1", d.Name, d.Note, words, then.Extrapolated, then.Assumed, [2]float64{now.AnyOver, then.AnyOver},
		[2]float64{now.AnyFace, then.AnyFace}, predicted(now), predicted(then), then.Side.PerYear, then.Side.Currency,
		cautions}
}

func planJSON(d *line.Description, p *cure.Plan, cautions []known.Notice) any {
	list := func(in []cure.Cure) []jsonCure {
		out := []jsonCure{}
		for _, c := range in {
			out = append(out, jsonCure{c.Step, c.String(), c.Before, c.After, c.Raises, c.Helps, c.Reason})
		}
		return out
	}
	var ground []jsonConductor
	for _, c := range p.Ground {
		j := jsonConductor{Station: c.Station, Isolated: c.Isolated, Voltage: float64(c.Voltage), Energy: float64(c.Energy)}
		if x := float64(c.Resistance); c.Measured && !math.IsInf(x, 0) {
			j.Resistance = &x
		}
		ground = append(ground, j)
	}
	return struct {
		Schema  string          `json:"schema"`
		Line    string          `json:"line"`
		Note    string          `json:"note,omitempty"`
		Stop    string          `json:"stop,omitempty"`
		Ground  []jsonConductor `json:"ground"`
		Flags   []string        `json:"flags,omitempty"` // of the laws behind it, a station each
		Before  float64         `json:"before"`
		Cures   []jsonCure      `json:"cures"`
		Refused []jsonCure      `json:"refused"`
		Set     []int           `json:"set"`
		After   float64         `json:"after"`
		Reached bool            `json:"reached"`
		Proven  bool            `json:"proven"` // no set that was not tried could be chosen instead
		Fastest float64         `json:"fastest_m_per_s"`
		Test    cure.Test       `json:"test"`
		Fail    *jsonFail       `json:"if_one_fails,omitempty"`
		Prove   []jsonProof     `json:"proof,omitempty"`
		Notices []known.Notice  `json:"notices"`
	}{"pithball plan 1", d.Name, d.Note, p.Stop, ground, p.Flags, p.Before, list(p.Cures), list(p.Refused), p.Set, p.After,
		p.Reached, p.Proven,
		float64(p.Fastest.Speed), p.Test, failJSON(&p.Fail), proofJSON(p.Prove), cautions}
}
