package compute

import (
	"context"
	"math"
	"reflect"
	"sync"
)

// frame is the room for one call of a function: its parameters and results, and the call, which takes the ones and
// leaves the others.
type frame struct {
	in, out  []reflect.Value // addressable
	call     func()
	args     []number // the leaves of in, in the order of the entry
	results  []number // of out
	err      *error   // the last result, nil if that is no error
	deadline *context.Context
}

// number is a leaf of a frame. Nearly all are float64s of some name, which are reached without reflection.
type number struct {
	float *float64 // nil for any other kind
	value reflect.Value
}

func numberAt(v reflect.Value) number {
	n := number{value: v}
	if v.Kind() == reflect.Float64 && v.CanAddr() && v.CanInterface() {
		n.float = v.Addr().Convert(reflect.TypeFor[*float64]()).Interface().(*float64)
	}
	return n
}

func (n *number) set(x float64) {
	if n.float != nil {
		*n.float = x
		return
	}
	setNumber(n.value, x)
}

func (n *number) get() float64 {
	if n.float != nil {
		return *n.float
	}
	return getNumber(n.value)
}

// reflected is the room of a function that is called by reflection.
func reflected(fn reflect.Value) func() *frame {
	t := fn.Type()
	return func() *frame {
		f := &frame{}
		for i := range t.NumIn() {
			f.in = append(f.in, reflect.New(t.In(i)).Elem())
		}
		for i := range t.NumOut() {
			f.out = append(f.out, reflect.New(t.Out(i)).Elem())
		}
		f.call = func() {
			for i, v := range fn.Call(f.in) {
				f.out[i].Set(v)
			}
		}
		return f
	}
}

// eval builds the call of an entry. Frames are pooled, so that a call allocates what its function does and no more.
func (d *declaration) eval() func(ctx context.Context, results, args []float64) error {
	room, in, out, fails, stops := d.room, d.in, d.out, d.fails, d.stops
	pool := sync.Pool{New: func() any {
		f := room()
		for i := range in {
			f.args = append(f.args, numberAt(in[i].in(f.in[in[i].at])))
		}
		for i := range out {
			f.results = append(f.results, numberAt(out[i].in(f.out[out[i].at])))
		}
		if fails {
			f.err = f.out[len(f.out)-1].Addr().Interface().(*error)
		}
		if stops {
			f.deadline = f.in[0].Addr().Interface().(*context.Context)
		}
		return f
	}}
	return func(ctx context.Context, results, args []float64) error {
		f := pool.Get().(*frame)
		defer pool.Put(f)
		if stops {
			*f.deadline = ctx
			defer func() { *f.deadline = nil }() // the pool keeps no context alive
		}
		for i := range f.args {
			f.args[i].set(args[i])
		}
		f.call()
		if fails {
			if err := *f.err; err != nil {
				*f.err = nil
				for i := range results {
					results[i] = math.NaN()
				}
				return err
			}
		}
		for i := range f.results {
			results[i] = f.results[i].get()
		}
		return nil
	}
}
