package picture

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
)

// drawn is a picture of a width with words of some length above.
func drawn(t *testing.T, width vg.Length, words string) []byte {
	t.Helper()
	file := filepath.Join(t.TempDir(), "a.svg")
	c, err := New(file, width, 8*vg.Centimeter, []string{words}, []string{"caution <&> µ"})
	if err != nil {
		t.Fatal(err)
	}
	p := plot.New()
	p.X.Label.Text, p.Y.Label.Text = "across", "up"
	p.X.Min, p.X.Max, p.X.Scale, p.X.Tick.Marker = 1, 1000, plot.LogScale{}, Decades{}
	Styled(p)
	c.Plots([][]*plot.Plot{{p}})
	if err := c.Save(); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestFaults: words are found too small in a wide picture, and out of one that is too narrow for them; a narrow picture
// with short words has no fault, whatever face the reader has.
func TestFaults(t *testing.T) {
	if f := Faults(drawn(t, Narrow, "short"), 390); f != nil {
		t.Error(f)
	}
	if f := Faults(drawn(t, 20*vg.Centimeter, "short"), 390); len(f) == 0 || !strings.HasSuffix(f[0], " px") {
		t.Error("small words are not found", f)
	}
	long := strings.Repeat("long ", 20)
	if f := Faults(drawn(t, Narrow, long), 390); len(f) != 1 || !strings.Contains(f[0], ": from -") {
		t.Error("clipped words are not found", f)
	}
	loose := strings.Replace(string(drawn(t, Narrow, "short")), "textLength", "length", 1)
	if f := Faults([]byte(loose), 390); len(f) != 1 {
		t.Error("a text without its width is not found", f)
	}
	if f := Faults(nil, 390); len(f) != 1 {
		t.Error(f)
	}
	if !strings.Contains(loose, "caution &lt;&amp;&gt; µ") || !strings.Contains(loose, "Arial,Helvetica,sans-serif") {
		t.Error("the caution or a face for other machines is missing")
	}
}

// TestDecades: powers of ten have words, and all between have marks.
func TestDecades(t *testing.T) {
	var words []string
	ticks := Decades{}.Ticks(0.1, 100)
	for _, x := range ticks {
		if x.Label != "" {
			words = append(words, x.Label)
		}
	}
	if got := strings.Join(words, " "); got != "0.1 1 10 100" || len(ticks) != 28 {
		t.Errorf("%s, %d marks", got, len(ticks))
	}
}

func TestKind(t *testing.T) {
	if _, err := New("a.doc", Narrow, Narrow, nil, nil); err == nil || !strings.Contains(err.Error(), ".png or .svg") {
		t.Error(err)
	}
}
