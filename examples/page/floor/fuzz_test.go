package floor

import (
	"encoding/json"
	"os"
	"testing"
)

// FuzzDo puts any text to every request of the page: each is answered with JSON, and nothing panics. What computes for
// seconds is asked only what it can refuse.
func FuzzDo(f *testing.F) {
	requests := []string{"start", "fill", "answer", "try", "plan", "compare", "forecast", "goods", "keep", "open",
		"save", "expect",
		"report", "nothing of that name"}
	l, err := os.ReadFile("../../survey/demo/line.json")
	if err != nil {
		f.Fatal(err)
	}
	s, err := os.ReadFile("../../survey/demo/survey.csv")
	if err != nil {
		f.Fatal(err)
	}
	q, err := json.Marshal(texts{string(l), string(s[:1500])})
	if err != nil {
		f.Fatal(err)
	}
	for i := range requests {
		f.Add(byte(i), []byte(`{}`))
		f.Add(byte(i), []byte(`null`))
		f.Add(byte(i), []byte(`{"line":{"stations":[{"name":"x","kind":"winder","at":"1 m"}]},"rows":[{}]}`))
	}
	f.Add(byte(9), q)
	f.Add(byte(9), []byte(`{"survey":"a\nb"}`))
	f.Fuzz(func(t *testing.T, which byte, in []byte) {
		name := requests[int(which)%len(requests)]
		if out := Do(name, in); !json.Valid(out) {
			t.Fatalf("%s %q: %q", name, in, out)
		}
	})
}
