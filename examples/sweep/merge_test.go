package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"example.org/sweep/study"
)

// FuzzMerge: no file makes the merge panic, and what it prints has every scenario from 0 once.
func FuzzMerge(f *testing.F) {
	for _, s := range []string{"", "{}", "null", "[", `{"study":"x","from":0,"to":4,"bins":[1],"worst":[]}`,
		`{"study":"x","from":0,"to":18446744073709551615,"bins":null,"worst":null,"most":1e308,"scenario":0}`,
		`{"study":"x","from":5,"to":4}`, `{"study":"x","from":-1}`, `{"more":1}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		name := filepath.Join(t.TempDir(), "part")
		if err := os.WriteFile(name, b, 0o600); err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := mergeFiles([]string{name}, &out); err != nil {
			if out.Len() > 0 {
				t.Fatalf("%q: printed %q beside %v", b, out.String(), err)
			}
			return
		}
		var sum study.Block
		if err := json.Unmarshal(out.Bytes(), &sum); err != nil || sum.From != 0 || sum.To == 0 {
			t.Fatalf("%q: %q, %v", b, out.String(), err)
		}
	})
}
