// Package plain says whether a text is one line of plain characters. A name or a
// remark with a line break or a control character in it could print a line of its
// own into a report, or turn it round.
package plain

import (
	"fmt"
	"unicode"
	"unicode/utf8"
)

// Fault says what is wrong with the text, "" for nothing: control characters, line
// and paragraph separators, characters that change the direction of writing, and
// bytes that are not UTF-8.
func Fault(s string) string {
	for i, r := range s {
		switch {
		case r == utf8.RuneError:
			if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
				return fmt.Sprintf("the byte %#02x, which is no UTF-8 (save the file as UTF-8)", s[i])
			}
		case unicode.IsControl(r), r == '\u2028', r == '\u2029':
			return fmt.Sprintf("control character %U", r)
		case unicode.Is(unicode.Bidi_Control, r):
			return fmt.Sprintf("character %U, which turns the direction of the text", r)
		}
	}
	return ""
}

// Encoded names the encoding of a file that is not UTF-8 and begins like one, "" for
// none.
func Encoded(b []byte) string {
	if len(b) < 4 {
		return ""
	}
	switch {
	case b[0] == 0xff && b[1] == 0xfe, b[0] == 0xfe && b[1] == 0xff:
		return "UTF-16"
	case b[0] == 0 && b[1] != 0, b[1] == 0 && b[0] != 0:
		return "UTF-16"
	}
	return ""
}
