// Package report writes a diagnosed survey for people and programs: text, JSON, one HTML page, and its figures as SVG.
package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Input is one diagnosed survey.
type Input struct {
	Line      *line.Line
	Survey    *survey.Survey
	Diagnosis *survey.Diagnosis
	Names     [2]string // of the two files, as the reader knows them
	// Safety is what the people in charge of the place answered: what that raises is told with what the line raises
	// by itself. Nil if no answers were handed in.
	Safety *upkeep.SafetyAnswers
}

// Report is everything that text, JSON and HTML show.
type Report struct {
	in      *Input
	desc    line.Description
	system  units.System
	verdict survey.Verdict
	rows    []stationRow
	changes []changeRow
}

// stationRow is one station of the table.
type stationRow struct {
	Name     string
	Kind     line.StationKind
	At       units.Length
	State    survey.StationState
	Field    units.ElectricField // of the net charge at a wide earthed face far from other metal
	Shown    []readingGroup
	Ratio    float64 // |net| over the limit
	Ruled    line.Mechanism
	Validity known.Validity // of an ioniser's model
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
	Change        survey.FaceGain
	Told          string
}

// New works a report out, with its quantities in the units of a system.
func New(in *Input, system units.System) (*Report, error) {
	r := &Report{in: in, desc: in.Line.Description(), system: system}
	d := in.Diagnosis
	var err error
	if r.verdict, err = d.VerdictIn(system); err != nil {
		return nil, err
	}
	if err := r.addAnswered(); err != nil {
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
			Field: units.ElectricField(d.States[i].Net.Value / units.Epsilon0), Ruled: res[i].Ruled, Validity: res[i].Validity,
			Ratio: math.Abs(d.States[i].Net.Value) / float64(in.Line.Limit())}
		row.Shown = groups(in, i)
		row.Notices = r.stationNotices(i)
		r.rows = append(r.rows, row)
	}
	for _, c := range d.Changes {
		told := "yes"
		if !c.Identified {
			told = "no: assumed from the description as well"
			for _, g := range d.Together {
				told = together(r, g, c, told)
			}
		}
		r.changes = append(r.changes, changeRow{r.desc.Stations[c.Station].Name, c.Face.String(), c, told})
	}
	return r, nil
}

// addAnswered puts the hazards of the place, by the answers about it and what they leave open, behind those that the
// line raises by itself. What asks for the zone gives way to what the answer makes of it.
func (r *Report) addAnswered() error {
	if r.in.Safety == nil {
		return nil
	}
	list, err := upkeep.Hazards(&r.desc, *r.in.Safety, r.in.Diagnosis)
	if err != nil {
		return err
	}
	merged := Merged(list, r.system)
	var told []known.Notice
	for _, n := range r.verdict.Notices {
		k := slices.IndexFunc(merged, func(o known.Notice) bool { return o.Code == n.Code })
		asks := n.Code == hazard.NoticeNotApproval.Code() || n.Code == hazard.NoticeIoniserZone.Code()
		switch {
		case !asks || r.in.Safety.Open() != "":
			told = append(told, n)
		case k >= 0:
			told = append(told, merged[k])
		}
	}
	for _, n := range merged {
		if !slices.ContainsFunc(told, func(o known.Notice) bool { return o.Code == n.Code }) {
			told = append(told, n)
		}
	}
	r.verdict.Notices = told
	return nil
}

// together names what a change cannot be told apart from.
func together(r *Report, group []int, c survey.FaceGain, else_ string) string {
	var names []string
	in := false
	for _, k := range group {
		o := r.in.Diagnosis.Changes[k]
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
func groups(in *Input, station int) []readingGroup {
	var out []readingGroup
	for _, f := range in.Diagnosis.Fits {
		rd := &in.Survey.Readings[f.Reading]
		if in.Line.Station(rd.Station) != station || !f.Used {
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
			if factor, _ := in.Line.PlaceFactor(station, rd.Distance, rd.Gap); rd.Quantity == line.FieldMeter && factor > 0 {
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
func (r *Report) stationNotices(i int) []string {
	var out []string
	d := r.in.Diagnosis
	for _, g := range d.Ground {
		if g.Station == i && g.Isolated {
			out = append(out, "not "+r.ground()+"ed")
		}
		if g.Station == i && !g.Measured {
			out = append(out, "path to "+r.ground()+" not measured")
		}
	}
	if n, ok := d.Winding(); ok && i == r.in.Line.Len()-1 {
		out = append(out, fmt.Sprintf("roll can spark from about %d wraps", n))
	}
	if d.Cancels(i) {
		out = append(out, "the two faces cancel at a distance")
	}
	return out
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
	lo, mid, hi := written.BandTo(displayDigit, g.Band[0]/1e3, g.Band[1]/1e3, g.Band[2]/1e3)
	return fmt.Sprintf("%s (%s … %s) kV", mid, lo, hi)
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

// unused lists readings that did not enter, apart from the ground check.
func (r *Report) unused() []string {
	var out []string
	count := map[string]int{}
	var order []string
	for _, f := range r.in.Diagnosis.Fits {
		if !f.Used && r.in.Survey.Readings[f.Reading].Quantity != line.EarthResistance {
			if count[f.Why] == 0 {
				order = append(order, f.Why)
			}
			count[f.Why]++
		}
	}
	for _, w := range order {
		word := "readings"
		if count[w] == 1 {
			word = "reading"
		}
		out = append(out, fmt.Sprintf("%d %s (%s)", count[w], word, strings.TrimPrefix(w, "not used: ")))
	}
	return out
}
