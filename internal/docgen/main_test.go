package main

import (
	"os"
	"path/filepath"
	"testing"
)

func TestSentences(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("a.go", "package a\n\n// F returns the area of x, x².\n// More.\nfunc F(x float64) float64 { return x * x }\n\n"+
		"// T is a type.\ntype T float64\n\n// Heat is kT/e at the temperature.\nfunc (t T) Heat() T { return t }\n\n"+
		"// G returns nothing that the registry has.\nfunc G() {}\n\n// Odd says what it likes.\nfunc Odd() {}\n")
	write("computations.go", "package a\n\nvar list = []string{\"F\", \"T.Heat\", \"Odd\", \"Composite\"}\n")
	got, err := sentences(dir)
	want := "F\tThe area of x, x².\nOdd\tOdd says what it likes.\nT.Heat\tkT/e at the temperature.\n"
	if err != nil || got != want {
		t.Errorf("%v, got\n%swant\n%s", err, got, want)
	}
	if _, err := sentences(filepath.Join(dir, "none")); err == nil {
		t.Error("no error without a folder")
	}
}
