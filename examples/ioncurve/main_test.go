package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
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
	if paths < 9 { // three pressures, three lines each
		t.Errorf("SVG has %d paths", paths)
	}
}

func TestCurvesKeepBelowTheirCeiling(t *testing.T) {
	curves, err := compute()
	if err != nil || len(curves) != 3 {
		t.Fatal(len(curves), err)
	}
	for k, c := range curves {
		for i, p := range c.delivered {
			if !(p.Y < c.recombination[i].Y) || i > 0 && !(p.Y < c.delivered[i-1].Y) || k > 0 &&
				!(p.Y > curves[k-1].delivered[i].Y) {
				t.Fatalf("%v at %g mm: %g under %g", c.gauge, p.X, p.Y, c.recombination[i].Y)
			}
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
