package compute

import (
	"context"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"example.org/pithball/units/known"
)

// Of declares a computation: a Go function, and what Go does not say of it.
// Types and units come from the parameters and results of f, the sentence of
// the entry from the doc comment of the function that it names ([List]), and
// items give the rest, in the order of the parameters:
//
//	Of("FieldFactor", FieldFactor, gauss,
//		"distance 0…10=0.025: meter plane to web; gap 0…1e6: web to earthed metal behind it",
//		"-> factor: E·ε0/σ")
//
// An item is a name, the unit in brackets where the type does not tell it (a
// bare float64; without one it is "1"), the range "low…high" of an argument or
// its choices in braces "{thin|thick}", a default after "=", and a text after
// a colon. Items stand one an argument, or several separated by semicolons;
// a "->" before an item begins the results. An item that begins with "= " is
// the sentence of an entry that is no single function. One that begins with
// "! " names the code of a hazard notice that every result of the entry needs.
//
// Parameters and results of f are numbers of any named type, bools, or structs
// and arrays of such, which are flattened in their order; an item for the
// elements of an array has "#" in its name, which becomes 1, 2, …. An integer
// type with a String method needs neither range nor choices: its names are
// asked for 0, 1, … until one is empty or looks like "Type(3)" or "unknown …". The item "_" keeps a number
// out of the entry: as an argument it is zero. A result without range may have
// any value. A last result of type error ends the computation. A first parameter
// of type [context.Context] is no argument: the entry then has an EvalContext.
//
// Of panics on a declaration that does not fit its function, which a test of
// the list finds, since it is there or not for all inputs.
//
// Of takes any function and calls it by reflection, which costs some 0.2 µs and
// allocates. [Of11] to [Of64] declare the same for a function of one to six
// parameters and one to four results, an error among them, and call it directly.
func Of(name string, f any, src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), reflected(reflect.ValueOf(f)), src, items)
}

// declare makes the entry of a function of type t, which room calls.
func declare(name string, t reflect.Type, room func() *frame, src known.Source, items []string) Entry {
	d := declaration{name: name, room: room}
	d.read(items)
	nin, nout, first := 0, 0, 0
	if d.stops = t.NumIn() > 0 && t.In(0) == reflect.TypeFor[context.Context](); d.stops {
		first = 1
	}
	for i := first; i < t.NumIn(); i++ {
		d.in = flatten(d.in, t.In(i), i, nil, "", &nin)
	}
	outs := t.NumOut()
	if d.fails = outs > 0 && t.Out(outs-1) == reflect.TypeFor[error](); d.fails {
		outs--
	}
	for i := range outs {
		d.out = flatten(d.out, t.Out(i), i, nil, "", &nout)
	}
	e := Entry{Name: name, Doc: d.doc, Source: src, Notices: d.notices}
	e.Args, d.in = d.describe(d.args, d.in, nin, true)
	e.Results, d.out = d.describe(d.results, d.out, nout, false)
	eval := d.eval()
	e.Eval = func(results, args []float64) error { return eval(context.Background(), results, args) }
	if d.stops {
		e.EvalContext = eval
	}
	return e
}

// List names the entries of a package and gives those without a sentence the
// first one of their function's doc comment. docs has a line "Name<TAB>text"
// for each function and method of the package, as internal/docgen writes it.
func List(pkg, docs string, entries []Entry) []Entry {
	text := map[string]string{}
	for l := range strings.Lines(docs) {
		if name, doc, ok := strings.Cut(strings.TrimSpace(l), "\t"); ok {
			text[name] = doc
		}
	}
	for i := range entries {
		e := &entries[i]
		if e.Doc == "" {
			e.Doc = text[e.Name]
		}
		e.Name = pkg + "." + e.Name
	}
	return entries
}

// declaration is an entry while it is put together.
type declaration struct {
	name, doc     string
	notices       []string
	args, results []string      // items
	room          func() *frame // for one call
	in, out       []leaf
	fails         bool // the last result is an error
	stops         bool // the first parameter is a context
}

// leaf is one number inside the parameters or results.
type leaf struct {
	at   int   // parameter or result
	path []int // steps into structs (field) and arrays (index)
	typ  reflect.Type
	item int    // item that describes it; the elements of an array share theirs
	elem string // "1", "2", … inside an array
}

func (d *declaration) panic(format string, a ...any) {
	panic("compute.Of(" + strconv.Quote(d.name) + "): " + fmt.Sprintf(format, a...))
}

func (d *declaration) read(items []string) {
	results := false
	for _, item := range items {
		if doc, ok := strings.CutPrefix(item, "= "); ok {
			d.doc = doc
			continue
		}
		if code, ok := strings.CutPrefix(item, "! "); ok {
			d.notices = append(d.notices, strings.Fields(code)...)
			continue
		}
		for s := range strings.SplitSeq(item, ";") {
			for {
				s = strings.TrimSpace(s)
				before, after, arrow := strings.Cut(s, "->")
				if b := strings.TrimSpace(before); b != "" {
					if results {
						d.results = append(d.results, b)
					} else {
						d.args = append(d.args, b)
					}
				}
				if !arrow {
					break
				}
				if results {
					d.panic("a second -> in %q", item)
				}
				results, s = true, after
			}
		}
	}
}

// flatten appends the numbers of a value of type t; item counts the items.
func flatten(to []leaf, t reflect.Type, at int, path []int, elem string, item *int) []leaf {
	step := func(i int) []int { return append(append([]int(nil), path...), i) }
	switch t.Kind() {
	case reflect.Struct:
		for i := range t.NumField() {
			to = flatten(to, t.Field(i).Type, at, step(i), elem, item)
		}
		return to
	case reflect.Array:
		start := *item
		for i := range t.Len() {
			*item = start
			to = flatten(to, t.Elem(), at, step(i), strconv.Itoa(i+1), item)
		}
		return to
	}
	*item++
	return append(to, leaf{at, path, t, *item - 1, elem})
}

// si is what the types of package units say of themselves.
type si interface{ SI() string }

// describe pairs items with numbers and drops the numbers that have none.
func (d *declaration) describe(items []string, leaves []leaf, want int, args bool) ([]Arg, []leaf) {
	if len(items) != want {
		d.panic("%d items for %d numbers: %q", len(items), want, items)
	}
	list := []Arg{} // not null in JSON
	var kept []leaf
	for _, l := range leaves {
		if items[l.item] == "_" {
			continue
		}
		a := d.parse(items[l.item], &l, args)
		a.Name = strings.ReplaceAll(a.Name, "#", l.elem)
		list, kept = append(list, a), append(kept, l)
	}
	return list, kept
}

func (d *declaration) parse(item string, l *leaf, arg bool) Arg {
	m, ok := readItem(item)
	if !ok {
		d.panic("%q is not \"name [unit] low…high {choices} = default: text\"", item)
	}
	a := Arg{Name: m.name, Unit: m.unit, Doc: m.text, Low: -1e308, High: 1e308, typ: l.typ}
	if s, ok := reflect.Zero(l.typ).Interface().(si); ok {
		if a.Unit != "" && a.Unit != s.SI() {
			d.panic("%q: the type says %s", item, s.SI())
		}
		a.Unit = s.SI()
	}
	if a.Unit == "" || a.Unit == "(fraction)" {
		a.Unit = "1"
	}
	if l.typ == reflect.TypeFor[known.Validity]() {
		a.Flags = validityFlags()
	}
	switch l.typ.Kind() {
	case reflect.Bool:
		a.Choices = []string{"no", "yes"}
	case reflect.Float64, reflect.Float32:
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		if names := namesOf(l.typ); m.low == "" && m.choices == "" && len(names) > 0 {
			a.Choices = names
		}
	default:
		d.panic("%q: a %s is no number", item, l.typ)
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			d.panic("%q: %s is no number", item, s)
		}
		return x
	}
	if m.low != "" {
		a.Low, a.High = number(m.low), number(m.high)
	} else if arg && m.choices == "" && a.Choices == nil {
		d.panic("%q has no range", item)
	}
	if m.choices != "" {
		a.Choices = strings.Split(m.choices, "|")
	}
	if a.Choices != nil {
		a.Low, a.High = 0, float64(len(a.Choices)-1)
	}
	if m.def != "" {
		x, err := strconv.ParseFloat(m.def, 64)
		for i, c := range a.Choices {
			if c == m.def {
				x, err = float64(i), nil
			}
		}
		if err != nil || !(x >= a.Low && x <= a.High) {
			d.panic("%q: the default is not allowed", item)
		}
		a.Default = &x
	}
	return a
}

// namesOf asks an integer type for the names of 0, 1, …; flags have none.
func namesOf(t reflect.Type) []string {
	if t == reflect.TypeFor[known.Validity]() {
		return nil
	}
	var names []string
	for i := range 200 {
		v := reflect.New(t).Elem()
		setNumber(v, float64(i))
		s, ok := v.Interface().(fmt.Stringer)
		if !ok || s.String() == "" || unnamed(s.String()) || strings.HasPrefix(s.String(), "unknown ") {
			break
		}
		names = append(names, s.String())
	}
	return names
}

func setNumber(v reflect.Value, x float64) {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		v.SetFloat(x)
	case reflect.Bool:
		v.SetBool(x != 0)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(uint64(x))
	default:
		v.SetInt(int64(x))
	}
}

func getNumber(v reflect.Value) float64 {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		return v.Float()
	case reflect.Bool:
		if v.Bool() {
			return 1
		}
		return 0
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return float64(v.Uint())
	default:
		return float64(v.Int())
	}
}

func (l *leaf) in(v reflect.Value) reflect.Value {
	for _, i := range l.path {
		if v.Kind() == reflect.Array {
			v = v.Index(i)
		} else {
			v = v.Field(i)
		}
	}
	return v
}
