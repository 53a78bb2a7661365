package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/sweep/study"
)

const (
	demo = "../survey/demo"
	n    = 3*study.BlockOf + 77
)

// TestShardsAddUp: however the study is split and in whatever order the parts come, the
// sum has the same bits as from one machine.
func TestShardsAddUp(t *testing.T) {
	one := ""
	for _, of := range []int{1, 2, 5} {
		dir := t.TempDir()
		var files []string
		for i := 1; i <= of; i++ {
			f := filepath.Join(dir, fmt.Sprint(i))
			if err := work(demo, 1, n, fmt.Sprintf("%d/%d", i, of), f, io.Discard, io.Discard); err != nil {
				t.Fatal(err)
			}
			files = append(files, f)
		}
		rand.Shuffle(len(files), func(i, j int) { files[i], files[j] = files[j], files[i] })
		var out bytes.Buffer
		if err := mergeFiles(files, &out); err != nil {
			t.Fatal(err)
		}
		if one == "" {
			one = out.String()
		}
		if out.String() != one {
			t.Errorf("%d shards: %s, want %s", of, out.String(), one)
		}
		if left, _ := filepath.Glob(filepath.Join(dir, ".sweep-*")); len(left) > 0 {
			t.Errorf("left behind: %v", left)
		}
	}
	if !strings.Contains(one, fmt.Sprintf(`"from":0,"to":%d`, n)) {
		t.Errorf("%s", one)
	}
}

// TestWrongPartsAreRefused: a sum that is not the study is never printed.
func TestWrongPartsAreRefused(t *testing.T) {
	s, err := load(demo, 1)
	if err != nil {
		t.Fatal(err)
	}
	b, err := shardOf(s, n, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	var counted int64
	sum, err := study.Merge(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range sum.Bins {
		counted += k
	}
	if counted != n {
		t.Errorf("%d scenarios counted", counted)
	}
	other := b[1]
	other.Study = "x"
	longer := b[1]
	longer.Of++
	for want, parts := range map[string][]study.Block{"missing": {b[0], b[2], b[3]}, "12288 … 12365 are missing": b[:3],
		"8192 are of a study of 12366, others of 12365": {b[0], longer},
		"twice":         {b[0], b[1], b[1], b[2], b[3]},
		"another study": {b[0], other}, "no blocks": nil, "another form": {{Study: b[0].Study, To: 4}}} {
		if _, err := study.Merge(parts); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	f := filepath.Join(t.TempDir(), "half")
	if err := os.WriteFile(f, []byte(`{"study":"x","from":0,"to":4096,"bins":[1,2`), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := mergeFiles([]string{f}, io.Discard); err == nil {
		t.Error("half a file is merged")
	}
	for _, bad := range []string{"", "0/2", "3/2", "1", "a/b", "1/2x", "1/2/3", "-1/2", "1 /2"} {
		if err := work(demo, 1, n, bad, "", io.Discard, io.Discard); err == nil {
			t.Errorf("shard %q is taken", bad)
		}
	}
}
