package editor

import (
	"bufio"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"runtime/debug"
	"slices"
	"time"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// A Session says how a session works.
type Session struct {
	Version string
	Printer lang.Printer // how quantities are written
	// Files hands what the file at a path may read to use, and gives the error of
	// reading the settings: the tree, and the catalogues and rules of the settings.
	Files func(path string, use func(brief.Files)) error
	// List gives the paths of the files of the language in a folder and below; nil for none.
	List func(folder string) []string
	// Log takes what goes wrong beside the protocol.
	Log io.Writer
	// Patience bounds the search for a kit that expectations are held against. A brief that
	// takes longer is checked on the command line. 0 stands for 2 seconds.
	Patience time.Duration
}

// ErrNotShutDown is what [Serve] gives when the client ends a session without asking for
// its end first.
var ErrNotShutDown = errors.New("the client left without shutting the session down")

// Serve runs one session, to the client's "exit" or the end of in. It fails when the
// client leaves early, when a message cannot be read or written, and with the context.
func Serve(ctx context.Context, in io.Reader, out io.Writer, o Session) error {
	o.Patience = cmp.Or(o.Patience, 2*time.Second)
	s := &server{
		Session: o, wire: wire{in: bufio.NewReader(in), out: out},
		documents: map[string]*document{}, stale: map[string]bool{},
	}
	incoming := make(chan received)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go s.receive(ctx, incoming)
	for {
		next, err := s.next(ctx, incoming)
		if err != nil {
			return err
		}
		if done, err := s.handle(next); done || err != nil {
			return err
		}
	}
}

type server struct {
	Session
	wire
	root      string               // the folder that the client works in, "" for that of each document
	documents map[string]*document // the open ones, by URI
	stale     map[string]bool      // those whose findings are to be worked out
	ready     bool                 // initialized
	ending    bool                 // shut down
}

// received is what reading a message gave.
type received struct {
	message *message
	err     error
}

// receive reads messages ahead, so that findings are worked out only when no further
// change is waiting.
func (s *server) receive(ctx context.Context, incoming chan<- received) {
	for {
		m, err := s.wire.read()
		select {
		case incoming <- received{m, err}:
		case <-ctx.Done():
			return
		}
		var wire *wireError
		if err != nil && !errors.As(err, &wire) {
			return
		}
	}
}

// next gives the next message; while none waits, it works out and publishes findings.
func (s *server) next(ctx context.Context, incoming <-chan received) (received, error) {
	for len(s.stale) > 0 {
		select {
		case next := <-incoming:
			return next, nil
		default:
		}
		uri := slices.Min(slices.Collect(maps.Keys(s.stale)))
		delete(s.stale, uri)
		if err := s.publish(uri); err != nil {
			return received{}, err
		}
	}
	select {
	case next := <-incoming:
		return next, nil
	case <-ctx.Done():
		return received{}, ctx.Err()
	}
}

// handle answers one message and reports whether the session is over.
func (s *server) handle(next received) (done bool, err error) {
	var fault *wireError
	switch {
	case errors.As(next.err, &fault):
		return false, s.write(message{ID: json.RawMessage("null"), Error: fault})
	case errors.Is(next.err, io.EOF):
		return true, s.end()
	case next.err != nil:
		return true, next.err
	}
	m := next.message
	if m.Method == "exit" {
		return true, s.end()
	}
	result, fault := s.call(m)
	if m.ID == nil {
		if fault != nil && fault.Code != codeUnknownMethod {
			fmt.Fprintf(s.Log, "%s: %s\n", m.Method, fault.Message)
		}
		return false, nil // nobody waits for an answer to a notification
	}
	answer := message{ID: m.ID, Error: fault}
	if fault == nil {
		if answer.Result, err = json.Marshal(result); err != nil {
			return true, err
		}
	}
	return false, s.write(answer)
}

func (s *server) end() error {
	if s.ready && !s.ending {
		return ErrNotShutDown
	}
	return nil
}

// call runs one method. A panic becomes an error of that method alone, for the texts of
// the session would be lost with it.
func (s *server) call(m *message) (result any, fault *wireError) {
	defer func() {
		if caught := recover(); caught != nil {
			fmt.Fprintf(s.Log, "%s: a fault of the program: %v\n%s", m.Method, caught, debug.Stack())
			fault = &wireError{codeInternal, "a fault of the program; its log has more"}
		}
	}()
	if m.Method == "" {
		return nil, &wireError{codeInvalidRequest, "the message names no method"}
	}
	if m.Method == "initialize" {
		var p params
		_ = json.Unmarshal(m.Params, &p) // no more than the folder is taken, and none will do
		s.ready, s.root = true, pathOf(p.RootURI)
		return s.capabilities(), nil
	}
	method, known := methods()[m.Method]
	switch {
	case !s.ready:
		return nil, &wireError{codeNotInitialized, "the session is not initialized"}
	case s.ending:
		return nil, &wireError{codeInvalidRequest, "the session is shut down"}
	case !known:
		return nil, &wireError{codeUnknownMethod, fmt.Sprintf("the method %q is not known", m.Method)}
	}
	var p params
	var err error
	if m.Params != nil {
		err = json.Unmarshal(m.Params, &p)
	}
	if err == nil {
		result, err = method(s, &p)
	}
	if err != nil {
		return nil, &wireError{codeInvalidParams, err.Error()}
	}
	return result, nil
}

// A method answers a request, or takes a notification. It fails when the parameters are
// not what the protocol says.
type method func(*server, *params) (any, error)

func methods() map[string]method {
	return map[string]method{
		"initialized": func(*server, *params) (any, error) { return nil, nil },
		"shutdown": func(s *server, _ *params) (any, error) {
			s.ending = true
			return nil, nil
		},
		"textDocument/didOpen":             (*server).open,
		"textDocument/didChange":           (*server).change,
		"textDocument/didSave":             (*server).save,
		"textDocument/didClose":            (*server).close,
		"textDocument/formatting":          (*server).format,
		"textDocument/codeAction":          (*server).fixes,
		"textDocument/prepareRename":       (*server).prepareRename,
		"textDocument/rename":              (*server).rename,
		"textDocument/documentSymbol":      (*server).symbols,
		"textDocument/foldingRange":        (*server).folds,
		"textDocument/selectionRange":      (*server).selections,
		"textDocument/semanticTokens/full": (*server).colours,
		"workspace/symbol":                 (*server).search,
		"textDocument/references":          (*server).references,
		"textDocument/documentHighlight":   at((*server).highlight),
		"textDocument/hover":               at((*server).hover),
		"textDocument/completion":          at((*server).complete),
		"textDocument/definition":          at((*server).define),
	}
}

// capabilities is the answer to "initialize": whole texts at each change, places in
// UTF-16 units.
func (s *server) capabilities() any {
	type object = map[string]any
	return object{
		"capabilities": object{
			"positionEncoding":           "utf-16",
			"textDocumentSync":           object{"openClose": true, "change": 1, "save": true},
			"documentFormattingProvider": true,
			"codeActionProvider":         object{"codeActionKinds": []string{quickFix, fixAll}},
			"hoverProvider":              true,
			"definitionProvider":         true,
			"documentSymbolProvider":     true,
			"workspaceSymbolProvider":    true,
			"foldingRangeProvider":       true,
			"selectionRangeProvider":     true,
			"semanticTokensProvider":     object{"full": true, "legend": object{"tokenTypes": tokenKinds, "tokenModifiers": []string{}}},
			"referencesProvider":         true,
			"documentHighlightProvider":  true,
			"renameProvider":             object{"prepareProvider": true},
			"completionProvider":         object{"triggerCharacters": []string{"\"", " ", ".", "{"}},
		},
		"serverInfo": object{"name": "glassbrief", "version": s.Version},
	}
}
