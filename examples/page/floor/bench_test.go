package floor

import (
	"encoding/json"
	"os"
	"testing"
)

func demo(t testing.TB) []byte {
	l, err := os.ReadFile("../../survey/demo/line.json")
	if err != nil {
		t.Fatal(err)
	}
	s, err := os.ReadFile("../../survey/demo/survey.csv")
	if err != nil {
		t.Fatal(err)
	}
	q, _ := json.Marshal(texts{string(l), string(s)})
	return Do("open", q)
}

func BenchmarkAnswer(b *testing.B) {
	in := demo(b)
	for b.Loop() {
		Do("answer", in)
	}
}
