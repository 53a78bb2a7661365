package testdata

import (
	"math"
	"strings"

	"example.org/pithball/internal/enum"
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

var useNames = [...]string{Gate: "gate", Context: "context"}

// String returns the name of the use, "Use(n)" without one.
func (u Use) String() string { return enum.Name("Use", useNames[:], u) }

// MarshalText writes "gate" or "context"; anything else is a [*known.FieldError].
func (u Use) MarshalText() ([]byte, error) { return enum.Write("use", useNames[:], u) }

// UnmarshalText reads "gate" or "context"; anything else is a
// [*known.FieldError] and leaves the value as it was.
func (u *Use) UnmarshalText(b []byte) error { return enum.Read("use", useNames[:], b, u) }

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
	Standard: "standard", Limits: "limits", Rounding: "rounding", Digitised: "digitised", Scatter: "scatter",
	Range: "range", Judged: "judged",
}

// String returns the name of the kind, "Uncertainty(n)" without one.
func (u Uncertainty) String() string { return enum.Name("Uncertainty", uncertaintyNames[:], u) }

// MarshalText writes the name of the kind; a value without one is a
// [*known.FieldError].
func (u Uncertainty) MarshalText() ([]byte, error) {
	return enum.Write("uncertainty", uncertaintyNames[:], u)
}

// UnmarshalText reads the name of a kind; anything else is a
// [*known.FieldError] and leaves the value as it was.
func (u *Uncertainty) UnmarshalText(b []byte) error {
	return enum.Read("uncertainty", uncertaintyNames[:], b, u)
}
