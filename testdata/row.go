package testdata

import (
	"math"
	"strings"

	"example.org/pithball/units/known"
)

// Row is one check value: a public computation, its arguments and what somebody
// else says the result is.
type Row struct {
	ID      string             `json:"id"`               // unique in its file
	What    string             `json:"what"`             // in words, with the conditions
	Compute string             `json:"compute"`          // name in the registry of computations
	Args    map[string]float64 `json:"args"`             // [SI] by argument name
	Result  string             `json:"result,omitempty"` // name of the result; a measured row with a band may omit it
	Want    float64            `json:"want"`             // [SI] expected value
	// RelTol and AbsTol are what the source supports, not what the code reaches:
	// the row passes if |got−want| <= AbsTol + RelTol·|want|. A measured row with
	// a band may have none; if it has, they widen the band. [1], [SI]
	RelTol float64 `json:"rel_tol"`
	AbsTol float64 `json:"abs_tol"`           // [SI] see RelTol
	TolWhy string  `json:"tol_why,omitempty"` // where the tolerance comes from
	// Lookup says that the computation only looks the number up in a table that
	// the library itself ships: the row guards the table against a slip and
	// proves no law.
	Lookup   bool         `json:"lookup,omitempty"`
	Measured *Measured    `json:"measured,omitempty"` // of a measurement: conditions, uncertainty, band
	Source   known.Source `json:"source"`             // who says so, and how it is known
}

// Proof reports whether the row may support a claim of validation: a value that
// others published or computed, which is neither a definition nor a look-up of a
// table of ours. A row that rests on memory, on common practice or on a demo is
// an example only. Measured rows are counted apart, see [Row.Gate].
func (r *Row) Proof() bool {
	switch r.Source.Provenance {
	case known.Published, known.Quoted, known.Computed:
		return !r.Lookup && r.Measured == nil
	}
	return false
}

// Gate reports whether the row is a measurement that the model is held to.
func (r *Row) Gate() bool { return r.Measured != nil && r.Measured.Use == Gate }

// slack returns what the tolerances allow beyond the expected value.
func (r *Row) slack() float64 { return r.AbsTol + r.RelTol*math.Abs(r.Want) } // [SI]

// Pass reports whether got meets the row; NaN never does.
func (r *Row) Pass(got float64) bool { // got [SI]
	return math.Abs(got-r.Want) <= r.slack()
}

// Measured is what a measured row says beyond a value: under which conditions
// somebody measured it, how well, what it may decide, and where the model's band
// is.
type Measured struct {
	// Use says whether the model is held to the row.
	Use Use `json:"use"`
	// Conditions tells material, preparation, instrument, temperature, humidity
	// and what the source leaves open; the arguments hold what the model takes
	// of it.
	Conditions string `json:"conditions"`
	// Uncertainty says what kind of uncertainty the measured value has; how
	// large it is stands in rel_tol and abs_tol.
	Uncertainty Uncertainty `json:"uncertainty"`
	// Low and High name the results that are the ends of the model's band; the
	// measured value must lie between them. With one of them the band is open on
	// the other side, which fits a measured bound. With neither, the result must
	// meet the tolerance.
	Low  string `json:"low,omitempty"`
	High string `json:"high,omitempty"`
	// KnownDisagreement is the reason why a gate row lies outside; such a row
	// must not lie inside.
	KnownDisagreement string `json:"known_disagreement,omitempty"`
	// WhyContext is the reason why a context row decides nothing.
	WhyContext string `json:"why_context,omitempty"`
}

// banded reports whether the row expects the value inside the model's band.
func (m *Measured) banded() bool { return m.Low != "" || m.High != "" }

func (m *Measured) check(at string, p known.Provenance) error {
	switch {
	case p != known.Published && p != known.Quoted:
		return known.Wrong(at, p, "a published or quoted source")
	case m.Use == NoUse:
		return known.Wrong(at+".use", m.Use, "gate or context")
	case m.Conditions == "":
		return known.Wrong(at+".conditions", m.Conditions, "the conditions of the measurement")
	case m.Uncertainty == NoUncertainty:
		return known.Wrong(at+".uncertainty", m.Uncertainty, "one of "+strings.Join(uncertaintyNames[1:], ", "))
	case m.banded() && m.Low == m.High:
		return known.Wrong(at+".high", m.High, "another result than low")
	case m.Use == Context && m.KnownDisagreement != "":
		return known.Wrong(at+".known_disagreement", m.KnownDisagreement, "a gate row; a context row is held to nothing")
	case (m.Use == Context) != (m.WhyContext != ""):
		return known.Wrong(at+".why_context", m.WhyContext, "a reason with every context row and none with a gate row")
	}
	return nil
}

// Use says what a measured row decides.
type Use uint8

// The uses of a measured row.
const (
	NoUse   Use = iota
	Gate        // the model is held to it: inside, or outside with a reason
	Context     // printed beside the model, decides nothing: the state is unknown, another quantity, an outlier
)

var useNames = [...]string{"no use", "gate", "context"}

// String returns the name of the use.
func (u Use) String() string { return name(useNames[:], uint8(u)) }

// MarshalText writes the name of the use. It never fails.
func (u Use) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads "gate" or "context"; anything else is a
// [*known.FieldError].
func (u *Use) UnmarshalText(b []byte) error {
	i, err := index("use", useNames[:], b)
	if err == nil {
		*u = Use(i)
	}
	return err
}

// Uncertainty is the kind of uncertainty of a measured value.
type Uncertainty uint8

// The kinds of uncertainty.
const (
	NoUncertainty Uncertainty = iota
	Standard                  // a standard deviation of the value that the source states
	Limits                    // a half-width or limits of error that the source states
	Rounding                  // the last printed digit; the source states nothing else
	Digitised                 // read off a figure
	Scatter                   // spread of single shots or samples, by the source or by the set of rows
	Range                     // the source prints a range, the value is one end of it
	Judged                    // the source states none, the tolerance is our judgement
)

var uncertaintyNames = [...]string{
	"none", "standard", "limits", "rounding", "digitised", "scatter", "range", "judged",
}

// String returns the name of the kind.
func (u Uncertainty) String() string { return name(uncertaintyNames[:], uint8(u)) }

// MarshalText writes the name of the kind. It never fails.
func (u Uncertainty) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads the name of a kind; anything else is a
// [*known.FieldError].
func (u *Uncertainty) UnmarshalText(b []byte) error {
	i, err := index("uncertainty", uncertaintyNames[:], b)
	if err == nil {
		*u = Uncertainty(i)
	}
	return err
}

func name(names []string, i uint8) string {
	if int(i) < len(names) {
		return names[i]
	}
	return "unknown"
}

// index finds a name other than the first, which is the zero value.
func index(field string, names []string, b []byte) (uint8, error) {
	for i, n := range names {
		if i > 0 && n == string(b) {
			return uint8(i), nil
		}
	}
	return 0, known.Wrong(field, string(b), "one of "+strings.Join(names[1:], ", "))
}
