// Package known says how well a number is known. It is the one home of what
// users of several packages must be able to name: the provenance and source of
// a number ([Source]), a number with its spread ([Band]), the error that names
// a wrong field ([FieldError]), the flag of a law used outside its published
// range ([Validity]) and the hazard notice ([Notice]). It knows no physics and
// imports nothing of pithball.
package known

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/internal/numeric"
)

// Provenance says where a number comes from. The zero value is no provenance
// and is refused wherever a number enters testdata or a material table.
type Provenance uint8

// The kinds of provenance, in falling order of weight.
const (
	Unstated Provenance = iota
	// Definition: exact by convention (the inch, the constants of the SI); it
	// needs the work that defines it and proves no law.
	Definition
	// Published: read in the work itself, its abstract or a copy of its text.
	// A value that was seen only where somebody else repeats it is Quoted.
	Published
	// Quoted: read in another work, which [Source.Via] names.
	Quoted
	// Computed: a number of ours or of another program from a published law, by
	// a method that shares no code with pithball.
	Computed
	// CommonPractice: a fact of the trade that has no source.
	CommonPractice
	// Memory: recalled and not compared with the source; nothing may rest on it.
	Memory
	// Demo: invented for a demonstration.
	Demo
)

var provenanceNames = [...]string{"unstated", "definition", "published", "quoted", "computed", "common practice",
	"memory", "demo"}

// String returns the name of the provenance, or "Provenance(n)".
func (p Provenance) String() string {
	if int(p) < len(provenanceNames) {
		return provenanceNames[p]
	}
	return fmt.Sprintf("Provenance(%d)", uint8(p))
}

// MarshalText writes the name of the provenance; an unknown value is a
// [*FieldError].
func (p Provenance) MarshalText() ([]byte, error) {
	return writeName("provenance", provenanceNames[:], uint8(p))
}

// UnmarshalText reads a name as written by String; anything else is a
// [*FieldError] and leaves the value as it was. [Source.Check] refuses "unstated".
func (p *Provenance) UnmarshalText(b []byte) error {
	i, err := readName("provenance", provenanceNames[:], b)
	if err == nil {
		*p = Provenance(i)
	}
	return err
}

func writeName(field string, names []string, v uint8) ([]byte, error) {
	if int(v) >= len(names) {
		return nil, Wrong(field, v, "one of "+strings.Join(names, ", "))
	}
	return []byte(names[v]), nil
}

func readName(field string, names []string, b []byte) (int, error) {
	i := slices.Index(names, string(b))
	if i < 0 {
		return 0, Wrong(field, string(b), "one of "+strings.Join(names, ", "))
	}
	return i, nil
}

// Source is where a number was found.
type Source struct {
	// Provenance is the kind of source.
	Provenance Provenance `json:"provenance"`
	// Cite names the work: author, title, year, standard and table number, DOI;
	// for Computed the law and the independent method; empty for CommonPractice.
	Cite string `json:"cite,omitempty"`
	// Via names the work in which a Quoted number was read; empty for all others.
	Via string `json:"via,omitempty"`
	// Note says under which condition the number holds, or what is doubtful.
	Note string `json:"note,omitempty"`
}

// Check returns a [*FieldError] for field if the provenance is not stated, if a
// source of another kind than common practice names no work (memory may say in
// the note what is remembered instead), if the quoting work is missing of a quoted number or named of another one, if
// the words of a
// published source say that somebody else was read (second-hand, quoted,
// recomputed), and if any source guesses how sure a memory is: what was not
// compared with the source says just that.
func (s *Source) Check(field string) error {
	words := strings.ToLower(s.Cite + "; " + s.Note)
	switch {
	case s.Provenance == Unstated || int(s.Provenance) >= len(provenanceNames):
		return Wrong(field+".provenance", s.Provenance, "one of "+strings.Join(provenanceNames[1:], ", "))
	case s.Cite == "" && s.Provenance != CommonPractice && (s.Provenance != Memory || s.Note == ""):
		return Wrong(field+".cite", s.Cite, "the work, or for a computed number the law and the independent method")
	case (s.Via != "") != (s.Provenance == Quoted):
		return Wrong(field+".via", s.Via, "the quoting work of a quoted number, nothing for any other")
	case s.Provenance == Published && says(words, "second-hand", "quoted", "quoting", "recomputed"):
		return Wrong(field+".provenance", s.Provenance, "quoted or computed, as the words of the source say")
	case says(words, "recalled", "from memory", "% sure"):
		return Wrong(field+".note", s.Note, `"not compared with the source" and the provenance memory`)
	}
	return nil
}

func says(words string, any ...string) bool {
	for _, w := range any {
		if strings.Contains(words, w) {
			return true
		}
	}
	return false
}

// BandKind says how a [Band] spreads.
type BandKind uint8

// The kinds of spread.
const (
	Exact     BandKind = iota // no spread
	Normal                    // Spread is the standard deviation
	LogNormal                 // Spread is the standard deviation of the natural logarithm
	Uniform                   // Spread is the half-width
	AtLeast                   // Value is a lower limit; nothing is known above it, and Spread is 0
)

var bandNames = [...]string{"exact", "normal", "lognormal", "uniform", "at least"}

// String returns the name of the kind, or "BandKind(n)".
func (k BandKind) String() string {
	if int(k) < len(bandNames) {
		return bandNames[k]
	}
	return fmt.Sprintf("BandKind(%d)", uint8(k))
}

// MarshalText writes the name of the kind; an unknown value is a [*FieldError].
func (k BandKind) MarshalText() ([]byte, error) {
	return writeName("band kind", bandNames[:], uint8(k))
}

// UnmarshalText reads a name as written by String; anything else is a
// [*FieldError] and leaves the value as it was.
func (k *BandKind) UnmarshalText(b []byte) error {
	i, err := readName("band kind", bandNames[:], b)
	if err == nil {
		*k = BandKind(i)
	}
	return err
}

// Band is a number with its spread. Value is the median in the unit that the
// field which holds the band states.
type Band struct {
	Value  float64  `json:"value"`            // [unit of the field] median
	Spread float64  `json:"spread,omitempty"` // [see Kind] never negative
	Kind   BandKind `json:"kind"`             // how the number spreads
}

// At returns the value at the standard normal score z: Value + Spread·z
// (Normal), Value·exp(Spread·z) (LogNormal), Value + Spread·(2Φ(z)−1)
// (Uniform), Value (Exact, AtLeast). A quantile p is At(Φ⁻¹(p)), but of a lower
// limit no quantile is known; NaN gives NaN, also for an Exact band.
func (b Band) At(z float64) float64 { // z [1] standard normal score
	if math.IsNaN(z) {
		return z
	}
	switch b.Kind {
	case Normal:
		return b.Value + b.Spread*z
	case LogNormal:
		return b.Value * numeric.Exp(b.Spread*z)
	case Uniform:
		return b.Value + b.Spread*numeric.Erf(z/math.Sqrt2)
	}
	return b.Value
}

// Z95 is the standard normal score of the 95 % quantile, Φ⁻¹(0.95). [1]
const Z95 = 1.6448536269514722

// Limits returns the 5 % and the 95 % quantile, the smaller first; of a lower
// limit (AtLeast) the limit and +Inf.
func (b Band) Limits() (lo, hi float64) { // [unit of the field]
	if b.Kind == AtLeast {
		return b.Value, math.Inf(1)
	}
	lo, hi = b.At(-Z95), b.At(Z95)
	if lo > hi {
		lo, hi = hi, lo
	}
	return lo, hi
}

// Check returns a [*FieldError] for field if the band holds NaN or Inf, a
// negative spread, an unknown kind, a lognormal value of zero, or a spread with
// kind Exact.
func (b Band) Check(field string) error {
	switch {
	case math.IsNaN(b.Value) || math.IsInf(b.Value, 0):
		return Wrong(field, b.Value, "a finite value")
	case !(b.Spread >= 0) || math.IsInf(b.Spread, 0):
		return Wrong(field+".spread", b.Spread, "a finite spread of 0 or more")
	case int(b.Kind) >= len(bandNames):
		return Wrong(field+".kind", b.Kind, "one of "+strings.Join(bandNames[:], ", "))
	case (b.Kind == Exact || b.Kind == AtLeast) && b.Spread != 0:
		return Wrong(field+".spread", b.Spread, "0 for an exact value and for a lower limit")
	case b.Kind == LogNormal && b.Value == 0:
		return Wrong(field, b.Value, "not 0 for a lognormal spread")
	}
	return nil
}

// FieldError says which field is wrong, what it holds and what it may hold.
// errors.As finds it in every error that a constructor of pithball returns.
type FieldError struct {
	Field string // path of the field, for example "stations[3].roller.radius"
	Value string // the value as given, with its unit
	Want  string // the allowed range or form
}

// Error returns "field: value: want range".
func (e *FieldError) Error() string {
	v := e.Value
	if v == "" {
		v = "nothing given"
	}
	if e.Field != "" { // else who wraps it names the place
		v = e.Field + ": " + v
	}
	return v + ": want " + e.Want
}

// Wrong builds a [*FieldError]; the value is printed with fmt's %v, so that a
// quantity prints with its unit.
func Wrong(field string, value any, want string) error {
	return &FieldError{Field: field, Value: fmt.Sprint(value), Want: want}
}

// InRange returns nil if lo <= v <= hi and v is finite, else a [*FieldError]
// that prints value, lo and hi in the type of the quantity.
func InRange[T ~float64](field string, v, lo, hi T) error {
	if f := float64(v); f >= float64(lo) && f <= float64(hi) && !math.IsInf(f, 0) {
		return nil
	}
	return Wrong(field, v, fmt.Sprintf("%v … %v", lo, hi))
}

// Positive returns nil if v is finite and above zero, else a [*FieldError].
func Positive[T ~float64](field string, v T) error {
	if f := float64(v); f > 0 && !math.IsInf(f, 0) {
		return nil
	}
	return Wrong(field, v, "more than 0 and finite")
}

// NotNegative returns nil if v is finite and zero or above, else a
// [*FieldError].
func NotNegative[T ~float64](field string, v T) error {
	if f := float64(v); f >= 0 && !math.IsInf(f, 0) {
		return nil
	}
	return Wrong(field, v, "0 or more and finite")
}

// Finite returns nil if v is neither NaN nor infinite, else a [*FieldError].
func Finite[T ~float64](field string, v T) error {
	if f := float64(v); !math.IsNaN(f) && !math.IsInf(f, 0) {
		return nil
	}
	return Wrong(field, v, "a finite value")
}

// Validity flags a result whose inputs lie outside the published range of the
// law that gave it. The zero value is inside.
type Validity uint8

// The flags; they can be or-ed.
const (
	Inside      Validity = 0
	BelowRange  Validity = 1 << iota // an input lies below the published range
	AboveRange                       // an input lies above the published range
	WrongShape                       // a geometric assumption of the law does not hold
	Unpublished                      // the law or constant rests on memory or common practice
	LowerLimit                       // the result is a lower limit: the truth may lie any way above it
	Estimate                         // a closure that nobody has measured decided the result
)

const insideText = "inside the published range"

var flagTexts = [...]struct {
	bit  Validity
	text string
}{{BelowRange, "below the published range"}, {AboveRange, "above the published range"},
	{WrongShape, "outside the law's geometry"}, {Unpublished, "rests on no published value"},
	{LowerLimit, "a lower limit"}, {Estimate, "an estimate"}}

// String lists the flags, "inside the published range" for none.
func (v Validity) String() string {
	if v == Inside {
		return insideText
	}
	var parts []string
	for _, f := range flagTexts {
		if v&f.bit != 0 {
			parts = append(parts, f.text)
		}
		v &^= f.bit
	}
	if v != 0 {
		parts = append(parts, fmt.Sprintf("Validity(%d)", uint8(v)))
	}
	return strings.Join(parts, ", ")
}

// MarshalText writes the flags as String does; an unknown flag is a
// [*FieldError].
func (v Validity) MarshalText() ([]byte, error) {
	var back Validity
	text := []byte(v.String())
	if err := back.UnmarshalText(text); err != nil {
		return nil, err
	}
	return text, nil
}

// UnmarshalText reads flags as written by String, in any order; anything else is a
// [*FieldError] and leaves the value as it was.
func (v *Validity) UnmarshalText(b []byte) error {
	var read Validity
	if string(b) != insideText {
		for part := range strings.SplitSeq(string(b), ", ") {
			var bit Validity
			for _, f := range flagTexts {
				if f.text == part {
					bit = f.bit
				}
			}
			if bit == 0 {
				return Wrong("validity", string(b), `"`+insideText+`" or a list of flags`)
			}
			read |= bit
		}
	}
	*v = read
	return nil
}

// Notice is a hazard or a limit of use that a result carries. It states a
// condition and hands the decision to a person; no notice says that a place is
// free of danger.
type Notice struct {
	Code      string `json:"code"`             // stable name, lower case with hyphens
	Condition string `json:"condition"`        // what was found
	Figure    string `json:"figure,omitempty"` // the number behind it, with its unit
	Consult   string `json:"consult"`          // standard or rule to consult
	Decide    string `json:"decide"`           // what a competent or licensed person must decide
}

// String returns the notice as one line.
func (n Notice) String() string {
	s := n.Condition
	if n.Figure != "" {
		s += " (" + n.Figure + ")"
	}
	return s + ". Consult " + n.Consult + ". To decide by a competent person: " + n.Decide + "."
}
