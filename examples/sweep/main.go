// Command sweep runs a design sweep on as many machines as there are, without any of
// them knowing of the others: each works the blocks of its shard and writes one file,
// and the files add up exactly, in any order.
//
//	sweep -n 1000000 -shard 1/4 -out part1.jsonl     # on each machine its own shard
//	sweep -merge part1.jsonl part2.jsonl …           # the study, bit for bit as from one machine
//
// A scenario draws one line from what the survey of the invented film slitter leaves
// open and runs it at one speed between 50 and 400 m/min; the study counts how far the
// greatest net charge lies from the limit, and where. A file is written whole or not at
// all: a machine that fails leaves nothing, and its shard is run again. A study of 1e9
// scenarios is 1,000 shards of 1e6; the program prints what a scenario costs, from which the
// hours follow. It has been run on one machine, not on a cluster.
package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

func main() {
	n := flag.Uint64("n", 100_000, "scenarios of the whole study")
	shard := flag.String("shard", "1/1", "which part to work, `i/n`")
	out := flag.String("out", "", "file for the part, JSON lines; empty: standard output")
	merge := flag.Bool("merge", false, "add up the files that follow")
	demo := flag.String("demo", "../survey/demo", "folder with line.json and survey.csv")
	flag.Parse()
	var err error
	if *merge {
		err = mergeFiles(flag.Args(), os.Stdout)
	} else {
		err = work(*demo, *n, *shard, *out, os.Stdout, os.Stderr)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "sweep:", err)
		os.Exit(1)
	}
}

// load builds the study; its key changes with the input.
func load(demo string) (*Study, error) {
	l, err := os.ReadFile(filepath.Join(demo, "line.json"))
	if err != nil {
		return nil, err
	}
	r, err := os.ReadFile(filepath.Join(demo, "survey.csv"))
	if err != nil {
		return nil, err
	}
	d, err := line.ReadDescription(bytes.NewReader(l))
	if err != nil {
		return nil, err
	}
	built, err := line.New(d)
	if err != nil {
		return nil, err
	}
	s, err := survey.ReadSurvey(bytes.NewReader(r))
	if err != nil {
		return nil, err
	}
	g, err := survey.Diagnose(built, s)
	if err != nil {
		return nil, err
	}
	h := sha256.Sum256(append(append([]byte("sweep 1\n"), l...), r...))
	return &Study{diagnosis: g, limit: float64(built.Limit()), Key: fmt.Sprintf("%x", h[:8])}, nil
}

func work(demo string, n uint64, shard, out string, stdout, stderr io.Writer) error {
	var i, of uint64
	if k, err := fmt.Sscanf(shard, "%d/%d", &i, &of); k != 2 || err != nil || i < 1 || i > of || of > 1e6 {
		return fmt.Errorf("-shard: %q: want i/n with 1 ≤ i ≤ n ≤ 1000000", shard)
	}
	if n == 0 || n > 1<<40 {
		return fmt.Errorf("-n: %d: want 1 … %d", n, uint64(1)<<40)
	}
	s, err := load(demo)
	if err != nil {
		return err
	}
	start := time.Now()
	blocks, err := s.shard(n, i, of)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	var done uint64
	for k := range blocks {
		line, err := json.Marshal(blocks[k])
		if err != nil {
			return err
		}
		b.Write(append(line, '\n'))
		done += blocks[k].To - blocks[k].From
	}
	if out == "" {
		_, err = stdout.Write(b.Bytes())
	} else {
		err = whole(out, b.Bytes())
	}
	if err == nil && done > 0 {
		took := time.Since(start)
		fmt.Fprintf(stderr, "%d scenarios in %.2f s on %d processors: %.1f µs each, 1e9 take %.1f machine hours like this\n",
			done, took.Seconds(), runtime.GOMAXPROCS(0), took.Seconds()/float64(done)*1e6, took.Seconds()/float64(done)*1e9/3600)
	}
	return err
}

// shard works every block whose number leaves i−1 when divided by of, on all processors.
func (s *Study) shard(n, i, of uint64) ([]Block, error) {
	var numbers []uint64
	for k := i - 1; k*blockOf < n; k += of {
		numbers = append(numbers, k)
	}
	blocks, errs := make([]Block, len(numbers)), make([]error, len(numbers))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			w := worker{study: s}
			for {
				k := int(next.Add(1)) - 1
				if k >= len(numbers) {
					return
				}
				from := numbers[k] * blockOf
				blocks[k], errs[k] = w.block(from, min(from+blockOf, n))
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return blocks, nil
}

// whole writes the file or nothing.
func whole(path string, b []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".sweep-*")
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

func mergeFiles(names []string, out io.Writer) error {
	var all []Block
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		d := json.NewDecoder(bufio.NewReader(f))
		d.DisallowUnknownFields()
		for {
			var b Block
			if err := d.Decode(&b); err == io.EOF {
				break
			} else if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			all = append(all, b)
		}
	}
	sum, err := Merge(all)
	if err != nil {
		return err
	}
	return json.NewEncoder(out).Encode(sum)
}
