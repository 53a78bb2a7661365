package transport

import (
	"testing"

	"example.org/pithball/internal/named"
)

func TestNamesReadBack(t *testing.T) {
	for _, f := range named.Faults[WallCondition](3) {
		t.Error(f)
	}
}
