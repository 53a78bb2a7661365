package linetest_test

import (
	"errors"
	"flag"
	"fmt"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/linetest"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// One seed, so that a run repeats; -rapid.seed=0 draws anew, and fuzzing explores.
func init() { _ = flag.Set("rapid.seed", "1") }

func TestLine(t *testing.T) { linetest.Lines().Run(t, linetest.Of) }

func FuzzLine(f *testing.F) { linetest.Lines().Fuzz(f, linetest.Of) }

func TestProof(t *testing.T) {
	if err := linetest.Lines().Prove(); err != nil {
		t.Error(err)
	}
}

// netOnly keeps one number for the web, as who thinks in readings does: a roller on
// face A discharges face B.
type netOnly struct{ linetest.Model }

func (m netOnly) RunTo(dst []line.Result, v units.Speed) int {
	n := m.Model.RunTo(dst, v)
	for i := range dst[:n] {
		dst[i].A, dst[i].B = dst[i].Net(), 0
	}
	return n
}

// A model of somebody else against the laws, without a test.
func ExampleLines() {
	err := linetest.Lines().Check(func(d *line.Description) (linetest.Model, error) {
		l, err := line.New(d)
		return netOnly{l}, err
	})
	var v *lawtest.Violation
	if errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says) // v itself has the line and its speed
	}
	// Output: faces | the names of the faces do not matter
}

// TestCures: fewer inputs than the other kits, as each makes 2000 lines.
func TestCures(t *testing.T) {
	n := flag.Lookup("rapid.checks").Value.String()
	_ = flag.Set("rapid.checks", "10")
	defer func() { _ = flag.Set("rapid.checks", n) }()
	linetest.Cures().Run(t, linetest.Decides)
}

func TestCuresProof(t *testing.T) {
	if testing.Short() {
		t.Skip("draws many lines")
	}
	if err := linetest.Cures().Prove(); err != nil {
		t.Error(err)
	}
}
