package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"html"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/pithball/examples/outfile"
	"example.org/pithball/examples/page/floor"
)

//go:embed web
var web embed.FS

// scripts are the parts of the page's script behind the table of texts, in order.
var scripts = []string{"base", "form", "begin", "path", "station", "readings", "entry",
	"taken", "answer", "plan", "try", "upkeep", "goods", "counted", "season", "main"}

func part(name string) string {
	b, err := web.ReadFile("web/" + name)
	if err != nil {
		panic(err) // a file of ours
	}
	return string(b)
}

func script(words string) string {
	var b strings.Builder
	b.WriteString(words)
	for i, s := range scripts {
		b.WriteString(part(s + ".js"))
		if i == 0 { // cautions and materials stand in the page before the computing is there
			fmt.Fprintf(&b, "P.start = %s;\n", floor.Do("start", nil))
		}
	}
	return b.String()
}

// text is an entry of a table of texts: key and text, as JavaScript writes them.
var text = regexp.MustCompile(`(?m)(?:^  |, )"?([\w.+ -]+?)"?:\s+"((?:[^"\\]|\\.)*)"`)

var filledIn = regexp.MustCompile(`\{\d\}`)

func texts(table string) map[string]string {
	all := map[string]string{}
	for _, m := range text.FindAllStringSubmatch(table, -1) {
		all[m[1]] = m[2]
		if s, err := strconv.Unquote(`"` + m[2] + `"`); err == nil {
			all[m[1]] = s
		}
	}
	return all
}

// scriptless is what a browser shows that runs no scripts.
func scriptless(words string) string { return html.EscapeString(texts(words)["noScript"]) }

// otherWords reads a table of texts in another language: it has every key of ours, and each text the same {0}, {1}.
func otherWords(file string) (string, error) {
	b, err := os.ReadFile(file)
	if err != nil {
		return "", err
	}
	ours, theirs := texts(part("words.js")), texts(string(b))
	var errs []error
	for _, k := range slices.Sorted(maps.Keys(ours)) {
		s, ok := theirs[k]
		want, got := filledIn.FindAllString(ours[k], -1), filledIn.FindAllString(s, -1)
		slices.Sort(want)
		slices.Sort(got)
		switch {
		case !ok:
			errs = append(errs, fmt.Errorf("%s: %s is missing", file, k))
		case !slices.Equal(want, got):
			errs = append(errs, fmt.Errorf("%s: %s: %q holds %q, want %q", file, k, s, got, want))
		}
		if len(errs) > 20 {
			return "", errors.Join(append(errs, errors.New("and more"))...)
		}
	}
	return string(b), errors.Join(errs...)
}

// module is what the Go command made of the library.
type module struct {
	packed []byte // the WebAssembly, gzip
	glue   string // the script of the Go distribution that runs it
}

// compile builds the computing for browsers.
func compile(ctx context.Context) (*module, error) {
	tmp, err := os.MkdirTemp("", "page-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(tmp)
	file := filepath.Join(tmp, "app.wasm")
	c := exec.CommandContext(ctx, "go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w",
		"-o", file, "example.org/pithball/examples/page/app")
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOTMPDIR="+tmp)
	// It takes away what it made and ends its compilers, which a kill leaves behind.
	c.Cancel, c.WaitDelay = func() error { return c.Process.Signal(os.Interrupt) }, 10*time.Second
	if out, err := c.CombinedOutput(); ctx.Err() != nil {
		return nil, errStopped
	} else if err != nil {
		return nil, fmt.Errorf("go build: %w (the Go command and the module's folder are needed)\n%s", err, out)
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	root, err := exec.CommandContext(ctx, "go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("go env: %w", err)
	}
	glue, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err = z.Write(raw); err == nil {
		err = z.Close()
	}
	return &module{b.Bytes(), string(glue)}, err
}

// errStopped ends a program that was told to stop.
var errStopped = errors.New("stopped")

// site is the page as files for a web server: no address but its own is ever asked.
func site(m *module, words string) map[string][]byte {
	policy := "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; connect-src 'self'; " +
		"worker-src 'self'; img-src data:; form-action 'none'; base-uri 'none'"
	page := strings.NewReplacer("{{POLICY}}", policy, "{{STYLE}}", `<link rel="stylesheet" href="page.css">`,
		"{{SCRIPT}}", `<script src="page.js"></script>`,
		"{{NOSCRIPT}}", scriptless(words)).Replace(part("index.html"))
	files := map[string][]byte{"index.html": []byte(page), "page.css": []byte(part("page.css")),
		"page.js": []byte(script(words)), "worker.js": []byte(m.glue + "\n" + part("worker.js")), "app.wasm.gz": m.packed}
	sum := sha256.New()
	for _, name := range []string{"index.html", "page.css", "page.js", "worker.js", "app.wasm.gz"} {
		sum.Write(files[name])
	}
	files["keep.js"] = []byte(strings.Replace(part("keep.js"), "{{HASH}}", hex.EncodeToString(sum.Sum(nil)[:8]), 1))
	return files
}

// one is the page as a single file. Its policy allows the parts that it carries, by their hash, and no request at all.
func one(m *module, words string) []byte {
	style, code := part("page.css"), script(words)
	hash := func(s string) string {
		h := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(h[:]) + "'"
	}
	policy := "default-src 'none'; script-src " + hash(code) + " 'wasm-unsafe-eval' blob:; style-src " + hash(style) +
		"; connect-src 'none'; worker-src blob:; img-src data:; form-action 'none'; base-uri 'none'"
	inert := func(id, s string) string {
		return `<script type="text/plain" id="` + id + `">` + s + "</script>\n"
	}
	return []byte(strings.NewReplacer("{{POLICY}}", policy, "{{STYLE}}", "<style>"+style+"</style>", "{{SCRIPT}}",
		inert("worker", m.glue+"\n"+part("worker.js"))+inert("module", base64.StdEncoding.EncodeToString(m.packed))+
			"<script>"+code+"</script>", "{{NOSCRIPT}}", scriptless(words)).Replace(part("index.html")))
}

// writeAll writes the files into the folder, which it makes.
func writeAll(dir string, files map[string][]byte) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for name, b := range files {
		if _, err := outfile.Write(filepath.Join(dir, name), b); err != nil {
			return err
		}
	}
	return nil
}
