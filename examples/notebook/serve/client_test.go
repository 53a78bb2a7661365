package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// TestClient runs the tests of the Python client against this server, built.
func TestClient(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("no python3")
	}
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	serve := filepath.Join(t.TempDir(), "serve.exe")
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", serve, ".").CombinedOutput(); err != nil {
		t.Skipf("cannot build the server here: %v\n%s", err, out)
	}
	c := exec.CommandContext(ctx, python, "-B", "-W", "error::ResourceWarning", "-m", "unittest", "pithball_test")
	c.Dir = ".."
	c.Env = append(os.Environ(), "PITHBALL_SERVE="+serve)
	if out, err := c.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
