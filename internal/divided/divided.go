// Package divided reads what is peculiar to tables as spreadsheets write them: where the comma is the decimal
// sign, semicolons or tabs stand between the columns.
package divided

import (
	"bytes"
	"strings"

	"example.org/pithball/units/known"
)

// By returns what stands between the columns of a table, by its first line that is not empty: of semicolon, tab
// and comma that which is there most often outside of quotes, the comma where none is.
func By(text []byte) rune {
	text = bytes.TrimLeft(text, "\r\n")
	if i := bytes.IndexByte(text, '\n'); i >= 0 {
		text = text[:i]
	}
	quoted := false
	count := map[byte]int{}
	for _, c := range text {
		if c == '"' {
			quoted = !quoted
		}
		if !quoted {
			count[c]++
		}
	}
	best := byte(',')
	for _, c := range []byte{';', '\t'} {
		if count[c] > count[best] {
			best = c
		}
	}
	return rune(best)
}

// Name is what a divider is called.
func Name(divider rune) string {
	switch divider {
	case ';':
		return "semicolon"
	case '\t':
		return "tab"
	}
	return "comma"
}

// Number is a number of a table that semicolons or tabs divide.
type Number struct {
	Text  string // as it is read, with a point as decimal sign; the text itself where nothing is to be changed
	Comma bool   // it had a decimal comma
	// Either holds both readings of a number that can be taken for two, with what stands around it; Comma says by
	// which sign. Of one with a comma there is no Text, of one with a point it is that of the decimal point.
	Either [2]string
}

// Two says that the number can be taken for two.
func (n *Number) Two() bool { return n.Either[0] != "" }

// Read reads a number, which may have a sign before and a unit behind it. One comma among digits is a decimal comma.
// Where exactly three digits stand behind the one sign, and one to three before it that do not begin with 0, it may
// divide thousands. More than one sign is left as it is, for the reader of the number to refuse.
func Read(s string) Number {
	n := Number{Text: s}
	at := strings.IndexAny(s, ",.")
	if at < 0 || strings.ContainsAny(s[at+1:], ",.") {
		return n
	}
	before, behind := at, at+1
	for before > 0 && digit(s[before-1]) {
		before--
	}
	for behind < len(s) && digit(s[behind]) {
		behind++
	}
	whole, part := at-before, behind-at-1
	if whole == 0 || part == 0 {
		return n
	}
	n.Comma = s[at] == ','
	if part == 3 && whole <= 3 && s[before] != '0' {
		n.Either = [2]string{s[:at] + "." + s[at+1:], s[:at] + s[at+1:]}
	}
	if n.Comma {
		n.Text = s[:at] + "." + s[at+1:]
		if n.Two() {
			n.Text = ""
		}
	}
	return n
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// Both names both readings of a number, without its unit, and how each is written with a decimal sign so that it
// is no other.
func (n *Number) Both(sign string) string {
	if !n.Two() {
		return ""
	}
	i := strings.IndexByte(n.Either[0], '.')
	digits := n.Either[0][:i+4] // three behind the sign
	one, other := strings.TrimLeft(digits, "<>≤≥= "), strings.TrimLeft(n.Either[1][:i+3], "<>≤≥= ")
	return one + " or " + other + ", written " + strings.Replace(one, ".", sign, 1) + "0 or " + other + ": "
}

// AsWritten tells what is wrong with a number that was read with a point, where it was written with a comma.
func AsWritten(err error, point, comma string) error {
	i := strings.IndexByte(comma, ',')
	if i < 0 || err == nil || len(point) != len(comma) {
		return err
	}
	// the digits alone: signs and units may stand elsewhere in the message
	lo, hi := i, i+1
	for lo > 0 && digit(comma[lo-1]) {
		lo--
	}
	for hi < len(comma) && digit(comma[hi]) {
		hi++
	}
	point, comma = point[lo:hi], comma[lo:hi]
	if f, ok := err.(*known.FieldError); ok {
		g := *f
		g.Value = strings.ReplaceAll(g.Value, point, comma)
		return &g
	}
	return &inWords{err, point, comma}
}

// inWords is an error of a number in the words of the file.
type inWords struct {
	err          error
	point, comma string
}

func (e *inWords) Error() string { return strings.ReplaceAll(e.err.Error(), e.point, e.comma) }
func (e *inWords) Unwrap() error { return e.err }
