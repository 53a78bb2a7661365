package main

import (
	"bytes"
	"os/exec"
	"strings"
	"testing"
)

// TestSlim: the computing carries no library whose fonts, or whose calls of methods by name, alone make it larger than
// the page may be.
func TestSlim(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "./app").Output()
	if err != nil {
		t.Fatal(err)
	}
	for dep := range strings.FieldsSeq(string(out)) {
		if strings.HasPrefix(dep, "gonum.org/v1/plot") || strings.HasSuffix(dep, "/template") {
			t.Errorf("the page would carry %s", dep)
		}
	}
}

// TestOneFile: the single file carries everything, asks for nothing, and no part of it ends a script too early.
func TestOneFile(t *testing.T) {
	b := string(one(&module{packed: bytes.Repeat([]byte{0xfb, 0xef}, 50), glue: "var Go;"}, part("words.js")))
	for _, bad := range []string{"{{", ` src="`, "<link rel=\"stylesheet\"", "http://127", "https://"} {
		if strings.Contains(b, bad) {
			t.Errorf("the single file holds %q", bad)
		}
	}
	if n := strings.Count(b, "</script>"); n != 3 {
		t.Errorf("%d scripts end, want 3", n)
	}
	if !strings.Contains(b, "connect-src 'none'") {
		t.Error("the single file may ask for something")
	}
}

// TestLoopback: no address that another machine reaches.
func TestLoopback(t *testing.T) {
	for addr, ok := range map[string]bool{"127.0.0.1:8417": true, "[::1]:0": true, "localhost:1": true, "0.0.0.0:1": false,
		":8417": false, "192.0.2.1:80": false, "x": false} {
		if err := loopback(addr); (err == nil) != ok {
			t.Errorf("%s: %v", addr, err)
		}
	}
}
