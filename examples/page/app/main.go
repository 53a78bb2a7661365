//go:build !js

// Command app is the computing of the page for the floor, built for browsers: it puts one function in place that takes
// the name of a request and its JSON, and gives JSON back.
//
// Elsewhere it answers one request: its name is the argument, its JSON the standard input.
package main

import (
	"fmt"
	"io"
	"os"

	"example.org/pithball/examples/page/floor"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: app REQUEST <JSON")
		os.Exit(2)
	}
	in, err := io.ReadAll(os.Stdin)
	if err != nil {
		fmt.Fprintln(os.Stderr, "app:", err)
		os.Exit(1)
	}
	os.Stdout.Write(floor.Do(os.Args[1], in))
}
