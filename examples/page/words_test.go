package main

import (
	"regexp"
	"strings"
	"testing"
)

// TestWords: every text that the page asks for stands in the one table, nothing else does, and none says that a place
// is free of danger.
func TestWords(t *testing.T) {
	have := map[string]bool{}
	table := part("words.js")
	for _, m := range regexp.MustCompile(`(?m)(?:^  |", )"?([\w.+ -]+?)"?:\s+"`).FindAllStringSubmatch(table, -1) {
		if have[m[1]] {
			t.Errorf("%s stands twice", m[1])
		}
		have[m[1]] = true
	}
	if len(have) < 200 {
		t.Fatalf("%d texts found", len(have))
	}
	used := map[string]bool{}
	var code strings.Builder
	for _, s := range scripts[1:] {
		code.WriteString(part(s + ".js"))
	}
	for _, m := range regexp.MustCompile(`\bP?\.?t\("([\w. -]+)"[,)]`).FindAllStringSubmatch(code.String(), -1) {
		used[m[1]] = true
		if !have[m[1]] {
			t.Errorf("%q is asked for and not in the table", m[1])
		}
	}
	for k := range have {
		// Some keys are put together or chosen: their stems or their names in quotes stand in the scripts.
		stem, _, _ := strings.Cut(k, ".")
		if !used[k] && !strings.Contains(code.String(), `"`+k+`"`) && !strings.Contains(code.String(), `"`+stem+`."`) {
			t.Errorf("%q is in the table and never asked for", k)
		}
	}
	if bad := regexp.MustCompile(`(?i)\bsa` + `fe(ly|ty)?\b|harmless|no risk`).FindString(table); bad != "" {
		t.Errorf("a text says %q", bad)
	}
}
