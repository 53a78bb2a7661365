//go:build unix

package outfile

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestStandardOutput: a path of what the program prints to, a pipe or a file, takes the file amid what is printed.
func TestStandardOutput(t *testing.T) {
	if os.Getenv("OUTFILE_TEST_STDOUT") != "" {
		os.Stdout.WriteString("before\n")
		if _, err := Write("/dev/stdout", []byte("report\n")); err != nil {
			os.Stdout.WriteString(err.Error())
		}
		os.Stdout.WriteString("after\n")
		os.Exit(0)
	}
	if _, err := os.Stat("/dev/stdout"); err != nil {
		t.Skip(err)
	}
	const want = "before\nreport\nafter\n"
	c := func() *exec.Cmd {
		c := exec.Command(os.Args[0], "-test.run=^TestStandardOutput$")
		c.Env = append(os.Environ(), "OUTFILE_TEST_STDOUT=1")
		return c
	}
	if b, err := c().Output(); err != nil || string(b) != want {
		t.Errorf("pipe: %q, %v", b, err)
	}
	name := filepath.Join(t.TempDir(), "printed")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	into := c()
	into.Stdout = f
	if err := into.Run(); err != nil {
		t.Error(err)
	}
	f.Close()
	holds(t, name, want)
	nothingLeft(t, filepath.Dir(name))
}
