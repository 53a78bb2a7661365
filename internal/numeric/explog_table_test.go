package numeric

import (
	"math"
	"math/big"
	"testing"
)

// TestTables: powers of two against repeated square roots to 300 bits, logarithms against package math; each within one
// unit in its last place, or of 1 where it is a logarithm below.
func TestTables(t *testing.T) {
	const bits = 300
	root := big.NewFloat(2).SetPrec(bits)
	for range fineBits {
		root = new(big.Float).SetPrec(bits).Sqrt(root)
	}
	const each = 1 << (fineBits - tableBits)
	for i, p := 0, big.NewFloat(1).SetPrec(bits); i < 1<<fineBits; i, p = i+1, new(big.Float).SetPrec(bits).Mul(p, root) {
		want, _ := p.Float64()
		if !(math.Abs(fineTable[i]-want) <= 0x1p-52) {
			t.Errorf("2^(%d/1024): %v, want %v", i, fineTable[i], want)
		}
		if i%each == 0 && !(math.Abs(exp2Table[i/each]-want) <= 0x1p-52) {
			t.Errorf("2^(%d/128): %v, want %v", i/each, exp2Table[i/each], want)
		}
	}
	for i, r := range logTable {
		c := 1 + (float64(i)+0.5)/(1<<tableBits) // exact
		if r[0] != c || r[1] != 1/c || !(math.Abs(r[2]-math.Log(c)) <= 0x1p-53) {
			t.Errorf("%d: %v, want %v, %v and %v", i, r, c, 1/c, math.Log(c))
		}
	}
}
