// Package floor is the computing side of the page for the floor: requests and answers are JSON, so that the same code
// runs in a browser, in a test and behind a loopback address. It holds no state.
//
// The description of a line is the JSON file and the readings are the rows of the CSV file that the program survey
// reads; what the page leaves out is filled in by [Fill], which lists what it assumed.
package floor

import (
	"encoding/json"
	"fmt"
)

// Most bytes of a request, of both files together: far more than a survey of [Most] readings.
const mostBytes = 32 << 20

// Do answers one request of the page. It never panics: a fault of ours comes back as one, in words.
func Do(name string, in []byte) (out []byte) {
	defer func() {
		if p := recover(); p != nil {
			out = fault(fmt.Sprintf("the page failed (%s: %v): save your files and report it", name, p))
		}
	}()
	if len(in) > mostBytes {
		return fault(fmt.Sprintf("%d bytes: want at most %d", len(in), mostBytes))
	}
	var v any
	var err error
	switch name {
	case "start":
		v = start()
	case "warm":
		v, err = warm()
	case "fill":
		v, err = with(in, fillRequest)
	case "answer":
		v, err = with(in, answer)
	case "result":
		v, err = with(in, result)
	case "try":
		v, err = with(in, try)
	case "plan":
		v, err = with(in, plan)
	case "compare":
		v, err = with(in, compare)
	case "counts":
		v, err = with(in, count)
	case "forecast":
		v, err = with(in, forecast)
	case "goods":
		v, err = with(in, goodsAnswer)
	case "keep":
		v, err = with(in, keep)
	case "goodskeep":
		v, err = with(in, keepGoods)
	case "open":
		v, err = with(in, open)
	case "save":
		v, err = with(in, save)
	case "expect":
		v, err = with(in, expect)
	case "report":
		v, err = with(in, written)
	default:
		err = fmt.Errorf("%q: no such request", name)
	}
	if err == nil {
		if out, err = json.Marshal(v); err == nil {
			return out
		}
	}
	return fault(err.Error())
}

// with decodes the request and answers it.
func with[Q, A any](in []byte, f func(*Q) (A, error)) (a A, err error) {
	q := new(Q)
	if err := json.Unmarshal(in, q); err != nil {
		return a, fmt.Errorf("request: %w", err)
	}
	return f(q)
}

// Fault is one fault of the input: where and what.
type Fault struct {
	Where string `json:"where"` // "line", "survey" or ""
	Row   int    `json:"row"`   // of a reading, from 0; -1 otherwise
	Text  string `json:"text"`
}

func fault(text string) []byte {
	b, err := json.Marshal(map[string][]Fault{"faults": {{Row: -1, Text: text}}})
	if err != nil {
		panic(err) // strings only: cannot fail
	}
	return b
}
