package cure

import (
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"

	"example.org/pithball/internal/strictjson"
	"example.org/pithball/units/known"
)

// Changes are changes in their order. In JSON each is an object with the name of the change
// under "do" beside its fields: {"do":"run","speed":"110 m/min"}.
type Changes []Change

// The names of changes in JSON.
var (
	webChanges = map[string]Change{"run": Run{}, "earth": Earth{}, "switch": Switch{}, "clean": Clean{}, "move": Move{},
		"add": Add{}, "blow": Blow{}, "remove": Remove{}, "cover": Cover{}, "load": Load{}, "wrap": Wrap{},
		"moisten": Moisten{},
		"warm":    Warm{}, "shield": Shield{}}
	goodsChanges = map[string]GoodsChange{"replace": Replace{}, "moisten": Moisten{}, "warm": Warm{}, "nearer": Nearer{},
		"pace": Pace{}}
)

// written writes a change with its name.
func written[C any](list map[string]C, c C) ([]byte, error) {
	do := ""
	for name, x := range list {
		if reflect.TypeOf(x) == reflect.TypeOf(c) {
			do = name
		}
	}
	b, err := json.Marshal(c)
	if err != nil || do == "" {
		return nil, known.Wrong("change", reflect.TypeOf(c), "a change of the closed list")
	}
	head := `{"do":"` + do + `"`
	if string(b) != "{}" {
		head += ","
	}
	return append([]byte(head), b[1:]...), nil
}

// read reads what written wrote.
func read[C any](list map[string]C, b []byte) (C, error) {
	var none C
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(b, &fields); err != nil {
		return none, known.Wrong("change", string(b), "an object")
	}
	var do string
	_ = json.Unmarshal(fields["do"], &do) // a do that is no text is no name
	x, ok := list[do]
	if !ok {
		var names []string
		for name := range list {
			names = append(names, name)
		}
		slices.Sort(names)
		return none, known.Wrong("do", do, "one of "+strings.Join(names, ", "))
	}
	delete(fields, "do")
	rest, err := json.Marshal(fields)
	if err != nil {
		return none, err
	}
	p := reflect.New(reflect.TypeOf(x))
	if err := strictjson.Decode(rest, p.Interface()); err != nil {
		return none, err
	}
	return p.Elem().Interface().(C), nil
}

// MarshalJSON writes the list.
func (c Changes) MarshalJSON() ([]byte, error) {
	out := []json.RawMessage{}
	for _, x := range c {
		b, err := written(webChanges, x)
		if err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads a list; errors are [*known.FieldError]s and leave it as it was.
func (c *Changes) UnmarshalJSON(b []byte) error {
	var raw []json.RawMessage
	if err := json.Unmarshal(b, &raw); err != nil {
		return known.Wrong("changes", string(b), "a list")
	}
	var out Changes
	for _, r := range raw {
		x, err := read(webChanges, r)
		if err != nil {
			return err
		}
		out = append(out, x)
	}
	*c = out
	return nil
}

// MarshalJSON writes the cure with the name of its change under "do".
func (c GoodsCure) MarshalJSON() ([]byte, error) {
	type plain GoodsCure // without this method
	x := struct {
		plain
		Change json.RawMessage
	}{plain: plain(c)}
	if c.Change != nil {
		b, err := written(goodsChanges, c.Change)
		if err != nil {
			return nil, err
		}
		x.Change = b
	}
	return json.Marshal(x)
}

// UnmarshalJSON reads what MarshalJSON writes.
func (c *GoodsCure) UnmarshalJSON(b []byte) error {
	type plain GoodsCure
	x := struct {
		*plain
		Change json.RawMessage
	}{plain: (*plain)(c)}
	if err := json.Unmarshal(b, &x); err != nil {
		return err
	}
	c.Change = nil
	if len(x.Change) == 0 || string(x.Change) == "null" {
		return nil
	}
	var err error
	c.Change, err = read(goodsChanges, x.Change)
	return err
}

// MarshalJSON writes three numbers; one that is not a number is null.
func (q Quantiles) MarshalJSON() ([]byte, error) {
	var p [3]*float64
	for i := range q {
		if !math.IsNaN(q[i]) && !math.IsInf(q[i], 0) {
			p[i] = &q[i]
		}
	}
	return json.Marshal(p)
}

// UnmarshalJSON reads three numbers; null is NaN.
func (q *Quantiles) UnmarshalJSON(b []byte) error {
	var p []*float64
	if err := json.Unmarshal(b, &p); err != nil || len(p) != 3 {
		return known.Wrong("quantiles", string(b), "three numbers")
	}
	for i := range q {
		q[i] = math.NaN()
		if p[i] != nil {
			q[i] = *p[i]
		}
	}
	return nil
}
