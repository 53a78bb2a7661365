package compute

import (
	"fmt"
	"reflect"
)

// Made is the function that constructs a value and asks it: the parameters of
// the constructor, then those of the methods; the results of all methods in
// their order, and the constructor's or a method's error.
//
//	Made(NewJet, Jet.CentreSpeed, Jet.HalfWidth) // func(JetSpec, units.Length) (units.Speed, units.Length, error)
//
// A function whose first parameter takes the value serves as a method too. A
// method takes all of the further parameters, the first few of them or none.
// Made panics if the types do not fit.
func Made(constructor any, methods ...any) any {
	errType := reflect.TypeFor[error]()
	fails := func(t reflect.Type) bool { return t.NumOut() > 0 && t.Out(t.NumOut()-1) == errType }
	c := reflect.ValueOf(constructor)
	ct := c.Type()
	object := ct.Out(0)
	var in, out, more []reflect.Type
	for i := range ct.NumIn() {
		in = append(in, ct.In(i))
	}
	ms := make([]reflect.Value, len(methods))
	for k, m := range methods {
		ms[k] = reflect.ValueOf(m)
		t := ms[k].Type()
		if t.NumIn() > 0 && reflect.PointerTo(object) == t.In(0) {
			ms[k] = viaPointer(ms[k])
			t = ms[k].Type()
		}
		if t.NumIn() == 0 || !object.AssignableTo(t.In(0)) {
			panic(fmt.Sprintf("compute.Made: %v is no method of %v", t, object))
		}
		for i := 1; i < t.NumIn(); i++ {
			if i > len(more) {
				more = append(more, t.In(i))
			} else if more[i-1] != t.In(i) {
				panic(fmt.Sprintf("compute.Made: %v takes a %v where another method takes a %v", t, t.In(i), more[i-1]))
			}
		}
		n := t.NumOut()
		if fails(t) {
			n--
		}
		for i := range n {
			out = append(out, t.Out(i))
		}
	}
	own := len(in)
	in, out = append(in, more...), append(out, errType)
	zero := func(err reflect.Value) []reflect.Value {
		res := make([]reflect.Value, 0, len(out))
		for _, t := range out[:len(out)-1] {
			res = append(res, reflect.Zero(t))
		}
		return append(res, err)
	}
	return reflect.MakeFunc(reflect.FuncOf(in, out, false), func(args []reflect.Value) []reflect.Value {
		made := c.Call(args[:own])
		if fails(ct) && !made[len(made)-1].IsNil() {
			return zero(made[len(made)-1])
		}
		res := make([]reflect.Value, 0, len(out))
		for _, m := range ms {
			t := m.Type()
			got := m.Call(append([]reflect.Value{made[0]}, args[own:own+t.NumIn()-1]...))
			if fails(t) {
				if err := got[len(got)-1]; !err.IsNil() {
					return zero(err)
				}
				got = got[:len(got)-1]
			}
			res = append(res, got...)
		}
		return append(res, reflect.Zero(errType))
	}).Interface()
}

// viaPointer turns a method with a pointer receiver into one of the value.
func viaPointer(m reflect.Value) reflect.Value {
	t := m.Type()
	var in, out []reflect.Type
	for i := range t.NumIn() {
		in = append(in, t.In(i))
	}
	in[0] = in[0].Elem()
	for i := range t.NumOut() {
		out = append(out, t.Out(i))
	}
	return reflect.MakeFunc(reflect.FuncOf(in, out, false), func(args []reflect.Value) []reflect.Value {
		p := reflect.New(in[0])
		p.Elem().Set(args[0])
		return m.Call(append([]reflect.Value{p}, args[1:]...))
	})
}
