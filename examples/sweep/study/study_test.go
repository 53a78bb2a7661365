package study

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func demo(t *testing.T, speeds int) *Study {
	t.Helper()
	read := func(name string) string {
		b, err := os.ReadFile(filepath.Join("../../survey/demo", name))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	s, err := New(read("line.json"), read("survey.csv"), speeds)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSumsInAnyGrouping: sums by twos, in any order and through JSON, give what Merge gives; and a scenario depends on
// nothing but its number.
func TestSumsInAnyGrouping(t *testing.T) {
	const n, step = 1000, 37
	s := demo(t, 2)
	w := s.NewWorker(n)
	var blocks []Block
	var sums []Sum
	for from := uint64(0); from < n; from += step {
		b, err := w.Block(from, min(from+step, n))
		if err != nil {
			t.Fatal(err)
		}
		blocks, sums = append(blocks, b), append(sums, Sum{b, b.To - b.From})
	}
	want, err := Merge(blocks)
	if err != nil {
		t.Fatal(err)
	}
	if one, err := s.NewWorker(n).Block(0, n); err != nil || !cmp.Equal(one, want) {
		t.Fatalf("one block: %+v, %v, want %+v", one, err, want)
	}
	for range 5 {
		rest := append([]Sum{{}}, sums...)
		for len(rest) > 1 {
			rand.Shuffle(len(rest), func(i, j int) { rest[i], rest[j] = rest[j], rest[i] })
			sum, err := rest[0].Plus(rest[1])
			if err != nil {
				t.Fatal(err)
			}
			text, err := json.Marshal(sum)
			if err != nil {
				t.Fatal(err)
			}
			var back Sum
			if err := json.Unmarshal(text, &back); err != nil {
				t.Fatal(err)
			}
			rest = append(rest[2:], back)
		}
		got, err := rest[0].Whole(n)
		if err != nil || !cmp.Equal(got, want) {
			t.Fatalf("%+v, %v, want %+v", got, err, want)
		}
	}
	if _, err := sums[0].Whole(n); err == nil {
		t.Error("a part passes for the whole")
	}
	other := sums[1]
	other.Block.Study = "x"
	if _, err := sums[0].Plus(other); err == nil || !strings.Contains(err.Error(), "another study") {
		t.Errorf("%v", err)
	}
}

// TestMoreSpeeds: more speeds of the same line find no smaller charge, and make another study.
func TestMoreSpeeds(t *testing.T) {
	one, ten := demo(t, 1), demo(t, 10)
	if one.Key == ten.Key {
		t.Error("both have the same key")
	}
	a, b := one.NewWorker(200), ten.NewWorker(200)
	more := 0
	for i := range uint64(200) {
		x, _, err := a.scenario(i)
		if err != nil {
			t.Fatal(err)
		}
		y, _, err := b.scenario(i)
		if err != nil {
			t.Fatal(err)
		}
		if y < x {
			t.Errorf("scenario %d: %g at ten speeds, %g at one", i, y, x)
		}
		if y > x {
			more++
		}
	}
	if more < 150 {
		t.Errorf("%d of 200 have more at ten speeds", more)
	}
	for _, bad := range []int{-1, 0, MostSpeeds + 1} {
		if _, err := New("", "", bad); err == nil || !strings.Contains(err.Error(), "speeds") {
			t.Errorf("%d speeds: %v", bad, err)
		}
	}
}

// TestBins: by hand; eight bins to a doubling about the limit, the ends take all beyond.
func TestBins(t *testing.T) {
	for ratio, want := range map[float64]int{1: 24, 2: 32, 0.5: 16, 1.0905: 24, 1.0906: 25, 0.9999: 23, 0: 0, 1e-9: 0,
		1e9: 47} {
		if got := Bin(ratio); got != want {
			t.Errorf("%g: bin %d, want %d", ratio, got, want)
		}
	}
}

// TestCost: 3,600 scenarios in 36 s are 10 ms each; 1e9 of them take 1e7 s, 2,777.8 h.
func TestCost(t *testing.T) {
	for _, want := range []string{"3600 scenarios in 36.00 s", "10000.0 µs each", "2777.8 machine hours"} {
		if got := Cost(3600, 36*time.Second); !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
}
