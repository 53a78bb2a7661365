package main

import (
	"bytes"
	"context"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/log"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/testing/ptest"

	"example.org/sweep/study"
)

const demo = "../../survey/demo"

func TestMain(m *testing.M) {
	log.LogLevel = "warn"
	ptest.Main(m)
}

// TestSameBits: the pipeline on Beam's embedded runner writes what the plain program prints for its merged shards, byte
// for byte.
func TestSameBits(t *testing.T) {
	const n = 3*study.BlockOf + 77
	dir := t.TempDir()
	plain := filepath.Join(dir, "sweep")
	if b, err := exec.Command("go", "build", "-C", "..", "-o", plain, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, b)
	}
	for _, speeds := range []int{1, 3} {
		arguments := []string{"-merge"}
		for _, shard := range []string{"2/2", "1/2"} {
			part := filepath.Join(dir, shard[:1]+".jsonl")
			c := exec.Command(plain, "-n", strconv.Itoa(n), "-speeds", strconv.Itoa(speeds), "-demo", demo, "-shard", shard,
				"-out", part)
			if b, err := c.CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, b)
			}
			arguments = append(arguments, part)
		}
		want, err := exec.Command(plain, arguments...).Output()
		if err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(dir, "study.json")
		if err := run(t.Context(), demo, speeds, n, out, io.Discard); err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%d speeds: Beam: %s\nplain: %s", speeds, got, want)
		}
	}
}

// TestGroups: every block comes once, also when there are more than a group holds.
func TestGroups(t *testing.T) {
	for _, blocks := range []uint64{1, perGroup - 1, perGroup, perGroup + 1, 3*perGroup + 5} {
		seen := map[uint64]int{}
		for g := uint64(0); g*perGroup < blocks; g++ {
			(&spread{Blocks: blocks}).ProcessElement(g, func(k uint64) { seen[k]++ })
		}
		for k := range blocks {
			if seen[k] != 1 {
				t.Fatalf("%d blocks: block %d comes %d times", blocks, k, seen[k])
			}
		}
		if uint64(len(seen)) != blocks {
			t.Errorf("%d blocks: %d came", blocks, len(seen))
		}
	}
}

// TestHalfASum: a sum that lacks scenarios, or has them twice, is not written.
func TestHalfASum(t *testing.T) {
	for _, s := range []string{`{`, `{"block":{},"of":0}`, `{"block":{"from":0,"to":10,"of":10},"of":9}`,
		`{"block":{"from":0,"to":10,"of":10},"of":11}`, `{"block":{"from":1,"to":11,"of":10},"of":10}`,
		`{"block":{"from":0,"to":10,"of":11},"of":10}`} {
		if got, err := whole(10, s); err == nil {
			t.Errorf("%s is written as %s", s, got)
		}
	}
	got, err := whole(10, `{"block":{"from":0,"to":10,"of":10},"of":10}`)
	if err != nil || !strings.Contains(got, `"to":10`) {
		t.Errorf("%q, %v", got, err)
	}
}

// TestWrongInput: what is wrong is told before a pipeline runs.
func TestWrongInput(t *testing.T) {
	out := filepath.Join(t.TempDir(), "study.json")
	for want, f := range map[string]func() error{
		"-out":   func() error { return run(t.Context(), demo, 1, 10, "", io.Discard) },
		"-n":     func() error { return run(t.Context(), demo, 1, 0, out, io.Discard) },
		"speeds": func() error { return run(t.Context(), demo, 0, 10, out, io.Discard) },
		"absent": func() error { return run(t.Context(), "absent", 1, 10, out, io.Discard) },
	} {
		if err := f(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("a file is left")
	}
}

// used is the processor time of this process so far.
func used(t *testing.T) time.Duration {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		t.Fatal(err)
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}

// TestThroughput: with scenarios of 1 ms the pipeline does at least 80 % of what the same workers do without Beam on as
// many goroutines, by the clock and by the processor time. Up to three pairs are tried: the machine may be loaded.
func TestThroughput(t *testing.T) {
	if os.Getenv("SWEEP_THROUGHPUT") == "" {
		t.Skip("a few minutes: SWEEP_THROUGHPUT=1")
	}
	const n = 12 * study.BlockOf
	read := func(name string) string {
		b, err := os.ReadFile(filepath.Join(demo, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	j := job{Line: read("line.json"), Survey: read("survey.csv"), N: n, Speeds: 100}
	each := func() float64 { // [s] of processor time a scenario
		s, err := j.study()
		if err != nil {
			t.Fatal(err)
		}
		before := used(t)
		if _, err := s.NewWorker(n).Block(0, 1000); err != nil {
			t.Fatal(err)
		}
		return (used(t) - before).Seconds() / 1000
	}
	for each() < 1e-3 {
		j.Speeds += j.Speeds / 4
	}
	direct := func() {
		s, err := j.study()
		if err != nil {
			t.Fatal(err)
		}
		var next atomic.Uint64
		var wg sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			wg.Go(func() {
				w := s.NewWorker(n)
				for to := next.Add(study.BlockOf); to <= n; to = next.Add(study.BlockOf) {
					if _, err := w.Block(to-study.BlockOf, to); err != nil {
						t.Error(err)
					}
				}
			})
		}
		wg.Wait()
	}
	piped := func() {
		out := filepath.Join(t.TempDir(), "study.json")
		if err := run(context.Background(), demo, j.Speeds, n, out, io.Discard); err != nil {
			t.Fatal(err)
		}
	}
	timed := func(f func()) (wall, cpu float64) {
		start, before := time.Now(), used(t)
		f()
		return time.Since(start).Seconds(), (used(t) - before).Seconds()
	}
	bestWall, bestCPU := 0.0, 0.0
	for range 3 {
		dw, dc := timed(direct)
		bw, bc := timed(piped)
		t.Logf("%d scenarios at %d speeds: direct %.2f s, %.0f µs of processor each; Beam %.2f s, %.0f µs",
			n, j.Speeds, dw, dc/n*1e6, bw, bc/n*1e6)
		bestWall, bestCPU = math.Max(bestWall, dw/bw), math.Max(bestCPU, dc/bc)
		if bestWall >= 0.8 && bestCPU >= 0.8 {
			break
		}
	}
	t.Logf("Beam does %.0f %% of the direct throughput by the clock, %.0f %% by the processor", 100*bestWall, 100*bestCPU)
	if bestWall < 0.8 || bestCPU < 0.8 {
		t.Error("less than 80 %")
	}
}
