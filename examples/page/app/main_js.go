// Command app is the computing of the page for the floor, built for browsers: it puts one function in place that takes
// the name of a request and its JSON, and gives JSON back.
package main

import (
	"runtime/debug"
	"syscall/js"

	"example.org/pithball/examples/page/floor"
)

func main() {
	// An answer makes some 13 MB of garbage, which the usual 4 MB clear away three times within it. With 20 MB the first
	// answer is not held up, and a fifth of the functions that it needs is not compiled for it; memory stays below 40 MB.
	debug.SetGCPercent(500)
	js.Global().Set("pithball", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(floor.Do(args[0].String(), []byte(args[1].String())))
	}))
	js.Global().Call("pithballReady")
	select {} // the browser ends it
}
