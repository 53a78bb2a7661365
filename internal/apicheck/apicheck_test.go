package apicheck_test

import (
	"strings"
	"testing"

	"slices"

	"example.org/pithball/internal/apicheck"
)

func TestUnreached(t *testing.T) {
	for _, c := range []struct {
		name   string
		exempt map[string]string
		want   []string
	}{
		{"no exemptions", nil, []string{"Ball.Size", "Box.Hidden", "Claimed", "Exempted", "Lost"}},
		{"some", map[string]string{"Claimed": "not ready", "Exempted": "a list", "Box.*": "plain data", "*.Size": "r"},
			[]string{"Lost"}},
		{"stale and unreasoned", map[string]string{"Area": "r", "Lost": " ", "Gone": "r", "Claimed": "r", "Exempted": "r",
			"*.Hidden": "r", "Ball.Size": "r"},
			[]string{"Area (exempt, but reached)", "Gone (exempt, but not exported)", "Lost (exempt without a reason)"}},
		{"clean", map[string]string{"Lost": "r", "Claimed": "r", "Exempted": "r", "Box.Hidden": "r", "Ball.Size": "r"}, nil},
	} {
		if got := apicheck.Unreached("testdata/demo", c.exempt); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
	for _, dir := range []string{"testdata/none", "../apicheck"} { // no folder, no registry
		if got := apicheck.Unreached(dir, nil); len(got) != 1 || !strings.Contains(got[0], dir) {
			t.Errorf("%s: got %q, want one error", dir, got)
		}
	}
}
