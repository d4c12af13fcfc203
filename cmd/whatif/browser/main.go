//go:build js

// Command browser is the engine of the what-if page: it answers the worker of the page by functions
// that it sets on the global object, and holds nothing but this edge to JavaScript.
//
//	glassbriefOpen(input)        opens the plan of an input, as JSON; gives "null"
//	glassbriefAnswer(fragment)   gives the reply to a state, as JSON
//	glassbriefRest()             gives the parts that the last reply left out, as JSON
//	glassbriefIdle()             does while nobody asks what would make the next answer wait: it frees memory
//	glassbriefJSON()             gives the JSON of the command for the state that was answered last
//	glassbriefWarm()             does a piece of what makes later answers quick; true while there is more
//
// What fails gives {"panic": text} in place of a text. A panic ends no more than the call that it came in.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"syscall/js"

	"glassbrief/cmd/whatif"
)

// garbage is by how many percent the memory grows until what is unused is looked for. There is one
// thread, which answers nobody meanwhile, and little is in use.
const garbage = 400

func main() {
	debug.SetGCPercent(garbage)
	var session *whatif.Session
	answered := ""
	offer("glassbriefOpen", func(input string) (any, error) {
		s, err := whatif.OpenSession(input)
		session, answered = s, ""
		return "null", err
	})
	offer("glassbriefAnswer", func(fragment string) (any, error) {
		if session == nil {
			return nil, errClosed
		}
		reply := session.Answer(fragment)
		if reply.Answered {
			answered = fragment
		}
		text, err := json.Marshal(reply)
		return string(text), err
	})
	offer("glassbriefRest", func(string) (any, error) {
		if session == nil {
			return nil, errClosed
		}
		text, err := json.Marshal(session.Rest())
		return string(text), err
	})
	offer("glassbriefIdle", func(string) (any, error) {
		runtime.GC()
		return nil, nil
	})
	offer("glassbriefJSON", func(string) (any, error) {
		if session == nil {
			return nil, errClosed
		}
		return session.JSON(answered)
	})
	offer("glassbriefWarm", func(string) (any, error) { return session != nil && session.Warm(), nil })
	select {} // the page ends it
}

var errClosed = errors.New("no plan is open")

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
