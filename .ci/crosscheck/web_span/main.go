// Command web_span prints the free-span cases that web_span.py recomputes with
// its own discretisation.
package main

import (
	"encoding/json"
	"log"
	"os"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
)

type record struct {
	Length    float64 `json:"length"`
	Speed     float64 `json:"speed"`
	Spreading float64 `json:"spreading"`
	R1        float64 `json:"r1"`
	R2        float64 `json:"r2"`
	Gap       float64 `json:"gap"`
	Deposit   float64 `json:"deposit"`
	Inlet     float64 `json:"inlet_share"`
	Mid       float64 `json:"mid"`
	Share     float64 `json:"deposit_share"`
}

func main() {
	log.SetFlags(0)
	var out []record
	for _, c := range []record{
		{1, 1, 0.3, 0.05, 0.05, 2e-6, 0.3, 0, 0, 0},
		{1, 1, 1, 0.05, 0.05, 2e-6, 0.3, 0, 0, 0},
		{1, 1, 3, 0.05, 0.15, 2e-6, 0.2, 0, 0, 0},
		{1, 1, 10, 0.1, 0.05, 1e-5, 0.5, 0, 0, 0},
		{0.6, 2, 60, 0.08, 0.08, 5e-6, 0.2, 0, 0, 0},
		{1, 1, 300, 0.05, 0.05, 2e-6, 0.3, 0, 0, 0},
	} {
		fine, coarse := at(c, 0.05), at(c, 0.1)
		// The error falls with the square of the step.
		c.Inlet = fine.Inlet + (fine.Inlet-coarse.Inlet)/3
		c.Mid = fine.Mid + (fine.Mid-coarse.Mid)/3
		c.Share = fine.Share + (fine.Share-coarse.Share)/3
		out = append(out, c)
	}
	if err := json.NewEncoder(os.Stdout).Encode(out); err != nil {
		log.Fatal(err)
	}
}

func at(c record, step float64) record {
	w, err := sheet.NewFreeSpanWeb(sheet.FreeSpanSpec{
		Length: units.Length(c.Length), Speed: units.Speed(c.Speed),
		// ρ_s from v_s = 1/(2 ε0 ρ_s).
		SurfaceResistivity: units.SheetResistance(1 / (2 * units.Epsilon0 * c.Spreading)),
		InletRadius:        units.Length(c.R1), OutletRadius: units.Length(c.R2), ContactGap: units.Length(c.Gap),
	}, &sheet.FreeSpanSettings{Step: step})
	if err != nil {
		log.Fatal(err)
	}
	s := w.FromInlet(1)
	c.Inlet, c.Mid, c.Share = s.DownstreamShare, float64(s.MidSpan), w.DownstreamShare(units.Length(c.Deposit))
	return c
}
