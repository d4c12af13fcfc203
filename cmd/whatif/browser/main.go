//go:build js

// Command browser is the engine of the what-if page: it answers the worker of the page by functions
// that it sets on the global object, and holds nothing but this edge to JavaScript.
//
//	glassbriefOpen(input)        reads a plan, as JSON; null, or what went wrong
//	glassbriefAnswer(fragment)   gives the answer to a state, as JSON
//	glassbriefJSON()             gives the document of JSON of the last answer
//	glassbriefWarm()             does a piece of what makes later answers quick; true while there is more
//
// A panic ends no more than the call that it came in, which gives {"panic": text} in its place.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"syscall/js"
)

func main() {
	var s session
	offer("glassbriefOpen", func(input string) (any, error) {
		var err error
		s, err = openSession(input)
		return "null", err
	})
	offer("glassbriefAnswer", func(fragment string) (any, error) { return textOf(s.answer(fragment)) })
	offer("glassbriefJSON", func(string) (any, error) { return s.json() })
	offer("glassbriefWarm", func(string) (any, error) { return s.warm(), nil })
	select {} // the page ends it
}

// offer sets a function on the global object that takes a text, or nothing.
func offer(name string, of func(text string) (any, error)) {
	js.Global().Set(name, js.FuncOf(func(_ js.Value, args []js.Value) (given any) {
		defer func() {
			if fault := recover(); fault != nil {
				given = panicked(fault)
			}
		}()
		text := ""
		if len(args) > 0 {
			text = args[0].String()
		}
		given, err := of(text)
		if err != nil {
			return panicked(err)
		}
		return given
	}))
}

func panicked(fault any) string {
	text, _ := json.Marshal(map[string]string{"panic": fmt.Sprint(fault)}) // of a text it cannot fail
	return string(text)
}

func textOf(reply any) (any, error) {
	text, err := json.Marshal(reply)
	return string(text), err
}

var errClosed = errors.New("no plan is open")
