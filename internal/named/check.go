package named

import (
	"encoding"
	"fmt"
)

// Faults writes every value of an enumeration of n names and reads it back, and returns what is wrong: a value
// without a name must be refused both ways and leave what was there.
func Faults[T interface {
	~uint8
	fmt.Stringer
	encoding.TextMarshaler
}, P interface {
	*T
	encoding.TextUnmarshaler
}](n int) (out []string) {
	for v := range 256 {
		text, err := T(v).MarshalText()
		if (err == nil) != (v < n) {
			out = append(out, fmt.Sprintf("%T(%d) of %d: %q, %v", T(0), v, n, text, err))
			continue
		}
		if err != nil {
			continue
		}
		var back T
		if err := P(&back).UnmarshalText(text); err != nil || back != T(v) || T(v).String() != string(text) {
			out = append(out, fmt.Sprintf("%T: %q reads back as %d, %v; want %d", T(0), text, back, err, v))
		}
	}
	kept := T(7)
	for _, s := range []string{"", "nonsense"} {
		if err := P(&kept).UnmarshalText([]byte(s)); err == nil || kept != T(7) {
			out = append(out, fmt.Sprintf("%T reads %q as %d, %v", T(0), s, kept, err))
		}
	}
	return out
}
