package line

import "testing"

// TestYesNoText: answers read back what they write; nothing else is one.
func TestYesNoText(t *testing.T) {
	for _, want := range []YesNo{Unanswered, Yes, No} {
		b, err := want.MarshalText()
		got := YesNo(9)
		if err != nil || got.UnmarshalText(b) != nil || got != want {
			t.Errorf("%v: %s, %v", want, b, got)
		}
	}
	a := Yes
	if err := a.UnmarshalText(nil); err != nil || a != Unanswered {
		t.Errorf("%v %v", a, err)
	}
	if err := a.UnmarshalText([]byte("maybe")); err == nil || YesNo(7).String() != "YesNo(7)" {
		t.Errorf("%v", err)
	}
}
