package report

import "testing"

// TestWrap: lines of at most so many characters, broken at spaces but never between a number and its unit.
func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"above the limit: 69 %.", 19, "above the limit:\n  69 %."},
		{"above the limit: 69 %.", 22, "above the limit: 69 %."},
		{"net +4.0 (+3.0 … +5.0) µC/m², at rest", 26, "net +4.0 (+3.0 …\n  +5.0) µC/m², at rest"},
		{"reads 16 kV; at 3 m from it", 11, "reads\n  16 kV; at\n  3 m from it"},
		{"a share in % of all", 11, "a share in\n  % of all"},
		{"", 5, ""},
	} {
		if got := Wrap(c.text, c.width, "  "); got != c.want {
			t.Errorf("%q in %d:\n got %q\nwant %q", c.text, c.width, got, c.want)
		}
	}
}
