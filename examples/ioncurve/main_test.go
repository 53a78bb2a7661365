package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/pithball/examples/internal/picture"
)

func TestFigureIsWritten(t *testing.T) {
	dir := t.TempDir()
	p, s := filepath.Join(dir, "c.png"), filepath.Join(dir, "c.svg")
	var out, errs bytes.Buffer
	if code := run([]string{"-png", p, "-svg", s}, &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	if !strings.HasPrefix(out.String(), "Invented bar") {
		t.Errorf("the table does not say that the bar is invented: %q", out.String())
	}
	f, err := os.Open(p)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if img, err := png.Decode(f); err != nil || img.Bounds().Dx() < 500 {
		t.Errorf("PNG: %v", err)
	}
	b, err := os.ReadFile(s)
	if err != nil {
		t.Fatal(err)
	}
	paths := 0
	for d := xml.NewDecoder(bytes.NewReader(b)); ; {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := tok.(xml.StartElement); ok && e.Name.Local == "path" {
			paths++
		}
	}
	if paths < 12 { // three pressures, four lines each
		t.Errorf("SVG has %d paths", paths)
	}
}

// The limits are e·Q0'·U0/(α·x) and ε0·Q0'·U0/(μ·x): 12.5 and 6.5 µA/m by hand for 50 holes of 1 mm a metre at 205 m/s
// and 10 mm, of which 0.7 leaves. They fall as 1/x, and their ratio is e·μ/(ε0·α). What the web draws is never less
// than what the stream delivers, and a strong web far off draws more than both limits.
func TestCurves(t *testing.T) {
	curves, err := compute()
	if err != nil || len(curves) != 3 {
		t.Fatal(len(curves), err)
	}
	first := curves[0].points[0]
	hand := 1.602e-19 * 50 * 0.7 * math.Pi / 4 * 1e-6 * 205 * 205 / (1.6e-12 * 0.01) * 1e6
	if !(math.Abs(first.pairs/hand-1) < 0.1) { // the discharge contracts the equivalent jet a little less
		t.Errorf("%g µA/m, by hand %g", first.pairs, hand)
	}
	for _, c := range curves {
		for i, p := range c.points {
			if !(p.all >= p.alone && p.alone > 0) || i > 0 && !(p.all <= c.points[i-1].all*1.001) ||
				!(math.Abs(p.pairs*p.mm/(c.points[0].pairs*10)-1) < 1e-9) ||
				!(math.Abs(p.single/p.pairs*1.602e-19*1.7e-4/(8.854e-12*1.6e-12)-1) < 1e-3) {
				t.Fatalf("%v at %g mm: %+v", c.gauge, p.mm, p)
			}
		}
		if last := c.points[steps]; !(last.all > last.pairs && last.all > last.single) {
			t.Errorf("%v: %+v", c.gauge, last)
		}
	}
}

// The caution stands in the picture, wide and narrow.
func TestCautionIsDrawn(t *testing.T) {
	for _, args := range [][]string{{}, {"-narrow"}} {
		s := filepath.Join(t.TempDir(), "c.svg")
		var out, errs bytes.Buffer
		if code := run(append(args, "-svg", s), &out, &errs); code != 0 {
			t.Fatal(errs.String())
		}
		b, err := os.ReadFile(s)
		if err != nil || !strings.Contains(string(b), "can injure") ||
			!strings.Contains(string(b), "competent persons decide") ||
			!strings.Contains(out.String(), caution) {
			t.Errorf("%v: no caution, %v", args, err)
		}
		page := 390.0 // of a phone
		if len(args) == 0 {
			page = 945 // as wide as it is drawn
		}
		for _, f := range picture.Faults(b, page) {
			t.Errorf("%v: %s", args, f)
		}
	}
}

func TestBadUse(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run([]string{"-nosuch"}, &out, &errs); code != 2 {
		t.Errorf("unknown flag: exit %d", code)
	}
	if code := run([]string{"-png", filepath.Join(t.TempDir(), "no", "such", "folder.png")}, &out, &errs); code != 1 ||
		!strings.Contains(errs.String(), "ioncurve:") {
		t.Errorf("unwritable file: exit %d, %s", code, errs.String())
	}
}
