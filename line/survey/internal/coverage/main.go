// Command coverage makes the table of what the diagnosis is worth: on invented
// plants that share no model with it, how often its bands hold, what it says and how
// often that is right.
//
//	go run ./line/survey/internal/coverage -surveys 1000
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"sync"

	"example.org/pithball/line/survey/internal/plants"
	"example.org/pithball/line/survey/internal/tally"
)

func main() {
	surveys := flag.Int("surveys", 1000, "surveys of each plant, shared by the kinds")
	seed := flag.Uint64("seed", 60_000_000, "first `seed`; from this one on none was used while anything was chosen")
	only := flag.String("kind", "", "one `kind` only")
	workers := flag.Int("workers", 2, "surveys at a time")
	flag.Parse()
	kinds := append(plants.Kinds(), plants.Nonsense()...)
	if *only != "" {
		kinds = slices.DeleteFunc(kinds, func(k plants.Kind) bool { return string(k) != *only })
	}
	if err := run(os.Stdout, kinds, *surveys, *seed, *workers); err != nil {
		fmt.Fprintln(os.Stderr, "coverage:", err)
		os.Exit(1)
	}
}

func run(w io.Writer, kinds []plants.Kind, surveys int, seed uint64, workers int) error {
	var names []string
	for n := range plants.Generators() {
		names = append(names, n)
	}
	slices.Sort(names)
	both := &tally.Row{Kind: "both plants"}
	for _, n := range names {
		rows, err := rowsOf(plants.Generators()[n], kinds, max(1, surveys/len(plants.Kinds())), seed, workers)
		if err != nil {
			return fmt.Errorf("%s: %w", n, err)
		}
		all := &tally.Row{Kind: "all but nonsense"}
		for _, r := range rows {
			if !slices.Contains(plants.Nonsense(), r.Kind) {
				all.Add(r)
			}
		}
		both.Add(all)
		fmt.Fprintf(w, "%s plant, %d surveys of each kind\n", n, max(1, surveys/len(plants.Kinds())))
		tally.Write(w, append(rows, all))
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
