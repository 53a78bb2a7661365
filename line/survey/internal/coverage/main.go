// Command coverage makes the table of what the diagnosis is worth: on invented
// plants that share no model with it, how often its bands hold, what it says and how
// often that is right.
//
//	go run ./line/survey/internal/coverage -surveys 14000
//	go run -tags ablate ./line/survey/internal/coverage -surveys 280 -ablate
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"sync"
	"time"

	"example.org/pithball/line/survey/internal/plants"
	"example.org/pithball/line/survey/internal/tally"
)

func main() {
	surveys := flag.Int("surveys", 1000, "surveys of each plant, shared by the kinds")
	seed := flag.Uint64("seed", 60_000_000, "first `seed`; from this one on none was used while anything was chosen")
	only := flag.String("kind", "", "one `kind` only")
	workers := flag.Int("workers", 2, "surveys at a time")
	within := flag.Duration("within", 24*time.Hour, "`time` after which the table is made of what is done")
	ablate := flag.Bool("ablate", false, "print what the diagnosis is worth without each of its ingredients")
	flag.Parse()
	kinds := append(plants.Kinds(), plants.Nonsense()...)
	if *only != "" {
		kinds = slices.DeleteFunc(kinds, func(k plants.Kind) bool { return string(k) != *only })
	}
	b := budget{each: max(1, *surveys/len(plants.Kinds())), workers: *workers, until: time.Now().Add(*within)}
	table := run
	if *ablate {
		table = ablation
	}
	if err := table(os.Stdout, kinds, *seed, b); err != nil {
		fmt.Fprintln(os.Stderr, "coverage:", err)
		os.Exit(1)
	}
}

// budget is how many surveys of each kind are asked for, how many at a time, and until
// when.
type budget struct {
	each, workers int
	until         time.Time
}

// batch is how many surveys of each kind and plant are made before the clock is asked.
const batch = 25

func run(w io.Writer, kinds []plants.Kind, seed uint64, b budget) error {
	var names []string
	for n := range plants.Generators() {
		names = append(names, n)
	}
	slices.Sort(names)
	rows := make([][]*tally.Row, len(names))
	done := 0
	for done < b.each && (done == 0 || time.Now().Before(b.until)) {
		n := min(batch, b.each-done)
		for i, name := range names {
			more, err := rowsOf(plants.Generators()[name], kinds, n, seed+uint64(done), b.workers)
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			if rows[i] == nil {
				rows[i] = more
				continue
			}
			for j := range more {
				rows[i][j].Add(more[j])
			}
		}
		done += n
	}
	both := &tally.Row{Kind: "both plants"}
	for i, name := range names {
		all := &tally.Row{Kind: "all but nonsense"}
		for _, r := range rows[i] {
			if !slices.Contains(plants.Nonsense(), r.Kind) {
				all.Add(r)
			}
		}
		both.Add(all)
		fmt.Fprintf(w, "%s plant, %d surveys of each kind\n", name, done)
		tally.Write(w, append(rows[i], all))
		fmt.Fprintln(w)
	}
	tally.Write(w, []*tally.Row{both})
	fmt.Fprintln(w)
	tally.WriteChances(w, both)
	return nil
}

// rowsOf scores the kinds, some at a time; the numbers do not depend on how many.
func rowsOf(g plants.Generator, kinds []plants.Kind, each int, seed uint64, workers int) ([]*tally.Row, error) {
	rows, errs := make([]*tally.Row, len(kinds)), make([]error, len(kinds))
	gate := make(chan struct{}, max(1, workers))
	var wait sync.WaitGroup
	for i, k := range kinds {
		wait.Add(1)
		go func() {
			defer wait.Done()
			gate <- struct{}{}
			defer func() { <-gate }()
			rows[i], errs[i] = tally.Run(g, k, seed, each)
		}()
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return rows, nil
}
