// Command asks could call every computation, and does so only if it is told.
package main

import (
	"fmt"
	"os"

	"example.org/pithball/examples/registry"
)

func main() {
	if len(os.Args) > 1 {
		fmt.Println(len(registry.All()))
	}
}
