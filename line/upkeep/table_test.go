package upkeep

import (
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"example.org/pithball/charge/hazard"
)

// TestTableOfNotices: the package comment lists which condition raises each notice of the static table, in the words of
// the rules that raise it and in their order, and nothing else.
func TestTableOfNotices(t *testing.T) {
	f, err := parser.ParseFile(token.NewFileSet(), "doc.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	_, table, ok := strings.Cut(f.Doc.Text(), "nothing was measured or answered:\n")
	if !ok {
		t.Fatal("no table")
	}
	table, _, _ = strings.Cut(table, "\n\nIt owns")
	var want []string
	for i := range rules {
		want = append(want, rules[i].id.Code()+" "+rules[i].when)
	}
	if got := strings.Join(strings.Fields(table), " "); got != strings.Join(strings.Fields(strings.Join(want, " ")), " ") {
		t.Errorf("the table says\n%s\nthe rules\n%s", got, strings.Join(want, "\n"))
	}
	for _, id := range hazard.Notices() {
		if !strings.Contains(table, "\n\t"+id.Code()+" ") {
			t.Errorf("no line for %s", id.Code())
		}
	}
}
