// Command page is the main job for who walks the line: one page for a phone or a laptop that takes down a line and its
// readings and computes the verdict on the device itself. Nothing that is typed leaves the device unless the person
// saves a file.
//
//	go run ./examples/page                 serve it on this machine and print where
//	go run ./examples/page -build DIR      write its files into a folder, for any web server
//	go run ./examples/page -single FILE    write one HTML file that opens from a disk
//	go run ./examples/page -words FILE     with the texts of another language: web/words.js, translated. The sentences of
//	                                       the library (verdict, hazards, faults) stay English.
//
// The computing is the library, built for browsers by the Go command. Its report and its JSON are those of the program
// survey, byte for byte.
//
// Sheets, parts, profiles and doses have description, ground, readings, source, changes, plan, hazards and upkeep,
// before and after by what people counted or weighed, and sheets the year's forecast.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"example.org/pithball/examples/outfile"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	f := flag.NewFlagSet("page", flag.ContinueOnError)
	f.SetOutput(stderr)
	addr := f.String("addr", "127.0.0.1:8417", "loopback `address` to serve on; what was typed belongs to one address")
	dir := f.String("build", "", "write the files into this `folder` and serve nothing")
	table := f.String("words", "", "take the page's texts from this `file`, which is like web/words.js in another "+
		"language")
	single := f.String("single", "", "write one HTML `file` and serve nothing")
	if err := f.Parse(args); errors.Is(err, flag.ErrHelp) {
		return 0
	} else if err != nil || f.NArg() > 0 {
		fmt.Fprintln(stderr, "page: see page -h")
		return 2
	}
	if err := loopback(*addr); err != nil {
		fmt.Fprintln(stderr, "page: -addr:", err)
		return 2
	}
	if err := work(ctx, *addr, *dir, *single, *table, stdout); err != nil {
		fmt.Fprintln(stderr, "page:", err)
		if errors.Is(err, errStopped) {
			return 130
		}
		return 1
	}
	return 0
}

// loopback refuses an address that other machines reach.
func loopback(addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return err
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("%s: want an address of this machine alone, as in 127.0.0.1:8417", addr)
	}
	return nil
}

func work(ctx context.Context, addr, dir, single, table string, stdout io.Writer) error {
	words := part("words.js")
	if table != "" {
		var err error
		if words, err = otherWords(table); err != nil {
			return err
		}
	}
	module, err := compile(ctx)
	if err != nil {
		return err
	}
	if dir != "" {
		if err := writeAll(dir, site(module, words)); err != nil {
			return err
		}
	}
	if single != "" {
		if _, err := outfile.Write(single, one(module, words), table); err != nil {
			return err
		}
	}
	if dir != "" || single != "" {
		return nil
	}
	l, err := net.Listen("tcp", addr)
	if err != nil {
		return err
	}
	fmt.Fprintf(stdout, "http://%s/\n", l.Addr())
	s := &http.Server{Handler: handler(site(module, words)), ReadHeaderTimeout: 10 * time.Second}
	go func() {
		<-ctx.Done()
		s.Close()
	}()
	if err := s.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// handler serves the files and nothing else.
func handler(files map[string][]byte) http.Handler {
	types := map[string]string{"index.html": "text/html; charset=utf-8", "page.css": "text/css; charset=utf-8",
		"page.js": "text/javascript; charset=utf-8", "worker.js": "text/javascript; charset=utf-8",
		"keep.js": "text/javascript; charset=utf-8", "app.wasm.gz": "application/gzip"}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := r.URL.Path[1:]
		if name == "" {
			name = "index.html"
		}
		b, ok := files[name]
		if !ok || r.Method != http.MethodGet && r.Method != http.MethodHead {
			http.NotFound(w, r)
			return
		}
		h := w.Header()
		h.Set("Content-Type", types[name])
		h.Set("Cache-Control", "no-cache")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		w.Write(b)
	})
}
