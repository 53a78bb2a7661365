//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestStops: a build that is stopped ends its compiler and leaves neither a page nor a file of its own.
func TestStops(t *testing.T) {
	exe := filepath.Join(t.TempDir(), "page.exe")
	if out, err := exec.Command("go", "build", "-o", exe, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		work := t.TempDir()
		var told strings.Builder
		c := exec.Command(exe, "-build", filepath.Join(work, "site"))
		c.Stderr = &told
		c.Env = append(os.Environ(), "TMPDIR="+work)
		c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // the compiler hears of it from the program alone
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		// Once its folder is there it compiles, which takes longer than a signal.
		for range 2000 {
			if list, _ := filepath.Glob(filepath.Join(work, "page-*")); len(list) > 0 {
				break
			}
			time.Sleep(5 * time.Millisecond)
		}
		if err := c.Process.Signal(sig); err != nil {
			t.Fatal(err)
		}
		c.Wait()
		code := c.ProcessState.ExitCode()
		if code == 0 {
			t.Log("the page was written before the signal came")
			continue
		}
		if code != 130 || told.String() != "page: stopped\n" {
			t.Errorf("%v: exit %d, %q", sig, code, told.String())
		}
		left, err := os.ReadDir(work)
		if err != nil || len(left) > 0 {
			t.Errorf("%v: left %v, %v", sig, left, err)
		}
	}
}
