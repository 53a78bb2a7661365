package field

import "testing"

// FuzzReadingFlaws: what is read is written and reads back to the same flaws, and a refusal leaves the value.
func FuzzReadingFlaws(f *testing.F) {
	for _, s := range []string{noFlaw, "", flawTexts[0], flawTexts[1] + "; " + flawTexts[0], flawTexts[0] + ";", "; "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r := ReadingFlaws(1)
		if err := r.UnmarshalText([]byte(s)); err != nil {
			if r != 1 {
				t.Fatalf("%q: %v beside %v", s, r, err)
			}
			return
		}
		text, err := r.MarshalText()
		var back ReadingFlaws
		if err != nil || back.UnmarshalText(text) != nil || back != r {
			t.Fatalf("%q: %d prints %q, %v, which reads %d", s, r, text, err, back)
		}
	})
}
