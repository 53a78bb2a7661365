//go:build !ablate

package main

import (
	"errors"
	"io"

	"example.org/pithball/line/survey/internal/plants"
)

// ablation needs a build whose diagnosis can lack an ingredient.
func ablation(io.Writer, []plants.Kind, uint64, budget) error {
	return errors.New("-ablate: build with it, go run -tags ablate ./line/survey/internal/coverage -ablate")
}
