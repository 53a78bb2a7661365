package plain

import (
	"strings"
	"testing"
)

func TestFault(t *testing.T) {
	for s, want := range map[string]string{
		"": "", "tension nip": "", "Präger 3 – „Bahn“ 日本": "", "\ufffd": "", "a\u00a0b": "",
		"a\nb": "U+000A", "a\rb": "U+000D", "a\tb": "U+0009", "\x1b[31m": "U+001B", "a\u0085b": "U+0085", "\x00": "U+0000",
		"a\u2028b": "U+2028", "a\u202eb": "direction", "a\u2067b": "direction", "a\xffb": "0xff",
	} {
		if got := Fault(s); (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

func TestEncoded(t *testing.T) {
	for s, want := range map[string]string{"": "", "abcd": "", "\ufeffab": "", "\xff\xfea\x00": "UTF-16",
		"\xfe\xff\x00a": "UTF-16", "a\x00b\x00": "UTF-16", "\x00a\x00b": "UTF-16"} {
		if got := Encoded([]byte(s)); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}
