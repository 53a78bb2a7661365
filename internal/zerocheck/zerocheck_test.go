package zerocheck_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/internal/zerocheck/testdata/demo"
)

func TestFaults(t *testing.T) {
	got := zerocheck.Faults("testdata/demo", []any{demo.Good{}, demo.Bad{}}, nil,
		map[string]string{"Good.Value": "why not"})
	want := []string{"Bad.Panic: panics: runtime error: invalid memory address or nil pointer dereference",
		"Bad.Sure: inside the published range",
		"Bad.Value: gives 2",
		"Closed: has a constructor, but its zero value is not tried", "Good.Value (exempt, but without fault)",
		"Missed: has a constructor, but its zero value is not tried"}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if got := zerocheck.Faults("testdata/none", nil, nil, nil); len(got) != 1 {
		t.Errorf("no folder: %q", got)
	}
}
