package main

import (
	"cmp"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// A binary is the compiled tests of one package.
type binary struct{ path, dir string }

// A test is one of its top-level tests, how long it runs alone, and which functions it calls.
type test struct {
	of    binary
	name  string
	takes time.Duration
	calls map[int]bool
}

// A result is what became of the changes of one package.
type result struct {
	tried                          []*change
	functions, ofFunctions, broken int
}

// memory bounds a run, for a change can make a loop that never stops growing.
const memory = "ulimit -v 8000000; exec \"$@\""

func (b binary) run(timeout time.Duration, env []string, args ...string) ([]byte, error) {
	args = append([]string{"-c", memory, "sh", b.path, "-test.timeout=" + timeout.String()}, args...)
	cmd := exec.Command("sh", args...)
	cmd.Dir = b.dir
	cmd.Env = append(os.Environ(), env...)
	return cmd.CombinedOutput()
}

func mutate(dir string, tests []string, n int, seed uint64, jobs int, skip map[string]bool) (result, error) {
	srcs, err := read(dir)
	if err != nil {
		return result{}, err
	}
	all, functions := draw(srcs, seed, skip)
	for i, c := range all {
		c.id = i + 1
	}
	tmp, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return result{}, err
	}
	defer os.RemoveAll(tmp)
	pending := all
	if n > 0 { // some of them do not compile
		pending = all[:min(len(all), n+n/3+5)]
	}
	drawn := len(pending)
	overlay, left, err := compiles(dir, slices.Clone(pending), tmp)
	if err != nil {
		return result{}, err
	}
	r := result{tried: left, ofFunctions: functions, broken: drawn - len(left)}
	if n > 0 && len(left) > n {
		r.tried = left[:n]
	}
	of := map[string]bool{}
	for _, c := range r.tried {
		of[c.file+c.fn] = true
	}
	r.functions = len(of)

	known, err := record(tests, overlay, tmp, jobs)
	if err != nil {
		return result{}, err
	}
	first := map[string]int{} // the number of a function
	for _, c := range left {
		if _, ok := first[c.file+c.fn]; !ok {
			first[c.file+c.fn] = c.id
		}
	}
	err = parallel(jobs, len(r.tried), func(i int) error {
		c := r.tried[i]
		var calling []test
		for _, t := range known {
			if t.calls[first[c.file+c.fn]] {
				calling = append(calling, t)
			}
		}
		c.called, c.lives = len(calling) > 0, !noticed(c, calling)
		return nil
	})
	slices.SortStableFunc(r.tried, func(a, b *change) int { return strings.Compare(a.String(), b.String()) })
	return r, err
}

// record compiles the tests of packages and runs each test alone to see how long it takes and what it calls.
func record(packages []string, overlay, tmp string, jobs int) ([]test, error) {
	var all []test
	for i, pkg := range packages {
		b := binary{filepath.Join(tmp, fmt.Sprint("tests", i)), filepath.FromSlash(pkg)}
		out, err := exec.Command("go", "test", "-c", "-vet=off", "-overlay="+overlay, "-o", b.path, pkg).CombinedOutput()
		if err != nil {
			return nil, fmt.Errorf("%s: %v\n%s", pkg, err, out)
		}
		out, err = b.run(time.Minute, nil, "-test.list=.")
		if err != nil {
			return nil, fmt.Errorf("%s: %v\n%s", pkg, err, out)
		}
		for _, name := range strings.Fields(string(out)) {
			if !strings.HasPrefix(name, "Benchmark") {
				all = append(all, test{of: b, name: name, calls: map[int]bool{}})
			}
		}
	}
	err := parallel(jobs, len(all), func(i int) error {
		t := &all[i]
		calls := filepath.Join(tmp, fmt.Sprint("calls", i))
		start := time.Now()
		out, err := t.of.run(5*time.Minute, []string{whichChange + "=-1", callsInto + "=" + calls}, "-test.short",
			"-test.run=^"+t.name+"$")
		t.takes = time.Since(start)
		if err != nil {
			return fmt.Errorf("%s fails without a change: %v\n%s", t.name, err, out)
		}
		b, err := os.ReadFile(calls)
		if err != nil && !os.IsNotExist(err) {
			return err
		}
		for _, s := range strings.Fields(string(b)) {
			k, err := strconv.Atoi(s)
			if err != nil {
				return err
			}
			t.calls[k] = true
		}
		return nil
	})
	slices.SortStableFunc(all, func(a, b test) int { return cmp.Compare(a.takes, b.takes) })
	return all, err
}

// noticed runs tests on a change, the quickest first and the others in growing
// sets, until one fails. A run that takes far too long has noticed it as well.
func noticed(c *change, tests []test) bool {
	byBinary := map[binary][]test{}
	var order []binary
	for _, t := range tests {
		if byBinary[t.of] == nil {
			order = append(order, t.of)
		}
		byBinary[t.of] = append(byBinary[t.of], t)
	}
	for _, b := range order {
		of := byBinary[b]
		for atMost := 300 * time.Millisecond; len(of) > 0; atMost *= 4 {
			var names []string
			takes := time.Duration(0)
			for len(of) > 0 && (len(names) == 0 || takes+of[0].takes <= atMost) {
				takes += of[0].takes
				names = append(names, regexp.QuoteMeta(of[0].name))
				of = of[1:]
			}
			_, err := b.run(30*time.Second+10*takes, []string{whichChange + "=" + strconv.Itoa(c.id)}, "-test.short",
				"-test.failfast", "-test.run=^("+strings.Join(names, "|")+")$")
			if err != nil {
				return true
			}
		}
	}
	return false
}

// parallel runs f for 0 to n-1 on a number of goroutines and returns the first error.
func parallel(jobs, n int, f func(i int) error) error {
	var mu sync.Mutex
	var wg sync.WaitGroup
	var first error
	next := 0
	for range jobs {
		wg.Go(func() {
			for {
				mu.Lock()
				i := next
				next++
				stop := i >= n || first != nil
				mu.Unlock()
				if stop {
					return
				}
				if err := f(i); err != nil {
					mu.Lock()
					if first == nil {
						first = err
					}
					mu.Unlock()
				}
			}
		})
	}
	wg.Wait()
	return first
}
