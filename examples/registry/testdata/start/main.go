// Command start imports every package of the library and asks nothing.
package main

import (
	_ "example.org/pithball/charge"
	_ "example.org/pithball/charge/field"
	_ "example.org/pithball/charge/gas"
	_ "example.org/pithball/charge/hazard"
	_ "example.org/pithball/decay"
	_ "example.org/pithball/decay/sheet"
	_ "example.org/pithball/humidity"
	_ "example.org/pithball/ionflow"
	_ "example.org/pithball/ionflow/ioniser"
	_ "example.org/pithball/ionflow/jet"
	_ "example.org/pithball/ionflow/transport"
	_ "example.org/pithball/line"
	_ "example.org/pithball/line/cure"
	_ "example.org/pithball/line/survey"
	_ "example.org/pithball/line/upkeep"
	_ "example.org/pithball/units"
	_ "example.org/pithball/units/compute"
	_ "example.org/pithball/units/known"
)

func main() {}
