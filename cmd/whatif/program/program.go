// Package program has the engine of the what-if page: the program for browsers of cmd/whatif/browser,
// packed for a page, with the scripts that unpack and start it. It is embedded in a release, or else
// built by the Go tool-chain that is there, and kept in the user's cache folder.
package program

import (
	"context"
	_ "embed"
	"encoding/base64"
	"errors"
	"fmt"
)

// A Program is the engine as a page holds it.
type Program struct {
	Starter string // script that a Go program for browsers is started by, from the tool-chain that built it
	Unpack  string // script that defines unpack(text), a promise of the bytes of the program
	Text    string // the program, packed, in base64
	Hash    string // SHA-256 of the program before it was packed, in hexadecimal
}

//go:embed unpack.js
var unpackScript string

// A Missing engine can neither be found nor built, for no fault of what the page is asked for.
type Missing struct {
	Why string // a sentence without its point
	Err error  // what went wrong, or nil
}

func (m *Missing) Error() string {
	if m.Err == nil {
		return m.Why
	}
	return m.Why + ": " + m.Err.Error()
}

func (m *Missing) Unwrap() error { return m.Err }

// A Finder finds the engine.
type Finder struct {
	// Building is told that the engine will be built, and then how many of all packages are compiled.
	Building func()
	Progress func(done, total int)
}

// Find gives the engine: the embedded one, else the one in the cache that was built from the same
// source by the same tool-chain, else one that it builds and caches. It fails with [*Missing].
func (f Finder) Find(ctx context.Context) (*Program, error) {
	if embedded != nil {
		b, err := open(embedded)
		if err != nil {
			return nil, &Missing{"the engine within this program is broken", err}
		}
		return b.program(), nil
	}
	source, ok := sourceFolder()
	if !ok {
		return nil, &Missing{Why: "this program has no engine for pages within, and its source is not here to build one from"}
	}
	chain, err := findChain(ctx, source)
	if err != nil {
		return nil, err
	}
	key, err := chain.key(source)
	if err != nil {
		return nil, &Missing{"the source of the engine cannot be read", err}
	}
	return cached(ctx, key, func(folder string) (*built, error) {
		if chain.tool == "" {
			return nil, &Missing{Why: "this program has no engine for pages within, and there is no Go to build one"}
		}
		f.Building()
		return chain.build(ctx, source, folder, f.Progress)
	})
}

// Build builds the engine from the module that the working folder is in, as the file that is embedded
// in a release. It fails with [*Missing].
func Build(ctx context.Context, progress func(done, total int)) ([]byte, error) {
	source, ok := moduleAbove(".")
	if !ok {
		return nil, &Missing{Why: "the working folder is not in the source of glassbrief"}
	}
	chain, err := findChain(ctx, source)
	if err != nil {
		return nil, err
	}
	if chain.tool == "" {
		return nil, &Missing{Why: "there is no Go to build the engine"}
	}
	b, err := chain.build(ctx, source, "", progress)
	if err != nil {
		return nil, err
	}
	return b.file(), nil
}

// A built engine is what a build gives, and what a file in the cache and an embedded one hold.
type built struct {
	hash    string
	starter []byte
	packed  []byte
}

func (b *built) program() *Program {
	return &Program{Starter: string(b.starter), Unpack: unpackScript, Text: base64.StdEncoding.EncodeToString(b.packed), Hash: b.hash}
}

// ended says why a context ended, in words for a person.
func ended(err error) string {
	if errors.Is(err, context.DeadlineExceeded) {
		return fmt.Sprintf("it took longer than %s", limit)
	}
	return "it was stopped"
}
