package divided

import (
	"errors"
	"fmt"
	"testing"

	"example.org/pithball/units/known"
)

// TestBy: the first line decides, and what stands in quotes does not.
func TestBy(t *testing.T) {
	for s, want := range map[string]rune{"": ',', "a": ',', "a,b": ',', "a;b;c\n1,5;2,5;3": ';',
		"a\tb\r\n1;2;3": '\t', "\r\n\na;b": ';', `"a;b;c",d,e` + "\n": ',', `"a,b,c";d;e`: ';', "a,b;c": ',', "a,b;c;d": ';', "a,b;c,d\t\t\t": '\t'} {
		if got := By([]byte(s)); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

// TestName: each divider has its own.
func TestName(t *testing.T) {
	for r, want := range map[rune]string{',': "comma", ';': "semicolon", '\t': "tab"} {
		if got := Name(r); got != want {
			t.Errorf("%q: %s", r, got)
		}
	}
}

// TestRead: what a reader in a country with decimal commas and one with decimal points make of a number, by hand.
func TestRead(t *testing.T) {
	for s, want := range map[string]Number{
		"": {}, "12": {Text: "12"}, "1.5 kV": {Text: "1.5 kV"}, "-0.25": {Text: "-0.25"},
		"1,5": {Text: "1.5", Comma: true}, "-10,25 V": {Text: "-10.25 V", Comma: true}, ">1,5": {Text: ">1.5", Comma: true},
		"−3,2 °C": {Text: "−3.2 °C", Comma: true}, "1,5e-3": {Text: "1.5e-3", Comma: true},
		"1,5000": {Text: "1.5000", Comma: true}, "1234,500": {Text: "1234.500", Comma: true},
		"0,500": {Text: "0.500", Comma: true}, "012,500": {Text: "012.500", Comma: true},
		"1,500":      {Comma: true, Either: [2]string{"1.500", "1500"}},
		"-100,000 V": {Comma: true, Either: [2]string{"-100.000 V", "-100000 V"}},
		"1.500":      {Text: "1.500", Either: [2]string{"1.500", "1500"}},
		"22.125 mm":  {Text: "22.125 mm", Either: [2]string{"22.125 mm", "22125 mm"}},
		"1234.500":   {Text: "1234.500"}, "0.500": {Text: "0.500"},
		// More than one sign, and one that no digits surround, are for the reader of the number.
		"1.234,5": {Text: "1.234,5"}, "1,234.5": {Text: "1,234.5"}, "1,234,567": {Text: "1,234,567"},
		",5": {Text: ",5"}, "5,": {Text: "5,"}, "5, V": {Text: "5, V"}, "V,5": {Text: "V,5"}, ",": {Text: ","},
	} {
		if got := Read(s); got != want {
			t.Errorf("%q: %+v, want %+v", s, got, want)
		}
		n := Read(s)
		if n.Two() != (want.Either != [2]string{}) {
			t.Errorf("%q: two: %v", s, n.Two())
		}
	}
}

// TestBoth: both readings without their unit, and a way to write each.
func TestBoth(t *testing.T) {
	for s, want := range map[string]string{"1,500": "1.500 or 1500, written 1,5000 or 1500: ",
		"≥ -20,000 V": "-20.000 or -20000, written -20,0000 or -20000: ", "1,5": ""} {
		if n := Read(s); n.Both(",") != want {
			t.Errorf("%s: %q", s, n.Both(","))
		}
	}
	if n := Read("12.250 mm"); n.Both(".") != "12.250 or 12250, written 12.2500 or 12250: " {
		t.Errorf("%q", n.Both("."))
	}
}

// TestAsWritten: faults have the comma of the text, also where its unit stands elsewhere, and stay what they are.
func TestAsWritten(t *testing.T) {
	bad := errors.New("bad")
	err := AsWritten(fmt.Errorf("length \"25.5 kg\": %w", bad), "≥25.5", "≥25,5")
	if !errors.Is(err, bad) || err.Error() != `length "25,5 kg": bad` {
		t.Error(err)
	}
	err = AsWritten(known.Wrong("distance", ">25.5 km", "0.1 … 25.5 m"), ">25.5 km", ">25,5 km")
	var f *known.FieldError
	if !errors.As(err, &f) || f.Value != ">25,5 km" || f.Want != "0.1 … 25.5 m" {
		t.Error(err)
	}
	if err := AsWritten(errors.New("5.51 2.7 2.5"), "2.5 mm", "2,5 mm"); err.Error() != "5.51 2.7 2,5" { // no other number
		t.Error(err)
	}
	if err := AsWritten(errors.New("2.5 12.5"), ">12.5 mm", ">12,5 mm"); err.Error() != "2.5 12,5" {
		t.Error(err)
	}
	if AsWritten(nil, "1.5", "1,5") != nil || AsWritten(bad, "15", "15") != bad || AsWritten(bad, "1", "1,5") != bad {
		t.Error("changed what is not to be")
	}
}

// FuzzRead: no text makes the reader panic, and what it changes is one comma.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"1,5 kV", "1,500", "1.500", "1.234,5", ",", "−3,2 °C", "\xff,1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		n := Read(s)
		if n.Text != s && !(n.Comma && (len(n.Text) == len(s) || n.Two())) {
			t.Errorf("%q: %+v", s, n)
		}
		By([]byte(s))
	})
}
