// Command slowest looks for the arguments with which a public computation takes longest, and fails where one takes
// longer than it may: 0.2 s of a processor for one without a context, 0.2 s beyond the end of its context for one with.
// For each entry of the registry it tries the corners of its ranges and what lies between, then climbs from the slowest
// it found. What it finds is a lower bound, so it goes over those that came near the bound again and longer.
package main

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"syscall"
	"time"

	"example.org/pithball/examples/registry"
	"example.org/pithball/units/compute"
)

const (
	most  = 0.2                   // [s] for one call, or beyond the end of its context
	patch = 50 * time.Millisecond // after which a context ends
)

func main() {
	each := flag.Duration("each", time.Second, "processor time for an entry")
	again := flag.Duration("again", 8*time.Second, "processor time for each of the slowest, once more")
	rows := flag.Int("rows", 16, "that many of the slowest are gone over again and shown")
	only := flag.String("only", "", "part of the names of the entries that are tried")
	flag.Parse()
	var all []*search
	list := registry.All()
	for i := range list {
		if strings.Contains(list[i].Name, *only) {
			s := newSearch(&list[i])
			s.run(*each)
			all = append(all, s)
		}
	}
	order := func(a, b *search) int { return int(1e9 * (b.worst - a.worst)) }
	slices.SortFunc(all, order)
	for _, s := range all[:min(*rows, len(all))] {
		s.run(*again)
	}
	slices.SortFunc(all, order)
	over := 0
	for _, s := range all[:min(*rows, len(all))] {
		kind := "whole call"
		if s.entry.EvalContext != nil {
			kind = "beyond its context"
		}
		fmt.Printf("%-36s %-18s %6.3f s %4d calls  %v\n", s.entry.Name, kind, s.worst, s.calls, s.at)
		if s.worst > most {
			over++
		}
	}
	var none []string
	for _, s := range all {
		if s.at == nil {
			none = append(none, s.entry.Name)
		}
	}
	if none != nil {
		fmt.Println("no arguments that are taken were found for", strings.Join(none, ", "))
	}
	fmt.Printf("%d entries, %d above %v s; the slowest is %s with %.3f s\n", len(all), over, most, all[0].entry.Name, all[0].worst)
	if over > 0 {
		os.Exit(1)
	}
}

// search is the search in one entry.
type search struct {
	entry *compute.Entry
	rng   *rand.Rand
	out   []float64
	at    []float64 // arguments of the slowest call
	worst float64   // [s]
	calls int
}

func newSearch(e *compute.Entry) *search {
	return &search{entry: e, rng: rand.New(rand.NewPCG(1, 1)), out: make([]float64, len(e.Results))}
}

// run spends so much processor time.
func (s *search) run(time_ time.Duration) {
	args := make([]float64, len(s.entry.Args))
	for begin := spent(); spent()-begin < time_.Seconds(); {
		if s.at == nil || s.rng.IntN(3) == 0 {
			for i := range args {
				args[i] = s.draw(&s.entry.Args[i])
			}
		} else {
			copy(args, s.at)
			for range 1 + s.rng.IntN(2) {
				if len(args) > 0 {
					i := s.rng.IntN(len(args))
					args[i] = s.near(&s.entry.Args[i], args[i])
				}
			}
		}
		took, fine := s.call(args)
		s.calls++
		// One call can meet a collection of garbage: what is no slower when it is asked again was no slow one.
		if fine && took > s.worst {
			again, _ := s.call(args)
			if least := min(took, again); least > s.worst {
				s.worst, s.at = least, slices.Clone(args)
			}
		}
		if len(args) == 0 {
			return
		}
	}
}

// call is the processor time of a call, or that beyond the end of its context; fine where it was no refusal.
func (s *search) call(args []float64) (took float64, fine bool) {
	defer func() {
		if p := recover(); p != nil {
			panic(fmt.Sprintf("%s at %v: %v", s.entry.Name, args, p)) // a fault of its own kind: nothing may panic
		}
	}()
	begin := spent()
	ctx := ending{context.Background(), begin + patch.Seconds(), make(chan struct{})}
	err := s.entry.CallContext(ctx, s.out, args)
	took = spent() - begin
	if s.entry.EvalContext != nil {
		took -= patch.Seconds()
	}
	return took, err == nil || err == context.DeadlineExceeded
}

// ending is a context that ends at a processor time.
type ending struct {
	context.Context
	at   float64
	done chan struct{}
}

func (c ending) Done() <-chan struct{} { return c.done }

func (c ending) Err() error {
	if spent() > c.at {
		return context.DeadlineExceeded
	}
	return nil
}

// draw is a value in the range of an argument: an end, or one between on the scale that fits.
func (s *search) draw(a *compute.Arg) float64 {
	if len(a.Choices) > 0 {
		return float64(s.rng.IntN(len(a.Choices)))
	}
	switch s.rng.IntN(8) {
	case 0:
		return a.Low
	case 1:
		return a.High
	case 2:
		if a.Default != nil {
			return *a.Default
		}
	}
	return between(a.Low, a.High, s.rng.Float64())
}

// near is a value not far from x.
func (s *search) near(a *compute.Arg, x float64) float64 {
	if len(a.Choices) > 0 || s.rng.IntN(4) == 0 {
		return s.draw(a)
	}
	y := x * math.Exp(0.5*s.rng.NormFloat64())
	if s.rng.IntN(3) == 0 {
		y = x + (a.High-a.Low)*0.02*s.rng.NormFloat64()
	}
	if math.IsNaN(y) {
		return x
	}
	return min(max(y, a.Low), a.High)
}

// between is logarithmic where the ends have one sign and lie far apart, also from zero and through it.
func between(lo, hi, share float64) float64 {
	switch {
	case lo > 0 && hi/lo > 100:
		return min(max(lo*math.Pow(hi/lo, share), lo), hi)
	case lo >= 0 && hi > 0:
		if share < 0.5 {
			return lo + 2*share*(hi-lo)
		}
		return max(lo, hi*math.Pow(1e-9, 2*share-1))
	case lo < 0 && hi > 0:
		if share < 0.5 {
			return lo * math.Pow(1e-9, 2*share)
		}
		return hi * math.Pow(1e-9, 2*share-1)
	}
	return lo + share*(hi-lo)
}

// spent is the processor time of this process, s.
func spent() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}
