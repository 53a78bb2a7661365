// Command names writes the names of all public computations, one a line.
package main

import (
	"log"
	"os"
	"strings"

	"example.org/pithball/examples/registry"
)

func main() {
	var b strings.Builder
	for _, e := range registry.All() {
		b.WriteString(e.Name + "\n")
	}
	if err := os.WriteFile(os.Args[1], []byte(b.String()), 0o666); err != nil {
		log.Fatal(err)
	}
}
