package report

import (
	"encoding/json"
	"io"
	"math"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units/known"
)

type (
	jsonReport struct {
		Schema   string            `json:"schema"`
		Line     string            `json:"line"`
		Note     string            `json:"note,omitempty"`
		Verdict  survey.Verdict    `json:"verdict"`
		Outcome  survey.AnswerKind `json:"outcome"`
		Main     []string          `json:"main"`    // the stations that the outcome speaks of
		Between  []string          `json:"between"` // the two stations of the gap; empty names where it has no end
		Speed    float64           `json:"speed_m_per_s"`
		Limit    float64           `json:"limit_C_per_m2"`
		Stations []jsonStation     `json:"stations"`
		Changes  []jsonChange      `json:"changes"`
		Leads    []jsonLead        `json:"leads"`
		Rises    []jsonRise        `json:"rises,omitempty"` // where the net charge passes the limit, strongest first
		Ground   []jsonGround      `json:"ground"`
		Leaks    []jsonLeak        `json:"leaks,omitempty"`
		Notices  []known.Notice    `json:"-"`
	}
	jsonStation struct {
		Name     string           `json:"name"`
		Kind     line.StationKind `json:"kind"`
		At       float64          `json:"at_m"`
		A        survey.Estimate  `json:"faceA_C_per_m2"`
		B        survey.Estimate  `json:"faceB_C_per_m2"`
		Net      survey.Estimate  `json:"net_C_per_m2"`
		Field    number           `json:"field_V_per_m"`
		Ratio    number           `json:"net_over_limit"`
		Ruled    string           `json:"ruled"`
		Validity string           `json:"validity,omitempty"` // flags of the model of an ioniser
		Remarks  []string         `json:"remarks,omitempty"`
		Readings []jsonGroup      `json:"readings,omitempty"`
	}
	jsonGroup struct {
		Quantity  line.Quantity `json:"quantity"`
		Face      line.Face     `json:"face"`
		Meter     string        `json:"meter"`
		Distance  float64       `json:"distance_m,omitempty"`
		Predicted [3]number     `json:"predicted_5_50_95_V"`
		Read      []number      `json:"read_V"`
		AtLeast   []bool        `json:"at_least"`
		MidSpan   *float64      `json:"mid_span_V,omitempty"`
	}
	jsonChange struct {
		Station    string          `json:"station"`
		Face       string          `json:"face"`
		Change     survey.Estimate `json:"change_C_per_m2"`
		Identified bool            `json:"identified"`
		Told       float64         `json:"told"`
	}
	jsonLead struct {
		Station string  `json:"station"`
		Chance  float64 `json:"chance"`
	}
	jsonRise struct {
		Between  []string        `json:"between"` // places that were read; the first is empty where none was before
		Contacts []string        `json:"contacts"`
		Step     survey.Estimate `json:"step_C_per_m2"`
		Net      survey.Estimate `json:"net_C_per_m2"`
	}
	jsonGround struct {
		Station    string   `json:"station"`
		Resistance *float64 `json:"resistance_ohm"`
		Isolated   bool     `json:"isolated"`
	}
)

// JSON writes the report for programs: numbers in SI with the unit in the key; null where there is no number.
func (r *Report) JSON(w io.Writer) error {
	d := r.in.Diagnosis
	j := jsonReport{Schema: "pithball survey result 1", Line: r.desc.Name, Note: r.desc.Note, Verdict: r.verdict,
		Speed: float64(d.Speed), Limit: float64(r.in.Line.Limit())}
	j.Outcome, j.Main, j.Between = d.Answer.Kind, []string{}, []string{}
	for _, set := range d.Answer.Sets {
		for _, i := range set {
			if d.Answer.Kind != survey.CannotTell {
				j.Main = append(j.Main, r.desc.Stations[i].Name)
			}
		}
	}
	if b := d.Answer.Between; d.Answer.Kind != survey.CannotTell && (b[0] >= 0 || b[1] >= 0) {
		for _, i := range b {
			name := ""
			if i >= 0 {
				name = r.desc.Stations[i].Name
			}
			j.Between = append(j.Between, name)
		}
	}
	for _, s := range r.rows {
		js := jsonStation{Name: s.Name, Kind: s.Kind, At: float64(s.At), A: s.State.A, B: s.State.B, Net: s.State.Net,
			Field: number(s.Field), Ratio: number(s.Ratio), Ruled: s.Ruled.String(), Validity: flagged(s), Remarks: s.Notices}
		for _, g := range s.Shown {
			jg := jsonGroup{Quantity: g.Quantity, Face: g.Face, Meter: g.Meter, Distance: float64(g.Distance),
				Predicted: [3]number(numbers(g.Band[:])), Read: numbers(g.Values), AtLeast: g.AtLeast}
			if !math.IsNaN(g.Free) {
				jg.MidSpan = &g.Free
			}
			js.Readings = append(js.Readings, jg)
		}
		j.Stations = append(j.Stations, js)
	}
	for _, c := range r.changes {
		j.Changes = append(j.Changes, jsonChange{c.Station, c.Face, c.Change.Found, c.Change.Identified, c.Change.Told})
	}
	for _, l := range d.Leads {
		j.Leads = append(j.Leads, jsonLead{r.desc.Stations[l.Station].Name, l.Chance})
	}
	for _, x := range d.Rises() {
		jr := jsonRise{Contacts: []string{}, Step: x.Step, Net: x.Net}
		jr.Between = []string{"", r.desc.Stations[x.Between[1]].Name}
		if x.Between[0] >= 0 {
			jr.Between[0] = r.desc.Stations[x.Between[0]].Name
		}
		for _, i := range x.Contacts {
			jr.Contacts = append(jr.Contacts, r.desc.Stations[i].Name)
		}
		j.Rises = append(j.Rises, jr)
	}
	for _, g := range d.Ground {
		jg := jsonGround{Station: r.desc.Stations[g.Station].Name, Isolated: g.Isolated}
		if g.Measured {
			v := float64(g.Resistance)
			jg.Resistance = &v
		}
		j.Ground = append(j.Ground, jg)
	}
	j.Leaks = r.leakJSON()
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(j)
}

// number writes NaN and Inf, which JSON does not have, as null.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

func numbers(x []float64) []number {
	out := make([]number, len(x))
	for i, v := range x {
		out[i] = number(v)
	}
	return out
}
