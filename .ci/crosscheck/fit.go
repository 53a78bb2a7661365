// Command fit reads records as JSON from standard input, fits them with package
// decay and writes what it found: fit.py compares that with scipy.
package main

import (
	"encoding/json"
	"fmt"
	"os"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

type record struct {
	Model   uint8     `json:"model"`
	T       []float64 `json:"t_s"`
	V       []float64 `json:"v_V"`
	Abs     float64   `json:"abs_V"`
	Rel     float64   `json:"rel"`
	Known   bool      `json:"known"`
	Profile string    `json:"profile"`
}

type answer struct {
	Model   string             `json:"model"`
	Params  map[string]float64 `json:"params"`
	Errors  map[string]float64 `json:"errors"`
	Chi2    float64            `json:"chi2"`
	Profile [2]float64         `json:"profile"`
}

func run() error {
	var records []record
	if err := json.NewDecoder(os.Stdin).Decode(&records); err != nil {
		return err
	}
	var out []answer
	for _, r := range records {
		c, err := decay.FitDecay(quantities[units.Time](r.T), quantities[units.Voltage](r.V), decay.FitSettings{
			Models: []decay.Model{decay.Model(r.Model)}, Abs: units.Voltage(r.Abs), Rel: r.Rel, Known: r.Known,
			Independent: true,
		})
		if err != nil {
			return err
		}
		f := c.Best()
		a := answer{Model: f.Model().String(), Params: map[string]float64{}, Errors: map[string]float64{}, Chi2: f.Chi2()}
		for _, p := range f.Params() {
			a.Params[p.Name], a.Errors[p.Name] = p.Value, p.Err
		}
		if a.Profile[0], a.Profile[1], err = f.Profile(r.Profile); err != nil {
			return err
		}
		out = append(out, a)
	}
	return json.NewEncoder(os.Stdout).Encode(out)
}

func quantities[Q ~float64](x []float64) []Q {
	q := make([]Q, len(x))
	for i, v := range x {
		q[i] = Q(v)
	}
	return q
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
