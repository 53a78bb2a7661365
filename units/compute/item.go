package compute

import (
	"strings"
	"unicode/utf8"
)

// item is the parts of a declared number, "name [unit] low…high {choices} = default: text"; what is left out is empty.
// Package regexp would read it too, but takes longer to start than all lists to be put together.
type item struct{ name, unit, low, high, choices, def, text string }

// readItem takes an item apart.
func readItem(s string) (it item, ok bool) {
	n := 0
	for n < len(s) && (s[n] == '_' || s[n] >= 'a' && s[n] <= 'z' ||
		n > 0 && (s[n] == '#' || s[n] >= 'A' && s[n] <= 'Z' || s[n] >= '0' && s[n] <= '9')) {
		n++
	}
	if n == 0 {
		return it, false
	}
	it.name, s = s[:n], s[n:]
	if t, spaced := skip(s); spaced && strings.HasPrefix(t, "[") {
		if it.unit, s, ok = strings.Cut(t[1:], "]"); !ok || it.unit == "" {
			return it, false
		}
	}
	if t, spaced := skip(s); spaced {
		end := strings.IndexAny(t, spaces+"{:=")
		if end < 0 {
			end = len(t)
		}
		if at := strings.LastIndex(t[:end], "…"); at > 0 && at+len("…") < end {
			it.low, it.high, s = t[:at], t[at+len("…"):end], t[end:]
		}
	}
	if t, _ := skip(s); strings.HasPrefix(t, "{") {
		if it.choices, s, ok = strings.Cut(t[1:], "}"); !ok || it.choices == "" {
			return it, false
		}
	}
	if t, _ := skip(s); strings.HasPrefix(t, "=") {
		def, _, _ := strings.Cut(t[1:], ":")
		s = t[1+len(def):]
		if it.def = strings.Trim(def, spaces); it.def == "" {
			return it, false
		}
	}
	t, _ := skip(s)
	if t == "" {
		return it, true
	}
	if !strings.HasPrefix(t, ":") || strings.Contains(t, "\n") || !utf8.ValidString(t) {
		return it, false
	}
	it.text, _ = skip(t[1:])
	return it, true
}

const spaces = " \t\n\f\r"

// skip drops the spaces in front.
func skip(s string) (rest string, spaced bool) {
	rest = strings.TrimLeft(s, spaces)
	return rest, len(rest) < len(s)
}

// unnamed reports whether the name of a value is that of its type and its number, "Type(3)".
func unnamed(name string) bool {
	s, closed := strings.CutSuffix(name, ")")
	t := strings.TrimRight(s, "0123456789")
	return closed && t != s && (strings.HasSuffix(t, "(") || strings.HasSuffix(t, "(-"))
}
