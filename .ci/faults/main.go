// Command faults injects deliberate faults, one by one, and reports those that all
// short tests pass. The faults stand in faults.txt: where, which tests should notice
// first, the expression as it is and the wrong one. All are woven into one build in
// which a variable of the environment picks one; the tree is not touched.
//
//	go run ./.ci/faults
//
// The tests named with a fault are run first; if they pass, all short tests of line,
// line/survey and examples/survey are.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// fault is a wrong expression in place of a right one.
type fault struct{ name, file, tests, right, wrong string }

// judges are the packages whose short tests must notice.
var judges = []string{"line", "line/survey", "examples/survey"}

// source is added to each package that has a fault.
const source = `package %s

import "os"

var faultOn = os.Getenv("FAULT")

func faulty[T any](id string, right, wrong T) T {
	if faultOn == id {
		return wrong
	}
	return right
}
`

func main() {
	only := flag.String("only", "", "`words` in the names of the faults that are tried")
	quick := flag.Bool("quick", false, "run the tests named with a fault and no others")
	flag.Parse()
	list, err := parse(".ci/faults/faults.txt")
	if err == nil {
		err = run(list, *only, *quick)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "faults:", err)
		os.Exit(1)
	}
}

// parse reads the list: blocks of five lines with a key each.
func parse(path string) ([]fault, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var out []fault
	for _, block := range strings.Split(strings.TrimSpace(string(b)), "\n\n") {
		f := fault{}
		keys := map[string]*string{"fault": &f.name, "file": &f.file, "tests": &f.tests, "right": &f.right, "wrong": &f.wrong}
		for _, line := range strings.Split(block, "\n") {
			key, text, ok := strings.Cut(line, ": ")
			if strings.HasPrefix(line, "#") {
				continue
			}
			if !ok || keys[key] == nil || *keys[key] != "" {
				return nil, fmt.Errorf("%q: want fault, file, tests, right and wrong, once each", line)
			}
			*keys[key] = text
		}
		if f == (fault{}) {
			continue
		}
		for key, text := range keys {
			if *text == "" {
				return nil, fmt.Errorf("%q: no %s", block, key)
			}
		}
		out = append(out, f)
	}
	return out, nil
}

// weave writes the files with all faults and returns the overlay of the build.
func weave(list []fault, tmp string) (string, error) {
	texts, overlay := map[string]string{}, map[string]string{}
	for i, f := range list {
		text, ok := texts[f.file]
		if !ok {
			b, err := os.ReadFile(f.file)
			if err != nil {
				return "", err
			}
			text = string(b)
		}
		if n := strings.Count(text, f.right); n != 1 {
			return "", fmt.Errorf("%s: %q stands %d times in %s", f.name, f.right, n, f.file)
		}
		woven := fmt.Sprintf("faulty(%q, %s, %s)", strconv.Itoa(i+1), f.right, f.wrong)
		texts[f.file] = strings.Replace(text, f.right, woven, 1)
	}
	written := 0
	put := func(path, text string) error {
		written++
		to := filepath.Join(tmp, strconv.Itoa(written)+".go")
		abs, err := filepath.Abs(path)
		if err != nil {
			return err
		}
		overlay[abs] = to
		return os.WriteFile(to, []byte(text), 0o600)
	}
	for path, text := range texts {
		if err := put(path, text); err != nil {
			return "", err
		}
		dir := filepath.Dir(path)
		if err := put(filepath.Join(dir, "faulty.go"), fmt.Sprintf(source, filepath.Base(dir))); err != nil {
			return "", err
		}
	}
	b, err := json.Marshal(map[string]any{"Replace": overlay})
	if err != nil {
		return "", err
	}
	path := filepath.Join(tmp, "overlay.json")
	return path, os.WriteFile(path, b, 0o600)
}

var failed = regexp.MustCompile(`(?m)^--- FAIL: (\w+)|^(panic: .*)`)

func run(list []fault, only string, quick bool) error {
	tmp, err := os.MkdirTemp("", "faults")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp)
	overlay, err := weave(list, tmp)
	if err != nil {
		return err
	}
	binary := func(judge string) string { return filepath.Join(tmp, strings.ReplaceAll(judge, "/", "-")+".test") }
	for _, judge := range judges {
		build := exec.Command("go", "test", "-c", "-overlay", overlay, "-o", binary(judge), "./"+judge)
		if out, err := build.CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %w\n%s", judge, err, out)
		}
	}
	// try runs tests with a fault and returns the one that noticed it, empty if none did.
	try := func(judge, id, tests string) (string, error) {
		test := exec.Command(binary(judge), "-test.short", "-test.failfast", "-test.timeout=10m", "-test.run="+tests)
		test.Dir, test.Env = judge, append(os.Environ(), "FAULT="+id)
		out, err := test.CombinedOutput()
		if err == nil {
			if strings.Contains(string(out), "no tests to run") {
				return "", fmt.Errorf("%s has no test %s", judge, tests)
			}
			return "", nil
		}
		m := failed.FindStringSubmatch(string(out))
		if m == nil {
			return "", fmt.Errorf("%s: %w\n%s", judge, err, out)
		}
		return judge + " " + m[1] + m[2], nil
	}
	sound := map[string]bool{} // tests that pass without a fault
	for _, f := range list {
		judge, tests, _ := strings.Cut(f.tests, " ")
		if sound[f.tests] || !strings.Contains(f.name, only) {
			continue
		}
		if noticed, err := try(judge, "", tests); err != nil || noticed != "" {
			return fmt.Errorf("without a fault: %s: %v", noticed, err)
		}
		sound[f.tests] = true
	}
	passed := 0
	for i, f := range list {
		if !strings.Contains(f.name, only) {
			continue
		}
		id := strconv.Itoa(i + 1)
		judge, tests, _ := strings.Cut(f.tests, " ")
		noticed, err := try(judge, id, tests)
		for k := 0; k < len(judges) && !quick && noticed == "" && err == nil; k++ {
			noticed, err = try(judges[k], id, ".")
		}
		switch {
		case err != nil:
			return err
		case noticed == "":
			passed++
			fmt.Printf("PASSED   %s\n", f.name)
		default:
			fmt.Printf("noticed  %s: %s\n", f.name, noticed)
		}
	}
	if passed > 0 {
		return fmt.Errorf("%d faults pass all short tests", passed)
	}
	return nil
}
