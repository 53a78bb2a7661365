package structure_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	// timed is a figure that some machine measured: a time of the processor or the clock, or a rate.
	timed = regexp.MustCompile(`\d ?(ns|µs|ms)\b|values a second|processor hours`)
	// origin is where such a figure comes from: a day on which a command was run by hand, or a program of the tree.
	origin = regexp.MustCompile(`\d{4}-\d\d-\d\d|\bTest[A-Z]\w+|\btest_\w+|\.ci/\w+|-bench\b|QUIET=1`)
)

// TestTimesHaveAnOrigin: a document that tells how long something takes says who measured it: a program of the tree, or
// a person on a day with a command. Times grow old, and nobody can check one that has no origin. What stands between
// the marks of a program, or was printed by an example that a test runs, has its own.
func TestTimesHaveAnOrigin(t *testing.T) {
	files, err := filepath.Glob("../../examples/*/README.md")
	if err != nil || len(files) < 3 {
		t.Fatal(files, err)
	}
	seen := 0
	for _, name := range append(files, "../../README.md", "../../DEVELOPERS.md") {
		if strings.Contains(filepath.ToSlash(name), "examples/questions/") {
			continue // of TestQuestions
		}
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		text, _, _ := strings.Cut(string(b), "## Change log")
		text = strings.ReplaceAll(text, "|\n\n", "|\n") // what stands below a table speaks of it
		text = regexp.MustCompile(`(?s)<!--.*?-->.*?<!-- end[^>]*-->`).ReplaceAllString(text, "")
		for _, p := range regexp.MustCompile(`\n\s*\n|\n- |\n\d+\. `).Split(text, -1) {
			figure := timed.FindString(p)
			if figure == "" {
				continue
			}
			if seen++; !origin.MatchString(p) {
				t.Errorf("%s: %q has no origin in\n%.300s", filepath.ToSlash(name), figure, p)
			}
		}
	}
	if seen < 4 {
		t.Errorf("%d figures found: the pattern is wrong", seen)
	}
}
