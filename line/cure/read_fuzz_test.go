package cure_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"example.org/pithball/line/cure"
	"example.org/pithball/line/upkeep"
)

// FuzzReadGoods: no file makes the reader or the route panic, there is nothing beside an error, and the charge of a
// route
// that is accepted is finite.
func FuzzReadGoods(f *testing.F) {
	files, err := filepath.Glob("../../examples/survey/demo/*.json")
	if err != nil || len(files) == 0 {
		f.Fatal("no files", err)
	}
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		if bytes.Contains(b, []byte(cure.GoodsSchema)) {
			f.Add(b)
		}
	}
	for _, s := range []string{"", "{}", "\ufeff[]", `{"schema":"pithball goods 1","kind":"sheet","rate":1e-9}`,
		`{"schema":"pithball goods 1","kind":"dose","mass":"1 g","stages":[{}]}`} {
		f.Add([]byte(s))
	}
	site := &cure.Site{Safety: upkeep.SafetyAnswers{Zone: upkeep.NoZone, Flammables: upkeep.NoFlammables,
		DecidedBy: "a test"}}
	f.Fuzz(func(t *testing.T, b []byte) {
		g, err := cure.ReadGoods(bytes.NewReader(b))
		if err != nil {
			if g != nil {
				t.Fatal("goods beside an error")
			}
			return
		}
		r, err := cure.NewRoute(g, site)
		if err != nil {
			if r != nil {
				t.Fatal("a route beside an error")
			}
			return
		}
		for _, s := range r.Predict(0) {
			if v := s.Charge[0] + s.Charge[2]; math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v", s)
			}
		}
	})
}

// FuzzChanges reads any text as the lists of changes, the cure of goods and three quantiles: what is read is written
// and
// reads back to the same text, and a list that is refused is as it was.
func FuzzChanges(f *testing.F) {
	for _, s := range []string{`[]`, `[{"do":"earth","at":"nip"}]`, `[{"do":"run","speed":"50 m/min"}]`, `[{"do":1}]`,
		`[{}]`, `null`,
		`{"do":"moisten"}`, `{"Change":{"do":"warm"}}`, `[1,null,3]`, `[1,2]`, `[{"do":"earth","do":"run"}]`} {
		f.Add([]byte(s))
	}
	if b, err := os.ReadFile("../../examples/survey/demo/changes.json"); err == nil {
		var file struct{ Changes json.RawMessage }
		if err := json.Unmarshal(b, &file); err != nil {
			f.Fatal(err)
		}
		f.Add([]byte(file.Changes))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		back := func(x, y any) {
			text, err := json.Marshal(x)
			if err != nil {
				t.Fatalf("%s: %+v is not written: %v", b, x, err)
			}
			if err := json.Unmarshal(text, y); err != nil {
				t.Fatalf("%s: %s is not read: %v", b, text, err)
			}
			if again, err := json.Marshal(y); err != nil || !bytes.Equal(again, text) {
				t.Fatalf("%s: %s comes back as %s, %v", b, text, again, err)
			}
		}
		c := cure.Changes{nil}
		if err := json.Unmarshal(b, &c); err == nil {
			back(c, new(cure.Changes))
		} else if len(c) != 1 || c[0] != nil {
			t.Fatalf("%s: %v and %v", b, c, err)
		}
		var g cure.GoodsCure
		if json.Unmarshal(b, &g) == nil && g.Step != 0 { // a cure has a step
			back(g, new(cure.GoodsCure))
		}
		var q cure.Quantiles
		if json.Unmarshal(b, &q) == nil {
			back(q, new(cure.Quantiles))
		}
	})
}
