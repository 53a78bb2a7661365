package structure_test

import (
	"bytes"
	"go/ast"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// fuzzedBy names for each function that reads text from outside the fuzz target that reads any text through it: the
// folder and the target. What only hands on to one of these functions is found by itself.
var fuzzedBy = map[string]string{
	"charge/field ReadingFlaws.UnmarshalText":        "charge/field FuzzReadingFlaws",
	"decay Model.UnmarshalText":                      "decay FuzzModelName",
	"examples/embed/watch parse":                     "examples/embed/watch FuzzParse",
	"examples/notebook/serve document.UnmarshalText": "examples/notebook/serve FuzzServe",
	"examples/notebook/serve server.read":            "examples/notebook/serve FuzzServe",
	"examples/notebook/serve serve":                  "examples/notebook/serve FuzzConversation",
	"examples/page/floor Do":                         "examples/page/floor FuzzDo",
	"examples/page/floor parsed":                     "units FuzzParse",
	"examples/survey readHours":                      "examples/survey FuzzReadHours",
	"examples/survey decode":                         "examples/survey FuzzFiles",
	"internal/strictjson Object.Decode":              "examples/survey FuzzFiles",
	"examples/sweep mergeFiles":                      "examples/sweep FuzzMerge",
	"humidity MoistureContent.UnmarshalText":         "humidity FuzzMoisture",
	"humidity Regain.UnmarshalText":                  "humidity FuzzMoisture",
	"humidity parsePercent":                          "humidity FuzzMoisture",
	"internal/divided Read":                          "internal/divided FuzzRead",
	"internal/enum Read":                             "internal/enum FuzzRead",
	"internal/strictjson Decode":                     "internal/strictjson FuzzDecode",
	"internal/strictjson decoder.decode":             "internal/strictjson FuzzDecode",
	"internal/strictjson DecodePlaces":               "internal/strictjson FuzzDecode",
	"line ReadDescription":                           "line FuzzReadDescription",
	"line/cure Changes.UnmarshalJSON":                "line/cure FuzzChanges",
	"line/cure GoodsCure.UnmarshalJSON":              "line/cure FuzzChanges",
	"line/cure Quantiles.UnmarshalJSON":              "line/cure FuzzChanges",
	"line/cure ReadGoods":                            "line/cure FuzzReadGoods",
	"line/survey ReadSurvey":                         "line/survey FuzzReadSurvey",
	"line/survey readRows":                           "line/survey FuzzReadSurvey",
	"examples/survey files.read":                     "examples/survey FuzzFiles",
	"line/survey ReadSurveyOf":                       "line/survey FuzzReadSurvey",
	"line/survey limited.Read":                       "line/survey FuzzReadSurvey",
	"line/survey parse":                              "line/survey FuzzReadSurvey",
	"line/survey parseAs":                            "line/survey FuzzReadSurvey",
	"line/survey parseRow":                           "line/survey FuzzReadSurvey",
	"line/upkeep Flammables.UnmarshalText":           "line/upkeep FuzzKinds",
	"line/upkeep GoodsKind.UnmarshalText":            "line/upkeep FuzzKinds",
	"line/upkeep Zone.UnmarshalText":                 "line/upkeep FuzzKinds",
	"units Parse":                                    "units FuzzParse",
	"units ParseStandardFlow":                        "units FuzzStandardFlow",
	"units StandardFlow.UnmarshalText":               "units FuzzStandardFlow",
	"units parse":                                    "units FuzzParse",
	"units unmarshal":                                "units FuzzParse",
	"units/compute Arg.Parse":                        "units/compute FuzzArgParse",
	"units/compute readItem":                         "units/compute FuzzItem",
	"units/known BandKind.UnmarshalText":             "units/known FuzzProvenance",
	"units/known Provenance.UnmarshalText":           "units/known FuzzProvenance",
	"units/known Validity.UnmarshalText":             "units/known FuzzProvenance",
	"units/known readName":                           "units/known FuzzProvenance",
}

// notFuzzed excuses functions that look like readers of text from outside.
var notFuzzed = map[string]string{
	"examples/internal/fillpage Parse":          "a program of the tree reads a page of the tree",
	"examples/survey parse":                     "the arguments of a program, by package flag",
	"examples/survey readFile":                  "reads bytes whatever they are",
	"examples/sweep load":                       "opens a folder; its files are those of line and line/survey",
	"examples/sweep/beam add.MergeAccumulators": "reads what the pipeline wrote itself",
	"internal/apicheck load":                    "reads the source of the tree",
	"internal/table decode":                     "tables that a package ships and its tests read",
	"internal/written Reads":                    "compares with the readers of the quantities",
	"ionflow read":                              "makes a source of a citation",
	"testdata parse":                            "rows of the tree, which tests read",
	"units/compute declaration.parse":           "declarations in the source of the library",
	"units/compute declaration.read":            "declarations in the source of the library",
}

// handsOn are calls that do the reading: an UnmarshalText with one of them is fuzzed with it.
var handsOn = map[string]string{
	"enum.Read": "internal/enum FuzzRead",
	"unmarshal": "units FuzzParse",
}

var readsText = regexp.MustCompile(`^([Pp]arse|[Rr]ead|[Uu]nmarshal|[Dd]ecode|[Ll]oad|[Ss]erve|[Mm]erge|[Oo]pen|Do$)`)

// TestEveryReaderIsFuzzed: whatever reads text, bytes or a stream from outside has a fuzz target.
func TestEveryReaderIsFuzzed(t *testing.T) {
	targets := fuzzTargets(t)
	seen := map[string]bool{}
	goFiles(t, func(file string, f *ast.File, fset *token.FileSet) {
		if strings.HasSuffix(file, "_test.go") || strings.HasPrefix(file, ".ci/") || strings.Contains(file, "/testdata/") ||
			strings.HasSuffix(path.Dir(file), "test") { // kits have models that break laws by reading wrongly
			return
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || !readsText.MatchString(fn.Name.Name) || !takesText(fn.Type.Params) {
				continue
			}
			name := path.Dir(file) + " " + receiver(fn) + fn.Name.Name
			seen[name] = true
			by := fuzzedBy[name]
			if by == "" && fn.Body != nil {
				ast.Inspect(fn.Body, func(n ast.Node) bool {
					if c, ok := n.(*ast.CallExpr); ok {
						if via := handsOn[callee(c)]; via != "" {
							by = via
						}
					}
					return true
				})
			}
			switch {
			case by == "" && notFuzzed[name] == "":
				t.Errorf("%s: %q reads text and has no fuzz target", fset.Position(fn.Pos()), name)
			case by != "" && !targets[by]:
				t.Errorf("%q: there is no target %q", name, by)
			}
		}
	})
	for _, list := range []map[string]string{fuzzedBy, notFuzzed} {
		for name := range list {
			if !seen[name] {
				t.Errorf("%q is listed, but no such function reads text", name)
			}
		}
	}
}

// TestEveryTargetHasACorpus: some inputs that fuzzing found are kept with each target, small ones, and run as tests.
func TestEveryTargetHasACorpus(t *testing.T) {
	targets := fuzzTargets(t)
	if len(targets) < 20 {
		t.Fatalf("%d fuzz targets found", len(targets))
	}
	for target := range targets {
		dir, name, _ := strings.Cut(target, " ")
		kept, err := filepath.Glob(filepath.Join(root, filepath.FromSlash(dir), "testdata", "fuzz", name, "*"))
		if err != nil || len(kept) == 0 {
			t.Errorf("%s: no kept inputs in testdata/fuzz/%s", target, name)
		}
		for _, k := range kept {
			b, err := os.ReadFile(k)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.HasPrefix(b, []byte("go test fuzz v1\n")) || len(b) > 8<<10 {
				t.Errorf("%s: %d bytes, want an input of at most 8 KiB as go test writes it", k, len(b))
			}
		}
	}
	kept, err := filepath.Glob(filepath.Join(root, "*", "*", "testdata", "fuzz", "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range kept {
		rel, _ := filepath.Rel(root, k)
		dir, name, _ := strings.Cut(filepath.ToSlash(rel), "/testdata/fuzz/")
		if !targets[dir+" "+name] {
			t.Errorf("%s: inputs of a target that is gone", k)
		}
	}
}

// fuzzTargets are "folder FuzzName" of the whole tree.
func fuzzTargets(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	goFiles(t, func(file string, f *ast.File, _ *token.FileSet) {
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && strings.HasSuffix(file, "_test.go") && fn.Recv == nil &&
				strings.HasPrefix(fn.Name.Name, "Fuzz") {
				out[path.Dir(file)+" "+fn.Name.Name] = true
			}
		}
	})
	return out
}

// receiver is "T." for a method of T or of *T.
func receiver(fn *ast.FuncDecl) string {
	if fn.Recv == nil {
		return ""
	}
	x := fn.Recv.List[0].Type
	if p, ok := x.(*ast.StarExpr); ok {
		x = p.X
	}
	if g, ok := x.(*ast.IndexExpr); ok {
		x = g.X
	}
	if id, ok := x.(*ast.Ident); ok {
		return id.Name + "."
	}
	return "?."
}

func callee(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok {
			return x.Name + "." + f.Sel.Name
		}
	}
	return ""
}

// takesText tells a parameter that is a string, bytes or a reader.
func takesText(l *ast.FieldList) bool {
	return slices.ContainsFunc(l.List, func(f *ast.Field) bool {
		switch x := f.Type.(type) {
		case *ast.Ident:
			return x.Name == "string"
		case *ast.ArrayType:
			id, ok := x.Elt.(*ast.Ident)
			return ok && (id.Name == "byte" || id.Name == "string")
		case *ast.SelectorExpr:
			return x.Sel.Name == "Reader"
		case *ast.StarExpr:
			s, ok := x.X.(*ast.SelectorExpr)
			return ok && s.Sel.Name == "Reader"
		}
		return false
	})
}
