package main

import (
	"bufio"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
)

// sameWithin is the greatest relative difference between two builds that needs no reason.
const sameWithin = 1e-9

// allowance is what a result may differ by between builds for other processors, with its reason.
type allowance struct {
	relative, absolute float64
	reason             string
}

// allowances reads lines of five columns: entry, result (or * for all), greatest relative difference, greatest absolute
// difference, reason.
func allowances(path string) (map[[2]string]*allowance, error) {
	out := map[[2]string]*allowance{}
	if path == "" {
		return out, nil
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	for n, l := range strings.Split(string(b), "\n") {
		if l == "" || strings.HasPrefix(l, "#") {
			continue
		}
		f := strings.Split(l, "\t")
		if len(f) != 5 || strings.TrimSpace(f[4]) == "" {
			return nil, fmt.Errorf("%s:%d: %d columns, want entry, result, relative, absolute, reason", path, n+1, len(f))
		}
		r, errR := strconv.ParseFloat(f[2], 64)
		a, errA := strconv.ParseFloat(f[3], 64)
		if err := errors.Join(errR, errA); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", path, n+1, err)
		}
		out[[2]string{f[0], f[1]}] = &allowance{relative: r, absolute: a, reason: f[4]}
	}
	return out, nil
}

// reading is a line of a dump.
type reading struct{ results []string } // "name=number", or "error" alone

func readDump(path string) (map[[2]string]reading, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	out := map[[2]string]reading{}
	s := bufio.NewScanner(f)
	for s.Scan() {
		c := strings.Split(s.Text(), "\t")
		if len(c) < 4 {
			return nil, fmt.Errorf("%s: a line of %d columns", path, len(c))
		}
		r := reading{strings.Fields(c[3])}
		if c[3] == "error" {
			r.results = []string{"error"}
		}
		out[[2]string{c[0], c[1]}] = r
	}
	return out, s.Err()
}

// builds compares two dumps of one tree, built for two processors.
func builds(one, other, loose string) error {
	allow, err := allowances(loose)
	if err != nil {
		return err
	}
	a, err := readDump(one)
	if err != nil {
		return err
	}
	b, err := readDump(other)
	if err != nil {
		return err
	}
	numbers, same, bad := 0, 0, 0
	if len(a) == 0 || len(a) != len(b) {
		return fmt.Errorf("%d and %d calls", len(a), len(b))
	}
	for at, x := range a {
		y, ok := b[at]
		if !ok || len(x.results) != len(y.results) || x.results[0] == "error" != (y.results[0] == "error") {
			bad++
			fmt.Printf("%s %s: %v and %v\n", at[0], at[1], x.results, y.results)
			continue
		}
		for k, r := range x.results {
			name, u, _ := strings.Cut(r, "=")
			_, v, _ := strings.Cut(y.results[k], "=")
			numbers++
			if u == v {
				same++
				continue
			}
			if why := differ(allow, at[0], name, u, v); why != "" {
				bad++
				fmt.Printf("%s %s, %s: %s\n", at[0], at[1], name, why)
			}
		}
	}
	fmt.Printf("%d numbers: %d the same to the last bit, %d apart by more than %g without a reason\n", numbers, same, bad,
		sameWithin)
	if bad > 0 {
		return errors.New("builds for two processors disagree")
	}
	return nil
}

// differ says why two numbers are not the same, "" if they are near enough.
func differ(allow map[[2]string]*allowance, entry, name, one, other string) string {
	u, errU := strconv.ParseFloat(one, 64)
	v, errV := strconv.ParseFloat(other, 64)
	if err := errors.Join(errU, errV); err != nil {
		return err.Error()
	}
	gap := math.Abs(u - v)
	relative := gap / math.Max(math.Abs(u), math.Abs(v))
	if relative <= sameWithin {
		return ""
	}
	for _, key := range [][2]string{{entry, name}, {entry, "*"}} {
		if w := allow[key]; w != nil && (relative <= w.relative || gap <= w.absolute) {
			return ""
		}
	}
	return fmt.Sprintf("%v and %v, %.2g apart", u, v, relative)
}
