package compute_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func hypotenuse() compute.Entry {
	return compute.Entry{
		Name: "demo.Hypotenuse",
		Doc:  "Length of the hypotenuse, √(a² + b²).",
		Args: []compute.Arg{
			{Name: "a", Unit: "m", Low: 0, High: 1e6},
			{Name: "b", Unit: "m", Low: 0, High: 1e6},
			{Name: "in", Unit: "1", Low: 0, High: 1, Choices: []string{"m", "km"}},
		},
		Results: []compute.Arg{{Name: "c", Unit: "m", Low: 0, High: 2e6}},
		Eval: func(results, args []float64) error {
			results[0] = math.Hypot(args[0], args[1]) / []float64{1, 1000}[int(args[2])]
			return nil
		},
	}
}

func TestCall(t *testing.T) {
	e := hypotenuse()
	out := make([]float64, 1)
	if err := e.Call(out, []float64{3, 4, 0}); err != nil || out[0] != 5 {
		t.Errorf("%v, %v", out, err)
	}
	if err := e.Call(out, []float64{3000, 4000, 1}); err != nil || out[0] != 5 {
		t.Errorf("%v, %v", out, err)
	}
	for _, c := range []struct {
		dst, args []float64
		field     string
	}{
		{out, []float64{3, 4}, "demo.Hypotenuse"},
		{nil, []float64{3, 4, 0}, "demo.Hypotenuse"},
		{out, []float64{-1, 4, 0}, "demo.Hypotenuse.a"},
		{out, []float64{3, 2e6, 0}, "demo.Hypotenuse.b"},
		{out, []float64{3, math.NaN(), 0}, "demo.Hypotenuse.b"},
		{out, []float64{math.Inf(1), 4, 0}, "demo.Hypotenuse.a"},
		{out, []float64{3, 4, 0.5}, "demo.Hypotenuse.in"},
		{out, []float64{3, 4, 2}, "demo.Hypotenuse.in"},
		{out, []float64{3, 4, math.NaN()}, "demo.Hypotenuse.in"},
	} {
		out[0] = -7
		var fe *known.FieldError
		if err := e.Call(c.dst, c.args); !errors.As(err, &fe) || fe.Field != c.field ||
			!strings.HasPrefix(err.Error(), "demo.") {
			t.Errorf("%v: %v, want an error for %s", c.args, err, c.field)
		}
		if out[0] != -7 {
			t.Errorf("%v: computed nevertheless", c.args)
		}
	}
}

// TestChoices: no index beyond the names, even if the range allows it.
func TestChoices(t *testing.T) {
	e := hypotenuse()
	e.Args[2].High = 7
	if err := e.Call(make([]float64, 1), []float64{3, 4, 2}); err == nil {
		t.Error("a choice without a name is taken")
	}
}

func TestFind(t *testing.T) {
	list := []compute.Entry{hypotenuse()}
	if e := compute.Find(list, "demo.Hypotenuse"); e != &list[0] {
		t.Error("not the entry of the list")
	}
	if compute.Find(list, "demo.Leg") != nil || compute.Find(nil, "") != nil {
		t.Error("found what is not there")
	}
}

func ExampleEntry_Call() {
	e := hypotenuse()
	out := make([]float64, 1)
	fmt.Println(e.Call(out, []float64{3, 4, 0}), out[0])
	fmt.Println(e.Call(out, []float64{-3, 4, 0}))
	// Output:
	// <nil> 5
	// demo.Hypotenuse.a: -3 m: want 0 … 1e+06 m
}

func ExampleFind() {
	list := []compute.Entry{hypotenuse()}
	fmt.Println(compute.Find(list, "demo.Hypotenuse").Doc)
	// Output: Length of the hypotenuse, √(a² + b²).
}

func ExampleArg() {
	a := hypotenuse().Args[2]
	fmt.Println(a.Name, a.Choices)
	// Output: in [m km]
}
