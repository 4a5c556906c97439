//go:build js && wasm

// The engine of a live page: built for browsers, it runs in the page's worker. It is
// called with a request (package rerun) as JSON and posts the reply.
package main

import (
	"context"
	"encoding/json"
	"syscall/js"

	"thole/builtins/session"
	"thole/cmd/live/rerun"
)

func main() {
	js.Global().Set("rerun", js.FuncOf(func(_ js.Value, args []js.Value) any {
		// on a goroutine of its own: a callback may not wait
		go answer(args[0].String())
		return nil
	}))
	post(map[string]any{"ready": true})
	select {}
}

func answer(request string) {
	var r rerun.Request
	if err := json.Unmarshal([]byte(request), &r); err != nil {
		post(map[string]any{"errors": []any{map[string]any{"text": "the page's own data cannot be read"}}})
		return
	}
	progress := func(what string, s session.Step) {
		post(map[string]any{"id": r.ID, "step": what, "done": s.Done, "of": s.Of})
	}
	reply, err := json.Marshal(rerun.Run(context.Background(), r, progress))
	if err != nil {
		panic(err) // texts and whole numbers only
	}
	js.Global().Call("postMessage", js.Global().Get("JSON").Call("parse", string(reply)))
}

func post(m map[string]any) { js.Global().Call("postMessage", m) }
