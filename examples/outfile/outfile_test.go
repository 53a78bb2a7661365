//go:build unix

package outfile

import (
	"bufio"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

func put(t *testing.T, path, text string) string {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	if b, err := os.ReadFile(path); err != nil || string(b) != want {
		t.Errorf("%s: %q, %v, want %q", path, b, err, want)
	}
}

func nothingLeft(t *testing.T, dir string) {
	t.Helper()
	if left, _ := filepath.Glob(filepath.Join(dir, ".pithball-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// TestInputIsNoOutput: whatever name it is given by.
func TestInputIsNoOutput(t *testing.T) {
	d := t.TempDir()
	in := put(t, filepath.Join(d, "line.json"), "input")
	link, hard := filepath.Join(d, "link"), filepath.Join(d, "hard")
	if err := os.Symlink("line.json", link); err != nil {
		t.Fatal(err)
	}
	if err := os.Link(in, hard); err != nil {
		t.Fatal(err)
	}
	for _, out := range []string{in, link, hard, filepath.Join(d, ".", "..", filepath.Base(d), "line.json")} {
		if _, err := Write(out, []byte("x"), "", "nosuch", in); err == nil || !strings.Contains(err.Error(), "input") {
			t.Errorf("%s: %v", out, err)
		}
		holds(t, in, "input")
	}
	nothingLeft(t, d)
}

func TestLinkStays(t *testing.T) {
	d := t.TempDir()
	put(t, filepath.Join(d, "old"), "old")
	for _, c := range [][2]string{{"to-old", "old"}, {"to-new", "new"}, {"chain", "to-old"}} {
		link, to := c[0], c[1]
		if err := os.Symlink(to, filepath.Join(d, link)); err != nil {
			t.Fatal(err)
		}
		if _, err := Write(filepath.Join(d, link), []byte(link)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.Readlink(filepath.Join(d, link)); err != nil || got != to {
			t.Errorf("%s: %q, %v", link, got, err)
		}
		holds(t, filepath.Join(d, to), link)
	}
	if err := os.Symlink("round", filepath.Join(d, "round")); err != nil {
		t.Fatal(err)
	}
	if _, err := Write(filepath.Join(d, "round"), nil); err == nil {
		t.Error("a ring of links is written")
	}
	nothingLeft(t, d)
}

func TestPermissions(t *testing.T) {
	d := t.TempDir()
	old := syscall.Umask(0o027)
	defer syscall.Umask(old)
	for name, want := range map[string]os.FileMode{"new": 0o640, "private": 0o600, "open": 0o666} {
		p := filepath.Join(d, name)
		if name != "new" {
			put(t, p, "old")
			if err := os.Chmod(p, want); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := Write(p, []byte("x")); err != nil {
			t.Fatal(err)
		}
		if i, err := os.Stat(p); err != nil || i.Mode().Perm() != want {
			t.Errorf("%s: %v, want %v", name, i.Mode().Perm(), want)
		}
	}
}

// TestThrough: a pipe and a device stay what they are.
func TestThrough(t *testing.T) {
	d := t.TempDir()
	pipe := filepath.Join(d, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	got := make(chan string)
	go func() {
		f, err := os.Open(pipe)
		if err != nil {
			got <- err.Error()
			return
		}
		defer f.Close()
		b, _ := io.ReadAll(f)
		got <- string(b)
	}()
	if _, err := Write(pipe, []byte("report")); err != nil {
		t.Fatal(err)
	}
	if s := <-got; s != "report" {
		t.Errorf("%q", s)
	}
	if _, err := Write(os.DevNull, []byte("x")); err != nil {
		t.Error(err)
	}
	if i, err := os.Stat(os.DevNull); err != nil || i.Mode().IsRegular() {
		t.Error("the device is gone")
	}
	if _, err := Write(d, []byte("x")); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Error(err)
	}
	if _, err := Write(filepath.Join(d, "no", "such"), nil); err == nil {
		t.Error("written into no folder")
	}
}

// TestTerminated: SIGTERM amid the writing leaves the old file and nothing else.
func TestTerminated(t *testing.T) {
	if dir := os.Getenv("OUTFILE_TEST_DIR"); dir != "" {
		b := make([]byte, 1<<20)
		os.Stdout.WriteString("begun\n")
		for {
			if _, err := Write(filepath.Join(dir, "report"), b); err != nil {
				t.Fatal(err)
			}
		}
	}
	for range 5 {
		dir := t.TempDir()
		c := exec.Command(os.Args[0], "-test.run=^TestTerminated$")
		c.Env = append(os.Environ(), "OUTFILE_TEST_DIR="+dir)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		bufio.NewReader(out).ReadString('\n')
		time.Sleep(30 * time.Millisecond)
		c.Process.Signal(syscall.SIGTERM)
		c.Wait()
		nothingLeft(t, dir)
		if i, err := os.Stat(filepath.Join(dir, "report")); err == nil && i.Size() != 1<<20 {
			t.Errorf("%d bytes", i.Size())
		}
	}
}
