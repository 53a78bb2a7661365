package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// report is everything that text, JSON and HTML show.
type report struct {
	p       *problem
	desc    line.Description
	system  units.System
	verdict survey.Verdict
	rows    []stationRow
	changes []changeRow
}

// stationRow is one station of the table.
type stationRow struct {
	Name     string
	Kind     line.Kind
	At       units.Length
	State    survey.StationState
	Field    units.ElectricField // of the net charge at a wide earthed face far from other metal
	Shown    []readingGroup
	Ratio    float64 // |net| over the limit
	Ruled    line.Mechanism
	Notices  []string
	Readable bool // a place where readings are taken
}

// readingGroup is the readings of one kind at one station with what was
// predicted for them.
type readingGroup struct {
	Quantity line.Quantity
	Face     line.Face
	Meter    string
	Distance units.Length
	Band     [3]float64 // [V] 5, 50, 95 %
	Values   []float64  // [V]
	AtLeast  []bool
	Odd      []string
	Free     float64 // [V] median display for the same charge in mid-span; NaN for a voltmeter
}

type changeRow struct {
	Station, Face string
	Change        survey.Change
	Told          string
}

func build(p *problem, system units.System) (*report, error) {
	r := &report{p: p, desc: p.line.Description(), system: system}
	d := p.diagnosis
	var err error
	if r.verdict, err = d.VerdictIn(system); err != nil {
		return nil, err
	}
	cal, err := d.Calibrated()
	if err != nil {
		return nil, err
	}
	res := make([]line.Result, cal.Len())
	cal.RunTo(res, d.Speed)
	for i := range r.desc.Stations {
		s := &r.desc.Stations[i]
		row := stationRow{Name: s.Name, Kind: s.Kind, At: s.At, State: d.States[i], Readable: s.Kind == line.Place,
			Field: units.ElectricField(d.States[i].Net.Value / units.Epsilon0), Ruled: res[i].Ruled,
			Ratio: math.Abs(d.States[i].Net.Value) / float64(p.line.Limit())}
		row.Shown = groups(p, i)
		row.Notices = stationNotices(p, i)
		r.rows = append(r.rows, row)
	}
	for _, c := range d.Changes {
		told := "yes"
		if !c.Identified {
			told = "no: the readings do not fix it"
			for _, g := range d.Together {
				told = together(r, g, c, told)
			}
		}
		r.changes = append(r.changes, changeRow{r.desc.Stations[c.Station].Name, c.Face.String(), c, told})
	}
	return r, nil
}

// together names what a change cannot be told apart from.
func together(r *report, group []int, c survey.Change, else_ string) string {
	var names []string
	in := false
	for _, k := range group {
		o := r.p.diagnosis.Changes[k]
		if o.Unknown == c.Unknown {
			in = true
			continue
		}
		names = append(names, r.desc.Stations[o.Station].Name+" "+o.Face.String())
	}
	if !in || len(names) == 0 {
		return else_
	}
	return "only with " + strings.Join(names, ", ")
}

// groups collects the readings of a station by kind, face and meter.
func groups(p *problem, station int) []readingGroup {
	var out []readingGroup
	for _, f := range p.diagnosis.Fits {
		rd := &p.survey.Readings[f.Reading]
		if p.line.Station(rd.Station) != station || !f.Used {
			continue
		}
		k := -1
		for j := range out {
			if g := &out[j]; g.Quantity == rd.Quantity && g.Meter == rd.Meter && g.Distance == rd.Distance &&
				(g.Face == rd.Face || rd.Quantity == line.FieldMeter) {
				k = j
			}
		}
		if k < 0 {
			g := readingGroup{Quantity: rd.Quantity, Face: rd.Face, Meter: rd.Meter, Distance: rd.Distance, Band: f.Band,
				Free: math.NaN()}
			if factor, _ := p.line.PlaceFactor(station, rd.Distance, rd.Gap); rd.Quantity == line.FieldMeter && factor > 0 {
				g.Free = f.Band[1] / factor
			}
			out = append(out, g)
			k = len(out) - 1
		}
		g := &out[k]
		g.Values = append(g.Values, f.Value)
		g.AtLeast = append(g.AtLeast, rd.AtLeast)
		if f.Why != "" {
			g.remark(f.Why)
		}
		if f.Flaws != 0 {
			g.remark(f.Flaws.String())
		}
	}
	return out
}

// stationNotices are short remarks on one station.
func stationNotices(p *problem, i int) []string {
	var out []string
	d := p.diagnosis
	for _, g := range d.Ground {
		if g.Station == i && g.Isolated {
			out = append(out, "not earthed")
		}
		if g.Station == i && !g.Measured {
			out = append(out, "earth not measured")
		}
	}
	if n, ok := d.Winding(); ok && i == p.line.Len()-1 {
		out = append(out, fmt.Sprintf("roll can spark from about %.0f wraps", math.Round(float64(n)/10)*10))
	}
	if d.Cancels(i) {
		out = append(out, "faces cancel outside")
	}
	return out
}

// kilo writes volts as kV with two significant figures.
func kilo(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return signed(v/1e3, 2)
}

// signed writes n significant figures with a true minus sign and no exponent.
func signed(x float64, n int) string {
	if math.IsNaN(x) {
		return "–"
	}
	if x == 0 {
		return "0"
	}
	e := int(math.Floor(math.Log10(math.Abs(x))))
	p := math.Pow(10, float64(e-n+1))
	x = math.Round(x/p) * p
	// Rounding can carry into the next decade: 9.96 becomes 10.
	if m := int(math.Floor(math.Log10(math.Abs(x)) + 1e-12)); m > e {
		e = m
	}
	s := fmt.Sprintf("%.*f", max(0, n-1-e), x)
	return strings.Replace(s, "-", "−", 1)
}

// band writes "mid (lo … hi)".
func band(b [3]float64, scale float64) string {
	return fmt.Sprintf("%s (%s … %s)", signed(b[1]*scale, 2), signed(b[0]*scale, 2), signed(b[2]*scale, 2))
}

func estimateBand(e survey.Estimate) [3]float64 {
	lo, mid, hi := e.Band()
	return [3]float64{lo, mid, hi}
}

// remark keeps each remark once.
func (g *readingGroup) remark(s string) {
	if !slices.Contains(g.Odd, s) {
		g.Odd = append(g.Odd, s)
	}
}

func (g *readingGroup) label() string {
	s := "field meter"
	if g.Quantity == line.OverRoller {
		s = "voltmeter, face " + g.Face.String()
	}
	return s
}

func (g *readingGroup) predicted() string {
	if g.Quantity == line.OverRoller {
		return band(g.Band, 1) + " V"
	}
	return band(g.Band, 1e-3) + " kV"
}

func (g *readingGroup) read() string {
	var s []string
	for i, v := range g.Values {
		t := ""
		if g.AtLeast[i] {
			t = "at least "
		}
		if g.Quantity == line.OverRoller {
			s = append(s, t+signed(v, 3))
		} else {
			s = append(s, t+signed(v/1e3, 3))
		}
	}
	return strings.Join(s, ", ")
}

// text prints the verdict first, then the stations.
func (r *report) text(w io.Writer) error {
	fmt.Fprintf(w, "%s\n", r.desc.Name)
	if r.desc.Note != "" {
		fmt.Fprintf(w, "%s\n", wrap(r.desc.Note, 96, ""))
	}
	fmt.Fprintln(w)
	for i, s := range r.verdict.Lines() {
		fmt.Fprintf(w, "%d. %s\n", i+1, wrap(s, 94, "   "))
	}
	fmt.Fprintf(w, "\nStations at %s; charges in µC/m², 5 … 95 %% in brackets; limit for the net charge %s µC/m² (%s)\n\n",
		units.Display(r.p.diagnosis.Speed, r.system, 3), signed(float64(r.p.line.Limit())*1e6, 2),
		limitWords(r.desc.Limit.Kind))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "station\tat\tface A\tface B\tnet field\t\tnet/limit\truled by\tremark")
	for _, s := range r.rows {
		kv, _ := units.In(s.Field, "kV/cm")
		kin, _ := units.In(s.Field, "kV/in")
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s kV/cm\t%s kV/in\t%s\t%s\t%s\n", s.Name, position(s.At, r.system),
			band(estimateBand(s.State.A), 1e6), band(estimateBand(s.State.B), 1e6), signed(kv, 2), signed(kin, 2),
			signed(s.Ratio, 2), ruled(s), strings.Join(s.Notices, ", "))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nWhat the meter shows there: predicted 5 … 95 % beside the readings; the same charge in mid-span")
	fmt.Fprintln(w)
	fmt.Fprintln(t, "station\tmeter\tat\tpredicted\tread\tmid-span\tremark")
	for _, s := range r.rows {
		for _, g := range s.Shown {
			free, at := kilo(g.Free)+" kV", units.Display(g.Distance, r.system, 2)
			if g.Quantity == line.OverRoller {
				free, at = "–", "–"
			}
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", s.Name, g.label(), at, g.predicted(), g.read(), free,
				strings.Join(g.Odd, "; "))
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nWhat each contact and bar changed, µC/m²; whether the readings alone fix it")
	fmt.Fprintln(w)
	fmt.Fprintln(t, "station\tface\tchange\tfixed by the readings")
	for _, c := range r.changes {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", c.Station, c.Face, band(estimateBand(c.Change.Found), 1e6), c.Told)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if len(r.unused()) > 0 {
		fmt.Fprintf(w, "\nNot used: %s\n", strings.Join(r.unused(), "; "))
	}
	fmt.Fprintln(w, "\nHazards and limits of use")
	for _, n := range r.verdict.Notices {
		fmt.Fprintf(w, "- %s\n", wrap(n.String(), 94, "  "))
	}
	return nil
}

// unused lists readings that did not enter, apart from the ground check.
func (r *report) unused() []string {
	var out []string
	count := map[string]int{}
	var order []string
	for _, f := range r.p.diagnosis.Fits {
		if !f.Used && r.p.survey.Readings[f.Reading].Quantity != line.EarthResistance {
			if count[f.Why] == 0 {
				order = append(order, f.Why)
			}
			count[f.Why]++
		}
	}
	for _, w := range order {
		out = append(out, fmt.Sprintf("%d readings (%s)", count[w], strings.TrimPrefix(w, "not used: ")))
	}
	return out
}

func ruled(s stationRow) string {
	if s.Ruled == line.Nothing {
		return "–"
	}
	return s.Ruled.String()
}

func limitWords(kind string) string {
	switch kind {
	case "cling":
		return "image attraction equals the weight of the sheet"
	case "5 kV/in":
		return "5 kV/in, one author's practice, not a standard"
	}
	return "chosen by the plant"
}

// wrap breaks text at spaces; lines after the first start with indent.
func wrap(s string, width int, indent string) string {
	var b strings.Builder
	n := 0
	for i, w := range strings.Split(s, " ") {
		l := utf8.RuneCountInString(w)
		switch {
		case i == 0:
		case n+1+l > width:
			b.WriteString("\n" + indent)
			n = 0
		default:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(w)
		n += l
	}
	return b.String()
}

// wrapList writes names with commas and breaks lines between names only.
func wrapList(list []string, width int) string {
	const hold = "\u00a0" // Fields does not break here
	s := strings.Join(list, ", ")
	for _, n := range list {
		s = strings.Replace(s, n, strings.ReplaceAll(n, " ", hold), 1)
	}
	return strings.ReplaceAll(wrap(s, width, "  "), hold, " ")
}

// The JSON form: numbers in SI with the unit in the key; null where there is no
// number.
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
		Ground   []jsonGround      `json:"ground"`
		Notices  []known.Notice    `json:"-"`
	}
	jsonStation struct {
		Name     string          `json:"name"`
		Kind     line.Kind       `json:"kind"`
		At       float64         `json:"at_m"`
		A        survey.Estimate `json:"faceA_C_per_m2"`
		B        survey.Estimate `json:"faceB_C_per_m2"`
		Net      survey.Estimate `json:"net_C_per_m2"`
		Field    float64         `json:"field_V_per_m"`
		Ratio    float64         `json:"net_over_limit"`
		Ruled    string          `json:"ruled"`
		Remarks  []string        `json:"remarks,omitempty"`
		Readings []jsonGroup     `json:"readings,omitempty"`
	}
	jsonGroup struct {
		Quantity  line.Quantity `json:"quantity"`
		Face      line.Face     `json:"face"`
		Meter     string        `json:"meter"`
		Distance  float64       `json:"distance_m,omitempty"`
		Predicted [3]float64    `json:"predicted_5_50_95_V"`
		Read      []float64     `json:"read_V"`
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
	jsonGround struct {
		Station    string   `json:"station"`
		Resistance *float64 `json:"resistance_ohm"`
		Isolated   bool     `json:"isolated"`
	}
)

func (r *report) json(w io.Writer) error {
	d := r.p.diagnosis
	j := jsonReport{Schema: "pithball survey result 1", Line: r.desc.Name, Note: r.desc.Note, Verdict: r.verdict,
		Speed: float64(d.Speed), Limit: float64(r.p.line.Limit())}
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
			Field: float64(s.Field), Ratio: s.Ratio, Ruled: s.Ruled.String(), Remarks: s.Notices}
		for _, g := range s.Shown {
			jg := jsonGroup{Quantity: g.Quantity, Face: g.Face, Meter: g.Meter, Distance: float64(g.Distance),
				Predicted: g.Band, Read: g.Values, AtLeast: g.AtLeast}
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
	for _, g := range d.Ground {
		jg := jsonGround{Station: r.desc.Stations[g.Station].Name, Isolated: g.Isolated}
		if g.Measured {
			v := float64(g.Resistance)
			jg.Resistance = &v
		}
		j.Ground = append(j.Ground, jg)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(j)
}

// position writes a place along the web path.
func position(at units.Length, s units.System) string {
	unit := "m"
	if s == units.US {
		unit = "ft"
	}
	x, _ := units.In(at, unit)
	return fmt.Sprintf("%.2f %s", x, unit)
}
