package humidity

import (
	"encoding"
	"errors"
	"testing"

	"example.org/pithball/units/known"
)

// readsBack writes every value of an enumeration of n names and reads it back; a
// value without a name is refused both ways.
func readsBack[T interface {
	~uint8
	encoding.TextMarshaler
}, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, n int) {
	t.Helper()
	for v := range 256 {
		text, err := T(v).MarshalText()
		if err != nil {
			var f *known.FieldError
			if !errors.As(err, &f) || f.Want == "" {
				t.Errorf("%T(%d): %v", T(0), v, err)
			}
			continue
		}
		n--
		var back T
		if err := P(&back).UnmarshalText(text); err != nil || back != T(v) {
			t.Errorf("%T: %q reads back as %d, %v; want %d", T(0), text, back, err, v)
		}
	}
	if n != 0 {
		t.Errorf("%T: %d names too few", T(0), n)
	}
	kept := T(7)
	for _, s := range []string{"", "nonsense"} {
		if err := P(&kept).UnmarshalText([]byte(s)); err == nil || kept != T(7) {
			t.Errorf("%T reads %q as %d, %v", T(0), s, kept, err)
		}
	}
}

func TestNamesReadBack(t *testing.T) {
	readsBack[Class](t, 3)
	readsBack[Stress](t, 3)
	readsBack[FlowState](t, 2)
	readsBack[Branch](t, 2)
	readsBack[Held](t, 2)
	readsBack[Reference](t, 3)
	readsBack[Psychrometer](t, 2)
	readsBack[AirModel](t, len(Models()))
	readsBack[Equation](t, len(Equations()))
	if Class(0).String() != "Class(0)" || Adsorbing.String() != "adsorbing" {
		t.Error(Class(0), Adsorbing)
	}
}
