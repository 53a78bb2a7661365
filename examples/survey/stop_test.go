//go:build unix

package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestStops: a run that takes long ends soon after Ctrl-C or a SIGTERM with status 130, says so, leaves the earlier
// report alone and no file of its own. With -progress it tells what it is at. Nothing here hangs on how busy the
// machine is: the signal comes when the program has told its first second, and what it waits for never ends by itself.
func TestStops(t *testing.T) {
	exe := filepath.Join(t.TempDir(), "survey.exe")
	if out, err := exec.Command("go", "build", "-o", exe, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	s := read(t, "survey.csv")
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		dir := t.TempDir()
		// A pipe that nobody ends stands for a long reading.
		pipe := filepath.Join(dir, "s.csv")
		if err := syscall.Mkfifo(pipe, 0o600); err != nil {
			t.Skip(err)
		}
		write(t, dir, "l.json", read(t, "line.json"))
		old := write(t, dir, "pithball-survey.html", "an earlier report")
		cmd := exec.Command(exe, "-line", "l.json", "-survey", "s.csv", "-progress")
		cmd.Dir = dir
		var o bytes.Buffer
		cmd.Stdout = &o
		e, err := cmd.StderrPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		w, err := os.OpenFile(pipe, os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.WriteString(s[:2000]); err != nil {
			t.Fatal(err)
		}
		told := bufio.NewReader(e)
		first, err := told.ReadString('\n')
		if err != nil || !strings.HasPrefix(first, "survey: reading, ") {
			t.Errorf("%q, %v", first, err)
		}
		if err := cmd.Process.Signal(sig); err != nil {
			t.Fatal(err)
		}
		rest, err := io.ReadAll(told)
		if err != nil {
			t.Error(err)
		}
		err = cmd.Wait()
		w.Close() // only now: without the signal it would wait for ever
		var x *exec.ExitError
		if !errors.As(err, &x) || x.ExitCode() != 130 || o.Len() != 0 || !strings.HasSuffix(string(rest),
			"survey: stopped\n") {
			t.Errorf("%v: %v, %q, %q", sig, err, o.String(), rest)
		}
		if b, _ := os.ReadFile(old); string(b) != "an earlier report" {
			t.Error("the earlier report was touched")
		}
		if left, _ := filepath.Glob(filepath.Join(dir, ".pithball-*")); len(left) != 0 {
			t.Errorf("left behind: %v", left)
		}
	}
}

// TestPipes: files can come from pipes, which can be read once.
func TestPipes(t *testing.T) {
	var want, got, told strings.Builder
	if code := run([]string{"-html", ""}, &want, &told); code != 0 {
		t.Fatal(told.String())
	}
	args := []string{"-html", ""}
	for flag, name := range map[string]string{"-line": "line.json", "-survey": "survey.csv"} {
		pipe := filepath.Join(t.TempDir(), name)
		if err := syscall.Mkfifo(pipe, 0o600); err != nil {
			t.Skip(err)
		}
		text := read(t, name)
		go func() { _ = os.WriteFile(pipe, []byte(text), 0) }()
		args = append(args, flag, pipe)
	}
	if code := run(args, &got, &told); code != 0 {
		t.Fatal(told.String())
	}
	if got.String() != want.String() {
		t.Errorf("from pipes:\n%s", got.String())
	}
}
