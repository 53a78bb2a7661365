package survey_test

import (
	"context"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/pithball/internal/progress"
	"example.org/pithball/internal/ticking"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// TestDiagnoseStops: wherever the end falls the error is that of the context; a context that does not end changes
// nothing, and later questions to the diagnosis have none.
func TestDiagnoseStops(t *testing.T) {
	const demo = "../../examples/survey/demo/"
	f, err := os.Open(demo + "line.json")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	desc, err := line.ReadDescription(f)
	if err != nil {
		t.Fatal(err)
	}
	l, err := line.New(desc)
	if err != nil {
		t.Fatal(err)
	}
	g, err := os.Open(demo + "survey.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer g.Close()
	s, err := survey.ReadSurvey(g)
	if err != nil {
		t.Fatal(err)
	}
	want, err := survey.Diagnose(l, s)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	stops := 0
	for n := 0; ; n = 2*n + 1 {
		left := n
		d, err := survey.DiagnoseContext(ticking.Context{Context: ctx, Left: &left}, l, s)
		if err == nil {
			if !cmp.Equal(d.States, want.States) || d.Next() == nil != (want.Next() == nil) {
				t.Error("a context changes the answer")
			}
			break
		}
		if stops++; !errors.Is(err, context.Canceled) || d != nil {
			t.Fatalf("after %d: %v", n, err)
		}
	}
	if stops < 5 {
		t.Errorf("asked %d times only", stops)
	}
	// Who asks how far the work is gets the parts in their order and those steps that were said, and the same answer.
	shares := map[string]float64{}
	var parts []string
	asking := progress.With(t.Context(), func(part string, share float64) {
		if len(parts) == 0 || parts[len(parts)-1] != part {
			parts = append(parts, part)
		}
		if share < shares[part] {
			t.Errorf("%s: %v after %v", part, share, shares[part])
		}
		shares[part] = share
	})
	d, err := survey.DiagnoseContext(asking, l, s)
	if err != nil {
		t.Fatal(err)
	}
	if !cmp.Equal(d.States, want.States) || !cmp.Equal(d.Answer, want.Answer) {
		t.Error("who asks changes the answer")
	}
	if got, want := strings.Join(parts, "; "), "looking for explanations; weighing explanations; drawing samples; "+
		"working out the charges; asking whether a quiet line shows this; putting the answer together"; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	if shares["weighing explanations"] != 1 || shares["drawing samples"] != 1 {
		t.Errorf("%v", shares)
	}
}
