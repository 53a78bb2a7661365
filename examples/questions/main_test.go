package main

import (
	"os"
	"testing"
)

// All fifty are answered once, in one or two lines (three where places or dates are
// listed), each with a test of its direction; the page is what the examples say.
func TestQuestions(t *testing.T) {
	list, err := find("../..")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[int]string{}
	for _, a := range list {
		switch {
		case seen[a.number] != "":
			t.Errorf("question %d is answered in %s and %s", a.number, seen[a.number], a.file)
		case a.number < 1 || a.number > count:
			t.Errorf("%s: question %d of %d", a.file, a.number, count)
		case len(a.lines) == 0 || len(a.lines) > 4 || len(a.question) < 10:
			t.Errorf("question %d: %q answered by %q", a.number, a.question, a.lines)
		case directions[a.number] == "":
			t.Errorf("question %d: no word of what its test holds", a.number)
		case !a.test:
			t.Errorf("question %d: no TestQuestion%02d beside it", a.number, a.number)
		}
		seen[a.number] = a.file
	}
	for n := 1; n <= count; n++ {
		if seen[n] == "" {
			t.Errorf("question %d has no example", n)
		}
	}
	b, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	if string(b) != page(list) {
		t.Error("the page is not what the examples say: run go generate ./examples/questions")
	}
}
