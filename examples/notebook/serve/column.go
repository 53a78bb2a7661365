package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// rowError is a fault in one row of a column.
type rowError struct {
	row int
	err error
}

func (e *rowError) Error() string { return fmt.Sprintf("row %d: %s", e.row, e.err) }
func (e *rowError) Unwrap() error { return e.err }

type computeParams struct {
	Name string
	Args map[string]json.RawMessage
	Bad  string
}

// readCompute is readParams for what is asked most often; the arguments are read when it is known of which kind they
// are.
func readCompute(raw json.RawMessage) (p computeParams, err error) {
	var given map[string]json.RawMessage
	if len(raw) > 0 && json.Unmarshal(raw, &given) != nil {
		return p, known.Wrong("params", string(clip(raw)), "an object")
	}
	var faults []error
	read := func(name, want string, to any) {
		if v, ok := given[name]; ok && (string(v) == "null" || json.Unmarshal(v, to) != nil) {
			faults = append(faults, known.Wrong(name, string(clip(v)), want))
		}
		delete(given, name)
	}
	read("name", "a string", &p.Name)
	read("args", "an object", &p.Args)
	read("bad", "a string", &p.Bad)
	for _, name := range slices.Sorted(maps.Keys(given)) {
		faults = append(faults, known.Wrong(name, "no argument", "one of name, args, bad"))
	}
	return p, errors.Join(faults...)
}

// column computes one value, or one for each element of the arguments that are
// columns; these must have one length.
func (s *server) column(ctx context.Context, q *request) (any, [][]float64, error) {
	p, err := readCompute(q.Params)
	if err != nil {
		return nil, nil, err
	}
	if p.Bad != "" && p.Bad != "nan" && p.Bad != "raise" {
		return nil, nil, known.Wrong("bad", p.Bad, "raise or nan")
	}
	e := s.find(p.Name)
	if e == nil {
		return nil, nil, known.Wrong("name", p.Name, "the name of a computation that hello lists")
	}
	cols, n, err := arguments(e, &p, q.columns)
	if err != nil {
		return nil, nil, err
	}
	if n < 0 {
		out, in := make([]float64, len(e.Results)), make([]float64, len(cols))
		for i, c := range cols {
			in[i] = c[0]
		}
		if err := s.one(ctx, e, out, in); err != nil {
			return nil, nil, err
		}
		result := make(map[string]number, len(out))
		for k := range out {
			result[e.Results[k].Name] = number(out[k])
		}
		return map[string]any{"results": result}, nil, nil
	}
	t := table{entry: e, args: cols, rows: n, keep: p.Bad == "nan", results: make([][]float64, len(e.Results))}
	for k := range t.results {
		t.results[k] = make([]float64, n)
	}
	if err := t.compute(ctx, s.progress); err != nil {
		return nil, nil, err
	}
	more := map[string]any{}
	if t.bad > 0 {
		more["bad"] = map[string]any{"rows": t.bad, "first": toFault(t.first)}
	}
	if q.Frames != nil {
		names := make([]string, len(e.Results))
		for k := range names {
			names[k] = e.Results[k].Name
		}
		more["columns"] = names
		return more, t.results, nil
	}
	result := make(map[string][]number, len(e.Results))
	for k, c := range t.results {
		r := make([]number, n)
		for i, v := range c {
			r[i] = number(v)
		}
		result[e.Results[k].Name] = r
	}
	more["results"] = result
	return more, nil, nil
}

// one computes one value and tells how far it is.
func (s *server) one(ctx context.Context, e *compute.Entry, out, in []float64) error {
	ctx, told := s.telling(ctx)
	defer told()
	return e.CallContext(ctx, out, in)
}

// arguments reads the arguments in the order of the entry; n is the number of rows,
// −1 if there is no column.
func arguments(e *compute.Entry, p *computeParams, frames [][]float64) (cols [][]float64, n int, err error) {
	cols, n = make([][]float64, len(e.Args)), -1
	names := map[string]bool{}
	for i := range e.Args {
		a := &e.Args[i]
		names[a.Name] = true
		raw, ok := p.Args[a.Name]
		if !ok {
			if a.Default == nil {
				return nil, 0, known.Wrong(p.Name+"."+a.Name, "", "a value in "+a.Unit)
			}
			cols[i] = []float64{*a.Default}
			continue
		}
		c, column, err := argument(p.Name, a, raw, frames)
		if err != nil {
			return nil, 0, err
		}
		cols[i] = c
		if !column {
			continue
		}
		if n >= 0 && n != len(c) {
			return nil, 0, known.Wrong(p.Name+"."+a.Name, fmt.Sprintf("%d numbers", len(c)),
				fmt.Sprintf("%d, as the other columns have", n))
		}
		n = len(c)
	}
	for name := range p.Args {
		if !names[name] {
			return nil, 0, known.Wrong(p.Name+"."+name, string(clip(p.Args[name])), "an argument of "+p.Name)
		}
	}
	return cols, n, nil
}

func clip(b []byte) []byte { return b[:min(len(b), 40)] }

// argument reads one argument.
func argument(name string, a *compute.Arg, raw json.RawMessage, frames [][]float64) ([]float64, bool, error) {
	wrong := func(value string) error {
		want := "a number or an array of numbers in " + a.Unit
		if len(a.Choices) > 0 {
			want = fmt.Sprintf("one of %q", a.Choices)
		}
		return known.Wrong(name+"."+a.Name, value, want)
	}
	switch raw[0] {
	case '"':
		var s string
		if err := json.Unmarshal(raw, &s); err != nil {
			return nil, false, wrong(string(clip(raw)))
		}
		v, err := a.Parse(s)
		if err != nil {
			if fe, ok := err.(*known.FieldError); ok {
				fe.Field = name + "." + fe.Field
			}
			return nil, false, err
		}
		return []float64{v}, false, nil
	case '{':
		var f struct {
			Frame *int `json:"frame"`
		}
		if err := json.Unmarshal(raw, &f); err != nil || f.Frame == nil || *f.Frame < 0 || *f.Frame >= len(frames) {
			return nil, false, wrong(string(clip(raw)))
		}
		return frames[*f.Frame], true, nil
	case '[':
		var many []*float64 // pointers, because null into a number would leave 0
		if err := json.Unmarshal(raw, &many); err != nil {
			return nil, false, wrong(string(clip(raw)))
		}
		c := make([]float64, len(many))
		for r, v := range many {
			if v == nil {
				return nil, false, &rowError{r, wrong("null")}
			}
			c[r] = *v
		}
		return c, true, nil
	}
	var one *float64
	if err := json.Unmarshal(raw, &one); err != nil || one == nil {
		return nil, false, wrong(string(clip(raw)))
	}
	return []float64{*one}, false, nil
}

// table is the work of one column.
type table struct {
	entry         *compute.Entry
	args, results [][]float64
	rows          int
	keep          bool // a bad row becomes NaN and is counted

	mu    sync.Mutex
	bad   int
	first *rowError
	stop  atomic.Int64 // no row from here on is needed
}

// rowsAtOnce is the most that one goroutine takes: some 0.1 ms of the cheapest computation.
const rowsAtOnce = 512

// compute works the rows on all processors. The first bad row, in the order of the
// rows, is the one that is told, whatever the order of work.
func (t *table) compute(ctx context.Context, progress func(done, rows int) error) error {
	var next, done atomic.Int64
	t.stop.Store(math.MaxInt64)
	block := min(max(t.rows/64, 1), rowsAtOnce) // slow rows are few: they are dealt out one by one
	work := func() {
		in, out := make([]float64, len(t.args)), make([]float64, len(t.results))
		for {
			lo := int(next.Add(int64(block))) - block
			if lo >= t.rows || int64(lo) >= t.stop.Load() {
				return
			}
			hi := min(lo+block, t.rows)
			for r := lo; r < hi; r++ {
				for i, c := range t.args {
					in[i] = c[min(r, len(c)-1)]
				}
				if err := t.row(ctx, out, in); err != nil {
					if ctx.Err() != nil {
						return
					}
					t.refuse(r, err)
					if !t.keep {
						break
					}
					for k := range out {
						out[k] = math.NaN()
					}
				}
				for k := range out {
					t.results[k][r] = out[k]
				}
			}
			done.Add(int64(hi - lo))
		}
	}
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), t.rows) {
		wg.Go(work)
	}
	end := make(chan struct{})
	go func() { wg.Wait(); close(end) }()
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for {
		select {
		case <-end:
			if err := ctx.Err(); err != nil {
				return err
			}
			if t.first != nil && !t.keep {
				return t.first
			}
			return nil
		case <-tick.C:
			if err := progress(int(done.Load()), t.rows); err != nil {
				return err
			}
		}
	}
}

// row keeps a panic of one row from ending the server.
func (t *table) row(ctx context.Context, out, in []float64) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("a fault of pithball itself: %v", p)
		}
	}()
	return t.entry.CallContext(ctx, out, in)
}

func (t *table) refuse(r int, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.bad++
	if t.first == nil || r < t.first.row {
		t.first = &rowError{r, err}
		if !t.keep {
			t.stop.Store(int64(r))
		}
	}
}
