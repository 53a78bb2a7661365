package survey

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestNumbers: what is written as a number is what its formula gives.
func TestNumbers(t *testing.T) {
	if want := math.Exp(-logSecond); !(math.Abs(second-want) <= 1e-15) {
		t.Errorf("second %v, want %v", second, want)
	}
	if want := fmt.Sprintf("at most %d MiB", MostBytes>>20); !strings.Contains(errTooLong.Error(), want) {
		t.Errorf("%v does not say %q", errTooLong, want)
	}
}
