// Command bench times pithball on six pieces of work that are defined outside of it and can be done with any tool for
// numbers: ions before a wall by a given scheme on a given mesh (p1), to the limit of fine meshes (p1b), the decay of a
// charge map (p2), states of moist air (p3), a Monte Carlo of a line (p4), linear fits (p5) and the breakdown over
// charged films (p6). It prints one JSON line for each:
//
//	{"name", "n", "seconds_min", "seconds_median", "result_digest"}
//
// Timed is what lies between inputs in memory and results in memory, five times after one run to warm up.
//
//	go run .                    all of it
//	go run . -only p2,p3        some of it
//	go run . -peers DIR         beside the programs in DIR, which do the same work and print such lines
//
// With -peers each piece runs in turn with the program of the same work (p*.py by -python, p*.js by node), -rounds
// times, so that both meet the same machine; then a table of the ratios follows on standard output and the lines go to
// standard error; -write README.md puts the table into that file. Results that do not agree within the accuracy of the
// work are an error. A program that cannot run is named and left out.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"strings"
	"time"
)

// work is one piece of work as it is timed.
type work struct {
	name  string
	n     int
	cores int
	run   func() any // the digest
}

// line is what is printed of a work.
type result struct {
	Name   string          `json:"name"`
	N      int             `json:"n"`
	Min    float64         `json:"seconds_min"`
	Median float64         `json:"seconds_median"`
	Digest json.RawMessage `json:"result_digest"`
}

func main() {
	only := flag.String("only", "", "pieces of work, such as p2,p3")
	peers := flag.String("peers", "", "`folder` of programs that do the same work")
	python := flag.String("python", "/usr/bin/python3", "interpreter of p*.py")
	write := flag.String("write", "", "`file` in which the table replaces what stands between its two marks")
	rounds := flag.Int("rounds", 3, "how often both sides run in turn")
	flag.Parse()
	if flag.NArg() > 0 || *rounds < 1 {
		fmt.Fprintln(os.Stderr, "bench: want flags only, and 1 round or more")
		os.Exit(2)
	}
	var out io.Writer = os.Stdout
	var text strings.Builder
	if *write != "" {
		out = io.MultiWriter(os.Stdout, &text)
	}
	err := run(out, os.Stderr, *only, *peers, *python, *rounds)
	if *write != "" && err == nil {
		err = insert(*write, text.String())
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func run(out, errs io.Writer, only, peers, python string, rounds int) error {
	want := strings.FieldsFunc(only, func(r rune) bool { return r == ',' })
	for _, w := range want {
		if !slices.ContainsFunc(pieces, func(p piece) bool { return p.name == w }) {
			return fmt.Errorf("-only %s: want some of p1, p1b, p2, p3, p4, p5, p6", w)
		}
	}
	var t table
	for _, p := range pieces {
		if only != "" && !slices.Contains(want, p.name) {
			continue
		}
		list := p.works()
		if peers == "" {
			for _, w := range list {
				if err := json.NewEncoder(out).Encode(timed(&w, 5)); err != nil {
					return err
				}
			}
			continue
		}
		for range rounds {
			for _, w := range list {
				l := timed(&w, 5)
				t.ours = append(t.ours, entry{l, w.cores})
				if err := json.NewEncoder(errs).Encode(l); err != nil {
					return err
				}
			}
			for _, script := range p.scripts {
				lines, err := runPeer(peers, python, script)
				if err != nil {
					fmt.Fprintf(errs, "bench: %s left out: %v\n", script, err)
					continue
				}
				for _, l := range lines {
					t.theirs = append(t.theirs, l)
					if err := json.NewEncoder(errs).Encode(l); err != nil {
						return err
					}
				}
			}
		}
	}
	if peers == "" {
		return nil
	}
	return t.write(out)
}

// timed runs a work once to warm up and n times by the clock, on its number of cores.
func timed(w *work, n int) result {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(w.cores))
	digest := w.run()
	var took []float64
	for range n {
		start := time.Now()
		digest = w.run()
		took = append(took, time.Since(start).Seconds())
	}
	slices.Sort(took)
	b, err := json.Marshal(digest)
	if err != nil {
		b, _ = json.Marshal(err.Error()) // a NaN among the results
	}
	return result{w.name, w.n, took[0], took[len(took)/2], b}
}
