package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/pithball/decay/sheet"
)

// others are the results of programs that do the same work: numpy 1.24.2 and scipy 1.10.1 (dgbsv and Newton for p1,
// solve_bvp for p1b, scipy.fft for p2, array expressions and Newton for p3 and p6, PCG64 and ziggurat for p4, batched
// inverses for p5), without their times.
func others(t *testing.T) (list []result) {
	b, err := os.ReadFile("testdata/others.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	for l := range bytes.Lines(b) {
		var r result
		if err := json.Unmarshal(l, &r); err != nil {
			t.Fatal(err)
		}
		list = append(list, r)
	}
	return list
}

// TestSameWork: every result agrees with that of another program within what the work allows.
func TestSameWork(t *testing.T) {
	them := others(t)
	for _, p := range pieces {
		if testing.Short() && (p.name == "p2" || p.name == "p4") {
			continue
		}
		for _, w := range p.works() {
			if strings.Contains(w.name, "enhanced") {
				continue // nobody else has it
			}
			b, err := json.Marshal(w.run())
			if err != nil {
				t.Fatal(w.name, err)
			}
			n := 0
			forms := append(peersOf[w.name], w.name)
			for _, o := range them {
				for _, f := range forms {
					if o.Name == f && (o.N == w.n || p.name == "p1b") {
						n++
						if err := agree(w.name, b, o.Digest); err != nil {
							t.Errorf("%s: %v", w.name, err)
						}
					}
				}
			}
			if n == 0 {
				t.Errorf("%s is compared with nothing", w.name)
			}
		}
	}
}

// TestAgreeCanFail: a change in the last digit that counts is seen.
func TestAgreeCanFail(t *testing.T) {
	for _, c := range []struct{ name, ours, theirs string }{
		{"p1_ion_bvp/B", `{"Jp_w":0,"Jn_w":1,"V_w":2}`, `{"Jp_w":1e-40,"Jn_w":1.00000003,"V_w":2}`},
		{"p1_ion_bvp/B", `{"Jp_w":1e-3,"Jn_w":1}`, `{"Jp_w":0,"Jn_w":1}`},
		{"p2_sheet_decay/x", `{"t0":[1,-1,0.5]}`, `{"t0":[1,-1,0.50000000001]}`},
		{"p3_psychro/1core", `{"mean_td":3.4}`, `{"mean_td":3.401}`},
		{"p4_line_mc/1core", `{"q_station_0":[1,2,3]}`, `{"q_station_0":[1,2.02,3]}`},
		{"p5_fit/each", `{"set0":[1,2]}`, `{"set0":[1.0000001,2]}`},
		{"p6_paschen/1core", `{"mean_sigma_max":1}`, `{"mean_sigma_max":1.001}`},
	} {
		if agree(c.name, json.RawMessage(c.ours), json.RawMessage(c.theirs)) == nil {
			t.Errorf("%s: %s is taken for %s", c.name, c.ours, c.theirs)
		}
	}
}

// TestMapsByHand compares a small map with the sum over its waves, written out.
func TestMapsByHand(t *testing.T) {
	const n, d, eps, rho, e0 = 16, 1e-3, 3, 1e12, 8.8541878188e-12
	law, err := sheet.NewSheet(sheet.SheetSpec{Thickness: d, RelativePermittivity: eps, SurfaceResistivity: rho})
	if err != nil {
		t.Fatal(err)
	}
	q := make([]float64, n)
	for i := range q {
		q[i] = 1e-5 * (2*uniform(201, i) - 1)
	}
	got := decayed(law, q, 1, [][]float64{make([]float64, n)})
	for _, j := range []int{0, 10, 19} {
		time := 0.1 * math.Pow(10, 3*float64(j)/19)
		want := 0.0
		for m := range n {
			k := 2 * math.Pi * math.Min(float64(m), float64(n-m)) / (n * 1e-4)
			rate := 0.0
			if k > 0 {
				rate = k / (rho * e0 * (1 + eps/math.Tanh(k*d)))
			}
			for i, v := range q {
				want += v / n * math.Exp(-rate*time) * math.Cos(2*math.Pi*float64(m*i)/n)
			}
		}
		if !(math.Abs(got[j][2]-want) <= 1e-15*1e-5*n) {
			t.Errorf("%v s: %v, by hand %v", time, got[j][2], want)
		}
	}
}

// TestInputs: the portable generator gives the numbers of its definition.
func TestInputs(t *testing.T) {
	for i, want := range []float64{0.6548893270362852, 0.46305873441982515, 0.8911349353141198} {
		if got := uniform(201, i); got != want {
			t.Errorf("u(%d) = %v, want %v", i, got, want)
		}
	}
	for i, want := range []float64{-0.41685231695092173, -1.853475291831923, -1.373014984473005} {
		if got := normal(502, i); !(math.Abs(got-want) <= 1e-15) {
			t.Errorf("z(%d) = %v, want %v", i, got, want)
		}
	}
}

// TestTable: a folder of other programs gives a table with their least time; one that is not there is named, one whose
// result differs is an error.
func TestTable(t *testing.T) {
	python := "/usr/bin/python3"
	if _, err := os.Stat(python); err != nil {
		t.Skip(err)
	}
	dir := t.TempDir()
	script := func(rms string) {
		text := `print('{"name":"p5_fit/gaussian_batched","n":1000,"seconds_min":5,"seconds_median":6,` +
			`"result_digest":{"rms_error":` + rms + `}}')`
		if err := os.WriteFile(filepath.Join(dir, "p5_fit.py"), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var out, errs strings.Builder
	script("8.94069431827e-07")
	if err := run(&out, &errs, "p5,p6", dir, python, 1); err != nil {
		t.Fatal(err)
	}
	if s := out.String(); !strings.Contains(s, "| p5_fit/each | 1000 | 1 |") ||
		!strings.Contains(s, "| 5e+03 | p5_fit/gaussian_batched |") ||
		!strings.Contains(s, "not run") || !strings.Contains(errs.String(), "p6_paschen.py left out") {
		t.Errorf("%s\n%s", s, errs.String())
	}
	script("8.95e-07")
	if err := run(&out, &errs, "p5", dir, python, 1); err == nil || !strings.Contains(err.Error(), "rms_error") {
		t.Errorf("another result passes: %v", err)
	}
	if err := run(&out, &errs, "p7", "", "", 1); err == nil {
		t.Error("p7 is taken")
	}
}
