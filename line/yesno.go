package line

import (
	"example.org/pithball/internal/enum"
	"example.org/pithball/units/known"
)

// YesNo is what somebody answered to a question. The zero value is no answer, and where
// hazards are listed no answer raises what a yes would raise.
type YesNo uint8

// The answers.
const (
	Unanswered YesNo = iota
	Yes
	No
)

var yesNoNames = [...]string{"not answered", "yes", "no"}

// String returns "not answered", "yes" or "no".
func (a YesNo) String() string { return enum.Name("YesNo", yesNoNames[:], a) }

// MarshalText writes the name; an unknown value is a [*known.FieldError].
func (a YesNo) MarshalText() ([]byte, error) { return enum.Write("answer", yesNoNames[:], a) }

// UnmarshalText reads yes, no or an empty text; anything else is a
// [*known.FieldError].
func (a *YesNo) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*a = Unanswered
		return nil
	}
	if enum.Read("answer", yesNoNames[:], b, a) != nil {
		return known.Wrong("answer", string(b), "yes, no or nothing")
	}
	return nil
}
