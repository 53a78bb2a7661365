// Command sweep runs a design sweep on as many machines as there are, without any of
// them knowing of the others: each works the blocks of its shard and writes one file,
// and the files add up exactly, in any order.
//
//	sweep -n 1000000 -shard 1/4 -out part1.jsonl     # on each machine its own shard
//	sweep -merge part1.jsonl part2.jsonl …           # the study, bit for bit as from one machine
//
// A scenario draws one line from what the survey of the invented film slitter leaves
// open and runs it at -speeds speeds between 50 and 400 m/min; the study counts how far
// the greatest net charge lies from the limit, and where. A file is written whole or not
// at all: a machine that fails leaves nothing, and its shard is run again. The folder
// beam, a module of its own, has the same study as a pipeline of Apache Beam. The README
// says how a study of 1e9 scenarios is split and what it costs. Both have been run on one
// machine, not on a cluster.
package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"example.org/pithball/examples/outfile"
	"example.org/sweep/study"
)

func main() {
	n := flag.Uint64("n", 100_000, "scenarios of the whole study")
	shard := flag.String("shard", "1/1", "which part to work, `i/n`")
	out := flag.String("out", "", "file for the part, JSON lines; empty: standard output")
	merge := flag.Bool("merge", false, "add up the files that follow")
	demo := flag.String("demo", "../survey/demo", "folder with line.json and survey.csv")
	speeds := flag.Int("speeds", 1, "speeds at which a scenario runs its line")
	flag.Parse()
	var err error
	if !*merge && flag.NArg() > 0 {
		err = fmt.Errorf("%q: want flags only, or -merge and files", flag.Arg(0)) // flags behind it would go unread
	} else if *merge {
		err = mergeFiles(flag.Args(), os.Stdout)
	} else {
		err = work(*demo, *speeds, *n, *shard, *out, os.Stdout, os.Stderr)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "sweep:", err)
		os.Exit(1)
	}
}

// load builds the study from a folder.
func load(demo string, speeds int) (*study.Study, error) {
	l, err := os.ReadFile(filepath.Join(demo, "line.json"))
	if err != nil {
		return nil, err
	}
	r, err := os.ReadFile(filepath.Join(demo, "survey.csv"))
	if err != nil {
		return nil, err
	}
	return study.New(string(l), string(r), speeds)
}

func work(demo string, speeds int, n uint64, shard, out string, stdout, stderr io.Writer) error {
	a, b, _ := strings.Cut(shard, "/")
	i, errI := strconv.ParseUint(a, 10, 64)
	of, errOf := strconv.ParseUint(b, 10, 64)
	if errI != nil || errOf != nil || i < 1 || i > of || of > 1e6 {
		return fmt.Errorf("-shard: %q: want i/n with 1 ≤ i ≤ n ≤ 1000000", shard)
	}
	if n == 0 || n > 1<<40 {
		return fmt.Errorf("-n: %d: want 1 … %d", n, uint64(1)<<40)
	}
	s, err := load(demo, speeds)
	if err != nil {
		return err
	}
	inputs := []string{filepath.Join(demo, "line.json"), filepath.Join(demo, "survey.csv")}
	if out != "" {
		if err := outfile.Check(out, inputs...); err != nil { // before hours of work
			return fmt.Errorf("-out: %w", err)
		}
	}
	start := time.Now()
	blocks, err := shardOf(s, n, i, of)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	var done uint64
	for k := range blocks {
		line, err := json.Marshal(blocks[k])
		if err != nil {
			return err
		}
		text.Write(append(line, '\n'))
		done += blocks[k].To - blocks[k].From
	}
	if out == "" {
		_, err = stdout.Write(text.Bytes())
	} else {
		_, err = outfile.Write(out, text.Bytes(), inputs...)
	}
	if err == nil && done > 0 {
		took := time.Since(start)
		fmt.Fprintln(stderr, study.Cost(done, took))
	}
	return err
}

// shardOf works every block whose number leaves i−1 when divided by of, on all processors.
func shardOf(s *study.Study, n, i, of uint64) ([]study.Block, error) {
	var numbers []uint64
	for k := i - 1; k*study.BlockOf < n; k += of {
		numbers = append(numbers, k)
	}
	blocks, errs := make([]study.Block, len(numbers)), make([]error, len(numbers))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			w := s.NewWorker(n)
			for {
				k := int(next.Add(1)) - 1
				if k >= len(numbers) {
					return
				}
				from := numbers[k] * study.BlockOf
				blocks[k], errs[k] = w.Block(from, min(from+study.BlockOf, n))
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

func mergeFiles(names []string, out io.Writer) error {
	var all []study.Block
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		d := json.NewDecoder(bufio.NewReader(f))
		d.DisallowUnknownFields()
		for {
			var b study.Block
			if err := d.Decode(&b); err == io.EOF {
				break
			} else if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			all = append(all, b)
		}
	}
	sum, err := study.Merge(all)
	if err != nil {
		return err
	}
	return json.NewEncoder(out).Encode(sum)
}
