//go:build js && wasm

// Page is the library in the browser: one function of the window that takes
// and gives JSON.
package main

import (
	"syscall/js"

	"example.com/dough/examples/practice/desk"
)

func main() {
	js.Global().Set("doughDesk", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(desk.Answer(args[0].String(), []byte(args[1].String())))
	}))
	select {} // the page may ask as long as it is open
}
