module example.org/sweep

go 1.26

require (
	example.org/pithball v0.0.0
	github.com/google/go-cmp v0.7.0
)

require gonum.org/v1/gonum v0.17.0 // indirect

replace example.org/pithball => ../..
