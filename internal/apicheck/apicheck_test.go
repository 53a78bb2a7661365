package apicheck_test

import (
	"slices"
	"testing"

	"example.org/pithball/internal/apicheck"
	"example.org/pithball/units/compute"
)

func TestCovers(t *testing.T) {
	good := compute.Entry{Name: "demo.Good", Covers: []string{"Area", "Box.Side"}}
	claim := compute.Entry{Name: "demo.Claim", Covers: []string{"Claimed"}}
	ghost := compute.Entry{Name: "demo.Ghost", Covers: []string{"Nowhere"}}
	for _, c := range []struct {
		name    string
		entries []compute.Entry
		exempt  map[string]string
		want    []string
	}{
		{"nothing covered", nil, nil, []string{"Area", "Box.Hidden", "Box.Side", "Claimed", "Exempted", "Lost"}},
		{"reached", []compute.Entry{good}, map[string]string{"Claimed": "not ready", "Exempted": "a list", "Box.*": "plain data"},
			[]string{"Lost"}},
		{"listed but not called", []compute.Entry{good, claim}, map[string]string{"Lost": "r", "Exempted": "r", "*.Hidden": "r"},
			[]string{"Claimed (covered by demo.Claim, but never called from Computations)"}},
		{"not there", []compute.Entry{good, ghost}, map[string]string{"Lost": "r", "Exempted": "r", "Claimed": "r", "*.Hidden": "r"},
			[]string{"Nowhere (covered by demo.Ghost, but not exported)"}},
		{"stale and unreasoned exemptions", []compute.Entry{good},
			map[string]string{"Area": "r", "Lost": " ", "Gone": "r", "Claimed": "r", "Exempted": "r", "*.Hidden": "r"},
			[]string{"Area (exempt, but covered)", "Gone (exempt, but not exported)", "Lost (exempt without a reason)"}},
		{"clean", []compute.Entry{good}, map[string]string{"Lost": "r", "Claimed": "r", "Exempted": "r", "Box.Hidden": "r"}, nil},
	} {
		if got := apicheck.Covers("testdata/demo", c.entries, c.exempt); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
	if got := apicheck.Covers("testdata/none", nil, nil); len(got) != 1 {
		t.Errorf("missing folder: got %q, want one error", got)
	}
}
