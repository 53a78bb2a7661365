// Command mutate changes one sign, factor, branch or bound at a time in a
// package of this module and runs tests on each change: a change that no test
// notices shows a test that cannot fail.
//
//	go run ./.ci/mutate -n 60 -seed 1 ./line
//
// Nobody picks the changes: all that the syntax offers are drawn with the seed,
// one a function in turn, until n of them have compiled. The rank of a change
// hangs on the seed and on its own text, so that work on one function draws no
// others elsewhere. Files are never written: the go command overlays them. Each
// changed function stands beside the one that it came from, in one test binary
// a package, and the environment says which one runs: a change costs only the
// tests that call its function, the quick ones first, until one fails. Changes
// that alter nothing stand in equivalent.txt with the reason why. The exit
// status is 1 if one of the others lives.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	log.SetFlags(0)
	log.SetPrefix("mutate: ")
	n := flag.Int("n", 60, "changes that compile to try in each package; 0 for all")
	seed := flag.Uint64("seed", 1, "of the draw")
	tests := flag.String("tests", "", "packages whose tests are run, comma separated; without it the changed one")
	jobs := flag.Int("jobs", 2, "test runs at a time")
	allow := flag.Int("allow", 0, "percent of the changes that may live")
	known := flag.String("equivalent", ".ci/mutate/equivalent.txt",
		"changes that alter nothing, a line each: change | reason")
	verbose := flag.Bool("v", false, "print every change")
	flag.Parse()
	if flag.NArg() < 1 || *n < 0 || *jobs < 1 {
		flag.Usage()
		os.Exit(2)
	}
	skip, err := equivalent(*known)
	if err != nil {
		log.Fatal(err)
	}
	lives := false
	for _, dir := range flag.Args() {
		dir = filepath.Clean(dir)
		of := []string{"./" + filepath.ToSlash(dir)}
		if *tests != "" {
			of = strings.Split(*tests, ",")
		}
		start := time.Now()
		r, err := mutate(dir, of, *n, *seed, *jobs, skip)
		if err != nil {
			log.Fatal(dir, ": ", err)
		}
		lived := 0
		for _, c := range r.tried {
			switch {
			case c.lives && !c.called:
				fmt.Println("lives, called by no test:", c.mutant)
			case c.lives:
				fmt.Println("lives:", c.mutant)
			case *verbose:
				fmt.Printf("noticed: %v (line %d)\n", c.mutant, c.line)
			}
			if c.lives {
				lived++
			}
		}
		k := len(r.tried)
		fmt.Printf("%s: %d changes in %d of %d functions, %d noticed (%.0f %%), %d live, %d did not compile, %.0f s\n",
			filepath.ToSlash(dir), k, r.functions, r.ofFunctions, k-lived, 100*float64(k-lived)/float64(k), lived,
			r.broken, time.Since(start).Seconds())
		lives = lives || 100*lived > *allow*k
	}
	if lives {
		os.Exit(1)
	}
}
