package strictjson

// Kind is the kind of a [Fault].
type Kind uint8

// The kinds.
const (
	Unfit    Kind = iota // a value that the field cannot hold
	Missing              // a field that must be present is not
	Unknown              // a key that the object does not know
	Repeated             // a key that was given before
	Broken               // the text is no JSON document
)

// Fault is what is wrong with the form of a document; what a field's own type refuses, and what plain
// checks of ranges find, are errors of their packages.
type Fault struct {
	Kind  Kind
	Value string // of Unfit as the document has it; of Broken what is wrong with the text
	Want  string // of Unfit and Unknown
}

// Error returns the fault in words.
func (f *Fault) Error() string {
	switch {
	case f.Kind == Missing:
		return "missing"
	case f.Kind == Unknown:
		return "unknown field: want " + f.Want
	case f.Kind == Repeated:
		return "given twice"
	case f.Kind == Broken:
		return f.Value
	case f.Value == "": // the key itself is the value
		return "want " + f.Want
	}
	return f.Value + ": want " + f.Want
}

func unfit(value, want string) *Fault { return &Fault{Unfit, value, want} }
