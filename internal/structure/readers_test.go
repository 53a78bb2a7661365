package structure_test

import (
	"go/ast"
	"go/token"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// readers are the files that read text of a user, with the test that gives each three faults in one text
// and expects three lines.
var readers = map[string]string{
	"line/description.go":          "TestFaultsInTheWordsOfTheFile",
	"line/cure/goods.go":           "TestFaultsOfGoods",
	"line/cure/text.go":            "TestFaultsOfChanges",
	"line/survey/read.go":          "TestAllFaultsOfASurvey",
	"examples/survey/read.go":      "TestAllFaults",
	"examples/survey/weather.go":   "TestFaultsOfHours",
	"examples/page/floor/file.go":  "TestAllFaultsOfASurvey", // by the readers of the library
	"examples/embed/watch/main.go": "TestFaultsOfAMessage",
}

// noReaders are files that decode what no user wrote by hand, or look at one key of it only.
var noReaders = map[string]string{
	"examples/survey/goods.go":          "looks at the schema to tell goods from a web",
	"examples/survey/start.go":          "looks at the kind to tell goods from a web",
	"examples/sweep/main.go":            "blocks that this program wrote",
	"examples/sweep/beam/main.go":       "blocks that this program wrote",
	"examples/bench/table.go":           "results that programs wrote",
	"examples/page/floor/doc.go":        "a request of the page's own script",
	"examples/notebook/serve/listen.go": "a request of the client",
	"examples/notebook/serve/job.go":    "a request of the client",
	"examples/notebook/serve/column.go": "a request of the client",
	"examples/notebook/serve/params.go": "a request of the client; its line and survey go through the readers " +
		"of the library",
	"internal/strictjson/strictjson.go":       "the decoder itself",
	"internal/strictjson/object.go":           "the decoder itself",
	"internal/table/table.go":                 "tables that the library ships",
	"internal/apicheck/apicheck.go":           "output of the go command",
	"internal/quantitycheck/quantitycheck.go": "output of the go command",
	"testdata/embed.go":                       "rows that the library ships",
	"line/cure/goods_units.go":                "looks at the kind for the unit; the reader of goods tells the faults",
	"units/unitstest/unitstest.go":            "a round trip of a law",
	"units/unitstest/laws.go":                 "a round trip of a law",
	"line/linetest/answers.go":                "a round trip of a law",
}

// decodes are the calls by which text is read.
var decodes = map[string][]string{"json": {"Unmarshal", "NewDecoder"}, "csv": {"NewReader"}, "bufio": {"NewScanner"},
	"strictjson": {"Decode", "DecodePlaces"}}

// TestReadersTellAllFaults: every reader of the tree has a test that gives it several faults in one text, or
// reads nothing that a user wrote.
func TestReadersTellAllFaults(t *testing.T) {
	found := map[string]bool{}
	tests := map[string]string{}
	goFiles(t, func(path string, f *ast.File, fset *token.FileSet) {
		if strings.HasSuffix(path, "_test.go") {
			for _, d := range f.Decls {
				if x, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(x.Name.Name, "Test") {
					b, err := os.ReadFile(fset.Position(x.Pos()).Filename)
					if err != nil {
						t.Fatal(err)
					}
					tests[x.Name.Name] += string(b[fset.Position(x.Pos()).Offset:fset.Position(x.End()).Offset])
				}
			}
			return
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := s.X.(*ast.Ident); ok && slices.Contains(decodes[x.Name], s.Sel.Name) {
					found[path] = true
				}
			}
			return true
		})
	})
	told := regexp.MustCompile(`(line|message) \d+: `)
	for path := range found {
		test := readers[path]
		if test == "" && noReaders[path] == "" && !strings.HasPrefix(path, ".ci/") {
			t.Errorf("%s reads text: want a test of three faults in one text, or the reason why it needs none", path)
		}
		if test != "" && len(told.FindAllString(tests[test], -1)) < 3 {
			t.Errorf("%s: %s expects fewer than three faults with their lines", path, test)
		}
	}
	for _, list := range []map[string]string{readers, noReaders} {
		for path := range list {
			if !found[path] {
				t.Errorf("%s reads nothing", path)
			}
		}
	}
}
