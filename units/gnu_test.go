package units

import (
	"bufio"
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"
)

// TestGNU compares every factor of the table with what another converter answered
// (testdata/gnu_units.tsv; CI asks it anew). It computes in float64 with
// a rounding at each step of a definition: 2e-15 covers its longest.
func TestGNU(t *testing.T) {
	const tolerance = 2e-15
	// It has the conventional inch of water only.
	known := map[string]float64{"Pressure inH2O(4°C)": 3e-5, "Pressure inH2O(60°F)": 1e-3}
	kinds, asked := map[string]*kind{}, map[*unit]bool{}
	for _, k := range allKinds {
		k.link()
		kinds[k.goType()] = k
	}
	f, err := os.Open("testdata/gnu_units.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		c := strings.Split(lines.Text(), "\t")
		if len(c) != 5 || kinds[c[0]] == nil {
			t.Fatalf("line %q", lines.Text())
		}
		k, symbol, x := kinds[c[0]], c[1], "1"
		if k == &kindTemperature && strings.HasPrefix(c[2], "temp") { // "20 °C"
			x, symbol, _ = strings.Cut(symbol, " ")
		}
		u := k.find(symbol)
		if u == nil {
			t.Errorf("%s %s: asked, but not in the table", c[0], symbol)
			continue
		}
		asked[u] = true
		want, err := strconv.ParseFloat(c[4], 64)
		if err != nil {
			t.Fatal(err)
		}
		got := mustRat(x)
		got.Add(got, big.NewRat(u.off, 100))
		got.Mul(got, ratUnit(u))
		v, _ := got.Float64()
		limit := tolerance
		if l, ok := known[c[0]+" "+symbol]; ok {
			limit = l
		}
		if off := math.Abs(v/want - 1); !(off <= limit) {
			t.Errorf("%s %s: %.17g, the other %s for %q in %s, %.2g relative", c[0], c[1], v, c[4], c[2], c[3], off)
		}
	}
	for _, k := range allKinds {
		k.link()
		for i := range k.units {
			if !asked[&k.units[i]] {
				t.Errorf("%s %s: the other was not asked: run .ci/crosscheck/units/gnu.py", k.goType(), k.units[i].symbol)
			}
		}
	}
}
