// Package outfile writes the output files of the example programs.
package outfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
)

// Write writes the whole file or nothing: who reads the path meanwhile sees the old
// file or the new one, also after a loss of power, never half of one. It returns the
// path of the file.
//
// A path that is one of the inputs, by whatever name, is refused. A symbolic link is
// followed and stays a link. What is no regular file, a pipe or a device, is written
// through, and so is what the program prints to. A new file has the permissions that
// the umask leaves, an old one keeps its own. SIGINT and SIGTERM while writing remove
// what was begun and end the program with status 1.
func Write(path string, b []byte, inputs ...string) (string, error) {
	if err := Check(path, inputs...); err != nil {
		return "", err
	}
	mode := fs.FileMode(0)
	switch info, err := os.Stat(path); {
	case err == nil && info.IsDir():
		return "", fmt.Errorf("%s: is a folder: want a file", path)
	case err == nil && is(info, os.Stdout):
		return path, straight(os.Stdout, b)
	case err == nil && is(info, os.Stderr):
		return path, straight(os.Stderr, b)
	case err == nil && !info.Mode().IsRegular():
		return path, through(path, b)
	case err == nil:
		mode = info.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return "", err
	}
	target, err := follow(path)
	if err != nil {
		return "", err
	}
	if err := replace(target, b, mode); err != nil {
		return "", err
	}
	return path, nil
}

// Check refuses a path that is one of the inputs: for who wants to know before long work.
func Check(path string, inputs ...string) error {
	for _, in := range inputs {
		if same(path, in) {
			return fmt.Errorf("%s: is the input %s: want another file", path, in)
		}
	}
	return nil
}

// same says whether two paths name one file.
func same(a, b string) bool {
	if b == "" {
		return false
	}
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y) && x.Mode().IsRegular()
}

// follow returns the file at the end of the links, which need not exist.
func follow(path string) (string, error) {
	for range 40 {
		info, err := os.Lstat(path)
		if err != nil || info.Mode()&fs.ModeSymlink == 0 {
			return path, nil
		}
		to, err := os.Readlink(path)
		if err != nil {
			return "", err
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return "", fmt.Errorf("%s: too many symbolic links", path)
}

// is says whether a path names what the program prints to, as /dev/stdout does: a file that was put in its place would
// lose all that is printed, and the link that stands for a pipe leads to no path.
func is(info fs.FileInfo, f *os.File) bool {
	own, err := f.Stat()
	return err == nil && os.SameFile(info, own)
}

// straight writes where the program prints, behind what it has printed.
func straight(f *os.File, b []byte) error {
	_, err := f.Write(b)
	return err
}

func through(path string, b []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	return errors.Join(err, f.Close())
}

// replace puts a new file in the place of the old one.
func replace(path string, b []byte, mode fs.FileMode) error {
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt, syscall.SIGTERM) // before there is anything to remove
	defer func() {
		signal.Stop(stop) // which waits for what is on its way
		select {
		case <-stop: // it came when nothing was left to remove, and must not be lost
			os.Exit(1)
		default:
		}
	}()
	f, err := create(path)
	if err != nil {
		return err
	}
	tmp := f.Name()
	done, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		select {
		case <-stop:
			os.Remove(tmp)
			os.Exit(1)
		case <-done:
		}
	}()
	_, err = f.Write(b)
	if err == nil && mode != 0 {
		err = f.Chmod(mode)
	}
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(tmp, path)
	}
	if err != nil {
		os.Remove(tmp)
	}
	close(done)
	<-ended
	if err == nil {
		if d, e := os.Open(filepath.Dir(path)); e == nil {
			d.Sync() // not every system can; the file itself is whole either way
			d.Close()
		}
	}
	return err
}

// create makes a file beside path, with the permissions that the umask leaves.
func create(path string) (*os.File, error) {
	for i := range 1000 {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".pithball-%d-%d", os.Getpid(), i))
		f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
	return nil, fmt.Errorf("%s: cannot make a file beside it", path)
}
