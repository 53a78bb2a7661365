package named_test

import (
	"testing"

	"example.org/pithball/internal/named"
)

type colour uint8

var colours = []string{"red", "green"}

func (c colour) String() string                { return named.Of("colour", colours, c) }
func (c colour) MarshalText() ([]byte, error)  { return named.Write("colour", colours, c) }
func (c *colour) UnmarshalText(b []byte) error { return named.Read("colour", colours, b, c) }

// hasty reads anything as its first name.
type hasty uint8

func (c hasty) String() string               { return named.Of("hasty", colours, c) }
func (c hasty) MarshalText() ([]byte, error) { return named.Write("hasty", colours, c) }
func (c *hasty) UnmarshalText([]byte) error  { *c = 0; return nil }

func TestNames(t *testing.T) {
	if f := named.Faults[colour](2); f != nil {
		t.Error(f)
	}
	if f := named.Faults[colour](3); len(f) != 1 {
		t.Error("a missing name unseen", f)
	}
	if f := named.Faults[hasty](2); len(f) != 3 {
		t.Error("a careless reader unseen", f)
	}
	if colour(1).String() != "green" || colour(9).String() != "colour(9)" {
		t.Error(colour(1), colour(9))
	}
}
