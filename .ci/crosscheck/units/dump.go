//go:build ignore

// Command dump writes the table of accepted units as JSON, with what the library
// itself reads for "1 unit", for the comparison with other unit systems.
package main

import (
	"encoding/json"
	"log"
	"os"

	"example.org/pithball/units"
)

func main() {
	log.SetFlags(0)
	read := map[string]map[string]float64{} // type -> unit -> "1 unit" in the unit into
	into := map[string]int{}                // type -> index of a unit, that of SI if it has a spelling
	computed := map[string]bool{}
	for _, e := range units.Computations() {
		computed[e.Name] = true
	}
	kinds := units.Catalogue()
	for _, k := range kinds {
		if !computed["units.Convert"+k.Type] {
			log.Fatalf("%s has no conversion in the registry", k.Type)
		}
	}
	for _, e := range units.Computations() {
		if len(e.Args) == 3 && e.Args[1].Name == "from" && e.Results[0].Name == "value" &&
			e.Name != "units.ConvertStandardFlow" {
			typ := e.Name[len("units.Convert"):]
			read[typ] = map[string]float64{}
			into[typ] = siUnit(kinds, typ)
			for i, name := range e.Args[1].Choices {
				out := make([]float64, len(e.Results))
				if err := e.Call(out, []float64{1, float64(i), float64(into[typ])}); err != nil {
					log.Fatal(err)
				}
				read[typ][name] = out[0]
			}
		}
	}
	if err := json.NewEncoder(os.Stdout).Encode(map[string]any{"kinds": kinds, "read": read, "into": into}); err != nil {
		log.Fatal(err)
	}
}

// siUnit is the index of a unit of factor 1 without offset, 0 if there is none.
func siUnit(kinds []units.Kind, typ string) int {
	for _, k := range kinds {
		if k.Type == typ {
			for i, u := range k.Units {
				if u.Num == 1 && u.Den == 1 && u.Exp == 0 && u.Offset == 0 {
					return i
				}
			}
		}
	}
	return 0
}
