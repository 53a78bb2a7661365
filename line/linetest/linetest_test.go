package linetest_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/line/linetest"
)

func TestLine(t *testing.T) { linetest.Run(t, linetest.Of) }

func FuzzLine(f *testing.F) { linetest.Fuzz(f, linetest.Of) }

// TestLawsBite: each law finds its broken model, and finds it as a violation of
// that very law.
func TestLawsBite(t *testing.T) {
	broken := linetest.Broken()
	for _, l := range linetest.Laws() {
		mk, ok := broken[l.Name]
		if !ok {
			t.Errorf("%s: no broken model", l.Name)
			continue
		}
		if l.Says == "" || l.Source == "" {
			t.Errorf("%s: says nothing or gives no source", l.Name)
		}
		found := false
		for seed := range 200 {
			d := linetest.Descriptions().Example(seed)
			err := l.Check(mk, d, linetest.Speeds().Example(seed))
			var v *linetest.Violation
			if errors.As(err, &v) && v.Law == l.Name {
				found = true
				break
			}
		}
		if !found {
			t.Errorf("%s: the broken model passes", l.Name)
		}
	}
	if len(broken) != len(linetest.Laws()) {
		t.Errorf("%d broken models for %d laws", len(broken), len(linetest.Laws()))
	}
}

func TestCheck(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		if err := linetest.Check(linetest.Of, linetest.Descriptions().Draw(r, "line"), linetest.Speeds().Draw(r, "speed")); err != nil {
			r.Fatal(err)
		}
	})
}
