package survey

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/pithball/internal/divided"
	"example.org/pithball/internal/plain"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// SurveySchema is what the column "schema version" holds in every row of a survey.
const SurveySchema = "pithball survey 1"

// MostReadings is the greatest number of rows that [ReadSurvey] accepts.
const MostReadings = 100000

// MostBytes is the greatest length of the text that [ReadSurvey] accepts.
const MostBytes = 64 << 20

// Columns are the columns of a survey file; all must stand in the first row, in
// any order.
func Columns() []string { return names(false) }

// OptionalColumns are columns that may stand beside [Columns].
func OptionalColumns() []string { return names(true) }

func names(optional bool) []string {
	var out []string
	for i := range columns {
		if columns[i].optional == optional {
			out = append(out, columns[i].name)
		}
	}
	return out
}

type column struct {
	name     string
	set      func(r *Reading, s string) error
	optional bool
	number   bool // most with a unit
}

func text[T interface{ UnmarshalText([]byte) error }](dst T, s string) error {
	return dst.UnmarshalText([]byte(s))
}

var columns = []column{
	{name: "schema version", set: func(_ *Reading, s string) error {
		if s != SurveySchema {
			return known.Wrong("schema version", s, "\""+SurveySchema+"\"")
		}
		return nil
	}},
	{name: "station", set: func(r *Reading, s string) error { r.Station = s; return nil }},
	{name: "quantity", set: func(r *Reading, s string) error { return text(&r.Quantity, s) }},
	{name: "face", set: func(r *Reading, s string) error { return text(&r.Face, s) }},
	{name: "distance", number: true, set: func(r *Reading, s string) error { return bounded(&r.Distance, s, 1e-4, 10) }},
	{name: "gap behind", number: true, set: func(r *Reading, s string) error { return bounded(&r.Gap, s, 1e-6, 100) }},
	{name: "cross-web position", number: true,
		set: func(r *Reading, s string) error { return bounded(&r.Cross, s, 0, 20) }},
	{name: "repeat", set: func(r *Reading, s string) (err error) {
		r.Repeat, err = strconv.Atoi(s)
		if err != nil || r.Repeat < 1 || r.Repeat > 10000 {
			return known.Wrong("repeat", s, "a whole number from 1 to 10000")
		}
		return nil
	}},
	{name: "date and time", set: func(r *Reading, s string) (err error) {
		if r.Time, err = moment(s); err != nil {
			return known.Wrong("date and time", s, "year-month-day, with or without hour:minute and seconds, as in "+
				"2026-01-14, 2026-01-14 10:05 or 2026-01-14 10:05:30")
		}
		return nil
	}},
	{name: "line speed", number: true, set: func(r *Reading, s string) error { return bounded(&r.Speed, s, 0, 100) }},
	{name: "running or stopped", set: func(r *Reading, s string) error {
		switch s {
		case "running":
			r.Running = true
		case "stopped":
		default:
			return known.Wrong("running or stopped", s, "running or stopped")
		}
		return nil
	}},
	{name: "air temperature", number: true, set: func(r *Reading, s string) error {
		r.HasAir = true
		return bounded(&r.AirTemperature, s, units.Celsius(-40), units.Celsius(80))
	}},
	{name: "air humidity", number: true,
		set: func(r *Reading, s string) error { return bounded(&r.AirHumidity, s, 0, 1) }},
	{name: "meter", set: func(r *Reading, s string) error { r.Meter = s; return nil }},
	{name: "zero", number: true}, {name: "full scale", number: true}, {name: "value", number: true}, {name: "unit"},
	{
		name: "roll diameter", number: true,
		set:      func(r *Reading, s string) error { return bounded(&r.Roll, s, 1e-3, 10) },
		optional: true,
	},
	{name: "remark", set: func(r *Reading, s string) error { r.Remark = s; return nil }},
}

// moment reads a date with or without a time of day, and that with or without seconds.
func moment(s string) (t time.Time, err error) {
	for _, layout := range []string{"2006-01-02 15:04", "2006-01-02 15:04:05", "2006-01-02", "2006-01-02T15:04",
		"2006-01-02T15:04:05"} {
		if t, err = time.Parse(layout, s); err == nil {
			return t, nil
		}
	}
	return t, err
}

// bounded reads a quantity with its unit and checks its range.
func bounded[T units.Quantity](dst *T, s string, lo, hi T) error {
	v, err := units.Parse[T](s)
	if err != nil {
		return err
	}
	if err := known.InRange("", v, lo, hi); err != nil {
		var f *known.FieldError
		errors.As(err, &f)
		return known.Wrong("", s, written.Range(reflect.TypeFor[T](), s, f.Want))
	}
	*dst = v
	return nil
}

// RowError is a fault in one row of a survey file.
type RowError struct {
	Line   int    // of the file
	Column string // name of the column, empty for the whole row
	Err    error  // the fault itself
}

// Error returns "line n: column: fault", as faults of a description are told.
func (e *RowError) Error() string {
	s := "line " + strconv.Itoa(e.Line) + ": "
	// which names its column itself
	if f, ok := e.Err.(*known.FieldError); e.Column != "" && !(ok && f.Field == e.Column) {
		s += e.Column + ": "
	}
	return s + e.Err.Error()
}

// Unwrap returns the fault itself.
func (e *RowError) Unwrap() error { return e.Err }

// mostFaults is the number of faults after which the reading of a survey ends.
const mostFaults = 100

// ReadSurvey reads a survey in CSV. The first row names the columns (see
// [Columns]); an unknown, missing or repeated column is an error. All faults of all rows
// come back, up to a hundred, each a [*RowError] with the value as written, joined by
// errors.Join if there are several; what is no CSV ends the reading. A value is a number,
// or ">" or "<" ("≥", "≤", ">=", "<=") and a number for a display that ran out of its
// range: at least that much, of that sign; or "OL" or "over range", with or without a
// sign, where the display said no more: then the full scale of the row or of the meter stands for it. A field
// meter may show volts or a field (kV/cm, kV/in). What spreadsheets add does no harm: a byte order mark,
// Windows line ends and rows without any content. Columns are divided by commas, semicolons or tabs, as the
// first row is. Where semicolons or tabs divide them, a comma in a number ([NumberColumns]) is its decimal
// sign; one before exactly three digits, which may divide thousands (1,500), is refused with both readings,
// and so is such a point in a file that has decimal commas.
func ReadSurvey(r io.Reader) (*Survey, error) {
	s, faults := readRows(r)
	return s.unless(faults)
}

// readRows reads all rows, also beside the faults: those of a row that has some say what could be read.
func readRows(r io.Reader) (*Survey, []error) {
	text := bufio.NewReader(&limited{r: r, left: MostBytes})
	if b, _ := text.Peek(4); plain.Encoded(b) != "" {
		return nil, first(known.Wrong("survey", "text in "+plain.Encoded(b), "text in UTF-8"))
	}
	begin, err := text.Peek(text.Size())
	if err != nil && err != io.EOF {
		return nil, []error{err}
	}
	c := csv.NewReader(withoutMark(text))
	c.FieldsPerRecord = -1
	c.Comma = divided.By(begin)
	sign, wanted := &decimals{}, ""
	if c.Comma == ',' {
		sign, wanted = nil, "a number has a decimal point, and "
	}
	c.ReuseRecord = true
	head, err := c.Read()
	if err == io.EOF {
		return nil, first(known.Wrong("survey", "", "a first row that names the columns, and at least one reading"))
	}
	if err != nil {
		return nil, []error{csvFault(err)}
	}
	order, err := header(head)
	if err != nil {
		return nil, first(err)
	}
	s := &Survey{}
	var faults []error
	for n := 1; len(faults) < mostFaults; {
		rec, err := c.Read()
		if err == io.EOF {
			break
		}
		if errors.Is(err, errTooLong) {
			return s, append(faults, &RowError{Line: n + 1, Err: err})
		}
		if err != nil {
			return s, append(faults, csvFault(err))
		}
		if !slices.ContainsFunc(rec, func(f string) bool { return strings.TrimSpace(f) != "" }) {
			continue
		}
		n, _ = c.FieldPos(0)
		if len(s.Readings) == MostReadings {
			return s, append(faults, &RowError{Line: n,
				Err: known.Wrong("survey", "more rows", fmt.Sprintf("at most %d readings", MostReadings))})
		}
		if len(rec) != len(order) {
			want := fmt.Sprintf("%d, as the first row names", len(order))
			if len(rec) > len(order) {
				want += "; " + wanted + "a text with a " + divided.Name(c.Comma) + " stands in quotes"
			}
			faults = append(faults, &RowError{Line: n, Err: known.Wrong("row", fmt.Sprintf("%d fields", len(rec)), want)})
			continue
		}
		rd, wrong := parseRow(rec, order, sign)
		sign.row(n, wrong)
		for _, err := range wrong {
			var re *RowError
			if errors.As(err, &re) {
				re.Line = n
			}
			faults = append(faults, err)
		}
		rd.Line = n
		if len(s.Readings) == cap(s.Readings) {
			s.Readings = slices.Grow(s.Readings, len(s.Readings)+64) // append alone copies a long survey five times
		}
		s.Readings = append(s.Readings, rd)
	}
	if faults = append(faults, sign.doubtful()...); sign != nil {
		slices.SortStableFunc(faults, func(a, b error) int { return lineOf(a) - lineOf(b) })
		faults = faults[:min(len(faults), mostFaults)]
	}
	if len(faults) == 0 && len(s.Readings) == 0 {
		faults = []error{&RowError{Line: 2, Err: known.Wrong("survey", "no readings", "at least one reading")}}
	}
	return s, faults
}

// first is a fault of the first line.
func first(err error) []error { return []error{&RowError{Line: 1, Err: err}} }

// unless returns the survey if there are no faults, one fault as it is and more joined.
func (s *Survey) unless(faults []error) (*Survey, error) {
	switch len(faults) {
	case 0:
		return s, nil
	case 1:
		return nil, faults[0]
	}
	return nil, errors.Join(faults...)
}

// limited ends a text that is too long with an error of its own, so that a device or
// a wrong file cannot fill the memory.
type limited struct {
	r    io.Reader
	left int
}

var errTooLong error = &known.FieldError{Field: "survey", Value: "more text",
	Want: "at most 64 MiB"} // MostBytes

func (l *limited) Read(b []byte) (int, error) {
	if l.left <= 0 {
		// One byte more tells the end of the text from text beyond the limit.
		if n, err := l.r.Read(make([]byte, 1)); n == 0 {
			return 0, err
		}
		return 0, errTooLong
	}
	n, err := l.r.Read(b[:min(len(b), l.left)])
	l.left -= n
	return n, err
}

// withoutMark drops the byte order mark that some editors put before the text.
func withoutMark(r io.Reader) io.Reader {
	b := bufio.NewReader(r)
	if m, _ := b.Peek(len(mark)); string(m) == mark {
		b.Discard(len(mark)) // cannot fail: these bytes are in the buffer
	}
	return b
}

const mark = "\ufeff"

func csvFault(err error) error {
	var p *csv.ParseError
	if errors.As(err, &p) {
		return &RowError{Line: p.Line, Err: fmt.Errorf("not a CSV row: %w", p.Err)}
	}
	return err
}

// header maps the columns of the file to our columns.
func header(head []string) ([]int, error) {
	order := make([]int, len(head))
	var seen []string
	for i, h := range head {
		h = strings.TrimSpace(h)
		j := slices.IndexFunc(columns, func(c column) bool { return c.name == h })
		if j < 0 {
			return nil, known.Wrong(
				"column",
				strconv.Quote(h),
				"one of "+strings.Join(append(Columns(), OptionalColumns()...), ", "),
			)
		}
		if slices.Contains(seen, h) {
			return nil, known.Wrong("column", strconv.Quote(h), "each column once")
		}
		seen = append(seen, h)
		order[i] = j
	}
	for _, c := range columns {
		if !c.optional && !slices.Contains(seen, c.name) {
			return nil, known.Wrong("column", "", "the column "+strconv.Quote(c.name)+"; it may be empty")
		}
	}
	return order, nil
}

var required = []string{"schema version", "station", "quantity", "running or stopped", "value"}

// parseRow reads one row and finds all that is wrong with its columns; what only the whole
// row can show is told where nothing else is wrong.
func parseRow(rec []string, order []int, sign *decimals) (r Reading, wrong []error) {
	add := func(e *RowError) { wrong = append(wrong, e) }
	var value, unit, zero, full string
	hasUnit := false
	for i, f := range rec {
		c := &columns[order[i]]
		f = strings.TrimSpace(f)
		hasUnit = hasUnit || c.name == "unit" && f != ""
		if fault := plain.Fault(f); fault != "" {
			want := "plain text in one line, without " + fault
			add(&RowError{Column: c.name, Err: known.Wrong(c.name, strconv.Quote(f), want)})
			continue
		}
		if f == "" {
			if slices.Contains(required, c.name) {
				add(&RowError{Column: c.name, Err: known.Wrong(c.name, "", "a value")})
			}
			continue
		}
		if c.number {
			var err error
			if f, err = sign.withPoint(c.name, f); err != nil {
				add(&RowError{Column: c.name, Err: err})
				continue
			}
		}
		switch c.name {
		case "value":
			value = strings.Clone(f)
		case "unit":
			unit = strings.Clone(f)
		case "zero":
			zero = strings.Clone(f)
		case "full scale":
			full = strings.Clone(f)
		default:
			if err := c.set(&r, strings.Clone(f)); err != nil {
				add(&RowError{Column: c.name, Err: err})
			}
		}
	}
	over, side := overRange(value)
	if !hasUnit && !over { // which is no number
		add(&RowError{Column: "unit", Err: known.Wrong("unit", "", "a value")})
	}
	if value == "" || unit == "" && !over || r.Quantity == 0 {
		return r, wrong // told above
	}
	if over {
		if err := r.exceeded(side, zero, full); err != nil {
			wrong = append(wrong, err)
		}
		return r, wrong
	}
	bound := ""
	if strings.ContainsAny(value, "<>≤≥") {
		value = strings.NewReplacer("≥", ">", ">=", ">", "≤", "<", "<=", "<").Replace(value)
	}
	if value[0] == '>' || value[0] == '<' {
		r.AtLeast = true
		bound, value = value[:1], strings.TrimSpace(value[1:])
	}
	for _, p := range []struct {
		column, s string
		dst       *float64
	}{{"value", value + " " + unit, &r.Value}, {"zero", zero, &r.Zero}, {"full scale", full, &r.FullScale}} {
		if p.s == "" || p.column == "zero" && nothing(p.s) {
			continue
		}
		v, asField, err := parseAs(r.Quantity, p.s)
		if err != nil {
			add(&RowError{Column: p.column, Err: err})
			continue
		}
		if p.column == "value" {
			r.AsField = asField
		} else if asField != r.AsField && v != 0 { // nothing is nothing in either kind
			want := "a number of the same kind as the value: both volts or both a field"
			add(&RowError{Column: p.column, Err: known.Wrong(p.column, p.s, want)})
			continue
		}
		if top := greatest(r.Quantity); math.Abs(v) > top {
			add(&RowError{Column: p.column,
				Err: known.Wrong(p.column, p.s, "a magnitude of at most "+show(r.Quantity, top))})
			continue
		}
		*p.dst = v
	}
	if len(wrong) > 0 {
		return r, wrong
	}
	switch {
	case bound == "<" && r.Quantity == line.EarthResistance:
		// An ohmmeter at the lower end of its range: the conductor has at most that.
		r.AtLeast = false
	case bound == "<" && r.Value > 0 || bound == ">" && r.Value < 0:
		add(&RowError{Column: "value",
			Err: known.Wrong("value", bound+value, "> before a positive, < before a negative value")})
	}
	r.HasZero = zero != ""
	if r.FullScale < 0 {
		add(&RowError{Column: "full scale", Err: known.Wrong("full scale", full, "0 or more")})
	}
	if (r.Quantity == line.EarthResistance || r.Quantity == line.DecayTime) && !(r.Value >= 0) {
		add(&RowError{Column: "value", Err: known.Wrong("value", value+" "+unit, "0 or more")})
	}
	if err := r.complete(); err != nil {
		wrong = append(wrong, err)
	}
	return r, wrong
}

// complete checks that the row says what a reading of its kind needs.
func (r *Reading) complete() error {
	if r.Quantity == line.FieldMeter && r.Distance == 0 {
		return &RowError{
			Column: "distance",
			Err: known.Wrong(
				"distance",
				"",
				"the distance from meter to web: a field-meter reading means nothing without it",
			),
		}
	}
	if (r.Quantity == line.FieldMeter || r.Quantity == line.OverRoller) && r.Face == line.NoFace {
		return &RowError{Column: "face", Err: known.Wrong("face", "", "A or B: the face the meter looked at")}
	}
	if (r.Quantity == line.FieldMeter || r.Quantity == line.OverRoller) && r.Meter == "" {
		return &RowError{Column: "meter", Err: known.Wrong("meter", "", "the name of the meter in the description")}
	}
	if (r.Quantity == line.FieldMeter || r.Quantity == line.OverRoller) && r.Running && r.Speed == 0 {
		return &RowError{
			Column: "line speed",
			Err:    known.Wrong("line speed", "", "the speed of the line during a reading of the running web"),
		}
	}
	return nil
}
