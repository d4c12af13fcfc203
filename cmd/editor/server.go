package editor

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"time"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// A Session says how a session works.
type Session struct {
	Version string
	Printer lang.Printer // how quantities are written
	// Files hands what the file at a path may read to use, and gives the error of
	// reading the settings: the tree, and the catalogues and rules of the settings. It is
	// called from several goroutines.
	Files func(path string, use func(brief.Files)) error
	// List gives the paths of the files of the language in a folder and below, and whether that is all of
	// them. Without it a session knows no files but those that are open.
	List func(folder string) (paths []string, all bool)
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
	o.Log = &shared{to: o.Log}
	ctx, cancel := context.WithCancel(ctx)
	c := &conversation{
		wire:  wire{in: bufio.NewReader(in), out: &shared{to: out}},
		now:   server{Session: o, ctx: ctx, documents: map[string]*document{}, memory: &memory{}},
		lanes: map[string]*lane{}, checks: map[string]*check{}, asked: map[string]context.CancelFunc{}, failed: make(chan error, 1),
	}
	defer c.work.Wait()
	defer cancel()
	incoming := make(chan received)
	go c.receive(ctx, incoming)
	for {
		select {
		case next := <-incoming:
			if done, err := c.handle(next); done || err != nil {
				return err
			}
		case err := <-c.failed:
			return err
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// A server answers from what a session knows at one moment: of its documents none changes.
type server struct {
	Session
	ctx       context.Context      // ends when nobody waits for the answer any more
	root      string               // the folder that the client works in, "" for that of each document
	refreshes []string             // the methods that ask the client to look at the margin anew
	documents map[string]*document // the open ones, by URI
	memory    *memory
}

// answer runs one method. A panic becomes an error of that method alone, for the texts of
// the session would be lost with it.
func (s *server) answer(name string, p *params, method method) (result any, fault *wireError) {
	defer func() {
		if caught := recover(); caught != nil {
			s.logFault(name, caught)
			fault = &wireError{codeInternal, "a fault of the program; its log has more"}
		}
	}()
	result, err := method(s, p)
	if err != nil {
		return nil, &wireError{codeInvalidParams, err.Error()}
	}
	return result, nil
}

// logFault says in the log what a panic said, and where it came from.
func (s *server) logFault(of string, caught any) {
	fmt.Fprintf(s.Log, "%s: a fault of the program: %v\n%s", of, caught, debug.Stack())
}

// A method answers a question. It fails when the parameters are not what the protocol says.
type method func(*server, *params) (any, error)

func methods() map[string]method {
	return map[string]method{
		"textDocument/formatting":          of((*server).format),
		"textDocument/codeAction":          of((*server).fixes),
		"textDocument/prepareRename":       of((*server).prepareRename),
		"textDocument/rename":              of((*server).rename),
		"textDocument/documentSymbol":      of((*server).symbols),
		"textDocument/foldingRange":        of((*server).folds),
		"textDocument/selectionRange":      of((*server).selections),
		"textDocument/semanticTokens/full": of((*server).colours),
		"workspace/symbol":                 (*server).search,
		"textDocument/references":          of((*server).references),
		"textDocument/documentHighlight":   at((*server).highlight),
		"textDocument/hover":               at((*server).hover),
		"textDocument/completion":          at((*server).complete),
		"textDocument/definition":          at((*server).define),
		"textDocument/codeLens":            of((*server).lenses),
		"textDocument/inlayHint":           of((*server).hints),
	}
}

// capabilities is the answer to "initialize": changes by their ranges, places in UTF-16 units.
func (s *server) capabilities() any {
	type object = map[string]any
	return object{
		"capabilities": object{
			"positionEncoding":           "utf-16",
			"textDocumentSync":           object{"openClose": true, "change": 2, "save": true},
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
			"codeLensProvider":           object{},
			"inlayHintProvider":          true,
		},
		"serverInfo": object{"name": "glassbrief", "version": s.Version},
	}
}
