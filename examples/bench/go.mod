module example.org/bench

go 1.26

require (
	example.org/pithball v0.0.0
	gonum.org/v1/gonum v0.17.0
)

replace example.org/pithball => ../..
