package cure

import (
	"encoding/json"
	"errors"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/internal/strictjson"
	"example.org/pithball/units/known"
)

// Changes are changes in their order. In JSON each is an object with the name of the change
// under "do" beside its fields: {"do":"run","speed":"110 m/min"}.
type Changes []Change

// The names of changes in JSON.
var (
	webChanges = lazy.Value[map[string]Change]{Make: func() map[string]Change {
		return map[string]Change{"run": Run{}, "earth": Earth{}, "switch": Switch{}, "clean": Clean{}, "move": Move{},
			"add": Add{}, "blow": Blow{}, "remove": Remove{}, "cover": Cover{}, "load": Load{}, "wrap": Wrap{},
			"moisten": Moisten{},
			"warm":    Warm{}, "shield": Shield{}}
	}}
	goodsChanges = lazy.Value[map[string]GoodsChange]{Make: func() map[string]GoodsChange {
		return map[string]GoodsChange{"replace": Replace{}, "moisten": Moisten{}, "warm": Warm{}, "nearer": Nearer{},
			"pace": Pace{}}
	}}
)

// marshal writes a change with its name.
func marshal[C any](list map[string]C, c C) ([]byte, error) {
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

// read reads an object that has the name of a change beside its fields.
func read[C any](list map[string]C, o *strictjson.Object) (C, error) {
	var none C
	x, ok := list[o.Key("do")]
	if !ok {
		return none, o.Wrong("do", "one of "+strings.Join(slices.Sorted(maps.Keys(list)), ", "))
	}
	p := reflect.New(reflect.TypeOf(x))
	if err := o.Decode(p.Interface(), "do"); err != nil {
		return none, err
	}
	return p.Elem().Interface().(C), nil
}

// MarshalJSON writes the list.
func (c Changes) MarshalJSON() ([]byte, error) {
	out := []json.RawMessage{}
	for _, x := range c {
		b, err := marshal(webChanges.Get(), x)
		if err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads a list and leaves it as it was on an error, which tells all faults, each a
// [*known.FieldError] under its line and path, as changes[1].speed.
func (c *Changes) UnmarshalJSON(b []byte) error {
	var list struct {
		Changes []strictjson.Object `json:"changes"`
	}
	if err := strictjson.Decode(slices.Concat([]byte(`{"changes":`), b, []byte("}")), &list); err != nil {
		return err
	}
	var out Changes
	var errs []error
	for i := range list.Changes {
		x, err := read(webChanges.Get(), &list.Changes[i])
		out, errs = append(out, x), append(errs, err)
	}
	if err := errors.Join(errs...); err != nil {
		return err
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
		b, err := marshal(goodsChanges.Get(), c.Change)
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
	var o struct {
		Change strictjson.Object `json:"Change"`
	}
	err := strictjson.Decode(slices.Concat([]byte(`{"Change":`), x.Change, []byte("}")), &o)
	if err == nil {
		c.Change, err = read(goodsChanges.Get(), &o.Change)
	}
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
