package charge

import (
	"testing"
)

// The registry names no computation twice, every argument has a range that holds
// a value, and arguments outside it are refused.
func TestTransferRegistry(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range transferComputations() {
		if seen[e.Name] || e.Doc == "" || len(e.Covers) == 0 || e.Source.Provenance == 0 || len(e.Results) == 0 {
			t.Errorf("%s: repeated or incomplete", e.Name)
		}
		seen[e.Name] = true
		args, res := make([]float64, len(e.Args)), make([]float64, len(e.Results))
		for i, a := range e.Args {
			if !(a.Low <= a.High) {
				t.Errorf("%s.%s: range %g … %g", e.Name, a.Name, a.Low, a.High)
			}
			args[i] = a.High
		}
		args[0] = e.Args[0].High*2 + 1
		if err := e.Call(res, args); err == nil {
			t.Errorf("%s accepts %s = %g", e.Name, e.Args[0].Name, args[0])
		}
	}
}
