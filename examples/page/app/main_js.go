// Command app is the computing of the page for the floor, built for browsers: it puts one function in place that takes
// the name of a request and its JSON, and gives JSON back.
package main

import (
	"syscall/js"

	"example.org/pithball/examples/page/floor"
)

func main() {
	js.Global().Set("pithball", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(floor.Do(args[0].String(), []byte(args[1].String())))
	}))
	js.Global().Call("pithballReady")
	select {} // the browser ends it
}
