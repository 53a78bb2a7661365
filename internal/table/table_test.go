package table_test

import (
	"errors"
	"strings"
	"testing"
	"testing/fstest"

	"example.org/pithball/internal/table"
	"example.org/pithball/units/known"
)

type entry struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	known.Origin
}

var files = fstest.MapFS{
	"data/good.json": {Data: []byte(`[
		{"name": "amber", "value": 1, "source": {"provenance": "published", "cite": "x"}, "condition": "dry", "licence": "facts only"},
		{"name": "wool", "value": 2, "source": {"provenance": "memory", "cite": "y"}, "condition": "dry", "licence": "facts only"}]`)},
	"data/bad.json": {Data: []byte(`[{"name": "amber", "worth": 1}]`)},
}

func origin(e *entry) *known.Origin { return &e.Origin }

func key(e *entry) (string, *known.Origin) { return e.Name, &e.Origin }

func TestTable(t *testing.T) {
	good := table.File[entry]{Files: files, Name: "good.json"}
	rows := good.Rows()
	if len(rows) != 2 || rows[1].Value != 2 {
		t.Fatalf("%+v", rows)
	}
	if got := table.Heavy(rows, origin, known.Published); len(got) != 1 || got[0].Name != "amber" {
		t.Errorf("published: %+v", got)
	}
	if got := table.Heavy(rows, origin, known.Memory); len(got) != 2 {
		t.Errorf("all: %+v", got)
	}
	if e, err := table.Find("thing", rows, key, "AMBER", known.Published); err != nil || e.Value != 1 {
		t.Errorf("%+v, %v", e, err)
	}
	var f *known.FieldError
	if _, err := table.Find("thing", rows, key, "wool", known.Published); !errors.As(err, &f) ||
		!strings.Contains(f.Want, "memory") {
		t.Errorf("a memory row: %v", err)
	}
	if _, err := table.Find("thing", rows, key, "silk", known.Published); !errors.As(err, &f) || f.Want != "one of amber" {
		t.Errorf("unknown: %v", err)
	}
}

// A bad file of the package itself panics and names the file.
func TestBadFile(t *testing.T) {
	for _, name := range []string{"bad.json", "none.json"} {
		func() {
			defer func() {
				if s, ok := recover().(string); !ok || !strings.Contains(s, name) {
					t.Errorf("%s: %q", name, s)
				}
			}()
			(&table.File[entry]{Files: files, Name: name}).Rows()
			t.Errorf("%s was read", name)
		}()
	}
}
