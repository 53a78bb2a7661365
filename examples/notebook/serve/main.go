// Command serve answers a notebook: one JSON-RPC 2.0 request a line on standard
// input, one answer a line on standard output, in order, until the input ends.
// It opens no port and no file.
//
//	hello                              version and every public computation with units, ranges and doc
//	compute {name, args}               args by name, numbers in SI; an array makes a column of results
//	survey  {line, survey}             texts of a line description and a survey: the verdict and the charges
//
// JSON has no NaN: a number that is not finite travels as null. Errors carry
// field, value and want of the fault.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"

	"example.org/pithball/examples/registry"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

const version = "1"

type request struct {
	JSONRPC string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Method  string          `json:"method"`
	Params  json.RawMessage `json:"params"`
}

type answer struct {
	JSONRPC string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Result  any             `json:"result,omitempty"`
	Error   *fault          `json:"error,omitempty"`
}

type fault struct {
	Code    int               `json:"code"`
	Message string            `json:"message"`
	Data    map[string]string `json:"data,omitempty"`
}

func main() {
	if err := serve(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "serve:", err)
		os.Exit(1)
	}
}

// mostLine is the longest request: a column of a million numbers and more.
const mostLine = 64 << 20

func serve(in io.Reader, out io.Writer) error {
	list := registry.All()
	sc := bufio.NewScanner(in)
	sc.Buffer(make([]byte, 64<<10), mostLine)
	w := bufio.NewWriter(out)
	e := json.NewEncoder(w)
	for sc.Scan() {
		var q request
		a := answer{JSONRPC: "2.0"}
		if err := json.Unmarshal(sc.Bytes(), &q); err != nil {
			a.Error = &fault{Code: -32700, Message: "not a JSON-RPC request: " + err.Error()}
		} else {
			a.ID = q.ID
			res, err := call(list, &q)
			a.Result = res
			if err != nil {
				a.Error = toFault(err)
			}
		}
		if err := e.Encode(a); err != nil {
			return err
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	return sc.Err()
}

var errMethod = errors.New("unknown method: want hello, compute or survey")

func toFault(err error) *fault {
	f := &fault{Code: -32602, Message: err.Error()}
	if errors.Is(err, errMethod) {
		f.Code = -32601
	}
	var k *known.FieldError
	if errors.As(err, &k) {
		f.Data = map[string]string{"field": k.Field, "value": k.Value, "want": k.Want}
	}
	return f
}

func call(list []compute.Entry, q *request) (any, error) {
	switch q.Method {
	case "hello":
		return map[string]any{"version": version, "constants": units.CODATA, "computations": list}, nil
	case "compute":
		var p struct {
			Name string                     `json:"name"`
			Args map[string]json.RawMessage `json:"args"`
		}
		if err := json.Unmarshal(q.Params, &p); err != nil {
			return nil, err
		}
		return column(list, p.Name, p.Args)
	case "survey":
		var p struct{ Line, Survey string }
		if err := json.Unmarshal(q.Params, &p); err != nil {
			return nil, err
		}
		return diagnose(p.Line, p.Survey)
	}
	return nil, errMethod
}

// number writes NaN and Inf as null.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

// column computes one value, or one for each element of the arguments that are
// arrays; these must have one length.
func column(list []compute.Entry, name string, args map[string]json.RawMessage) (any, error) {
	e := compute.Find(list, name)
	if e == nil {
		return nil, known.Wrong("name", name, "the name of a computation that hello lists")
	}
	cols := make([][]float64, len(e.Args))
	n := -1
	for i := range e.Args {
		a := &e.Args[i]
		raw, ok := args[a.Name]
		if !ok {
			return nil, known.Wrong(name+"."+a.Name, "", "a value in "+a.Unit)
		}
		var one *float64
		if err := json.Unmarshal(raw, &one); err == nil && one != nil {
			cols[i] = []float64{*one}
			continue
		}
		var many []*float64 // pointers, because null into a number would leave 0
		if err := json.Unmarshal(raw, &many); err != nil || many == nil {
			return nil, known.Wrong(name+"."+a.Name, string(raw[:min(len(raw), 40)]),
				"a number or an array of numbers in "+a.Unit)
		}
		cols[i] = make([]float64, len(many))
		for r, v := range many {
			if v == nil {
				return nil, known.Wrong(fmt.Sprintf("%s.%s[%d]", name, a.Name, r), "null", "a number in "+a.Unit)
			}
			cols[i][r] = *v
		}
		if n >= 0 && n != len(cols[i]) {
			return nil, known.Wrong(name+"."+a.Name, fmt.Sprintf("%d numbers", len(cols[i])),
				fmt.Sprintf("%d, as the other columns have", n))
		}
		n = len(cols[i])
	}
	if len(args) != len(e.Args) {
		return nil, known.Wrong(name, fmt.Sprintf("%d arguments", len(args)), fmt.Sprintf("%d", len(e.Args)))
	}
	rows := max(n, 1)
	if n == 0 {
		rows = 0
	}
	out := make(map[string]any, len(e.Results))
	res := make([][]number, len(e.Results))
	for k := range res {
		res[k] = make([]number, rows)
	}
	in, got := make([]float64, len(cols)), make([]float64, len(e.Results))
	for r := range rows {
		for i, c := range cols {
			in[i] = c[min(r, len(c)-1)]
		}
		if err := e.Call(got, in); err != nil {
			if n >= 0 {
				err = fmt.Errorf("row %d: %w", r, err)
			}
			return nil, err
		}
		for k := range got {
			res[k][r] = number(got[k])
		}
	}
	for k := range e.Results {
		if n < 0 {
			out[e.Results[k].Name] = res[k][0]
		} else {
			out[e.Results[k].Name] = res[k]
		}
	}
	return out, nil
}

// diagnose runs the main job on two texts.
func diagnose(description, readings string) (any, error) {
	d, err := line.ReadDescription(strings.NewReader(description))
	if err != nil {
		return nil, err
	}
	l, err := line.New(d)
	if err != nil {
		return nil, err
	}
	s, err := survey.ReadSurvey(strings.NewReader(readings))
	if err != nil {
		return nil, err
	}
	g, err := survey.Diagnose(l, s)
	if err != nil {
		return nil, err
	}
	v, err := g.Verdict()
	if err != nil {
		return nil, err
	}
	type station struct {
		Name string          `json:"name"`
		At   float64         `json:"at_m"`
		A    survey.Estimate `json:"faceA_C_per_m2"`
		B    survey.Estimate `json:"faceB_C_per_m2"`
		Net  survey.Estimate `json:"net_C_per_m2"`
	}
	out := make([]station, len(g.States))
	for i, st := range g.States {
		out[i] = station{d.Stations[i].Name, float64(d.Stations[i].At), st.A, st.B, st.Net}
	}
	return map[string]any{"lines": v.Lines(), "notices": v.Notices, "stations": out}, nil
}
