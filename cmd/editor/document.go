package editor

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"path/filepath"
	"strings"
	"sync"

	"glassbrief/lang"
)

// A document is one open text at one moment. It does not change: when its text does, or what it may read,
// another takes its place.
type document struct {
	uri     string
	path    string // "" when it has none
	kind    string // scenario, catalog, rules or choices
	text    string // as the client has it
	version *int   // of the client, which may have none
	source  *lang.Source
	faults  lang.Diagnostics // of the text as such

	mu   sync.Mutex
	read *reading // nil until it is asked for
}

// again gives a document with the same text that nothing is known of.
func (d *document) again() *document {
	return &document{uri: d.uri, path: d.path, kind: d.kind, text: d.text, version: d.version, source: d.source, faults: d.faults}
}

func (d *document) set(text string) {
	d.text = text
	name := d.path
	if name == "" {
		name = d.uri
	}
	d.source, d.faults = lang.NewSource(name, []byte(text))
}

// kinds are the kinds of text, by the extension of the file.
var kinds = []string{"scenario", "catalog", "rules", "choices"}

// newDocument makes a document; languageID is what the client takes it for.
func newDocument(uri, languageID string) *document {
	d := &document{uri: uri, path: pathOf(uri), kind: "scenario"}
	for _, kind := range kinds {
		if languageID == kind || strings.HasSuffix(uri, "."+kind) {
			d.kind = kind
		}
	}
	return d
}

// pathOf gives the path of a file URI, or "" for any other.
func pathOf(uri string) string {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" {
		return ""
	}
	path := u.Path
	if len(path) > 2 && path[0] == '/' && path[2] == ':' {
		path = path[1:] // a drive letter
	}
	return filepath.FromSlash(path)
}

// uriOf gives the URI of a file.
func uriOf(path string) string {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path
	}
	return (&url.URL{Scheme: "file", Path: path}).String()
}

type textDocument struct {
	URI        string `json:"uri"`
	LanguageID string `json:"languageId"`
	Text       string `json:"text"`
	Version    *int   `json:"version,omitempty"`
}

// A contentChange puts a text in the place of a range, or of the whole text where it has none.
type contentChange struct {
	Range *textRange `json:"range"`
	Text  string     `json:"text"`
}

// canRefresh says of a client that it can be asked to ask anew.
type canRefresh struct {
	RefreshSupport bool `json:"refreshSupport"`
}

// params are those of every method: each reads what it takes of them.
type params struct {
	TextDocument textDocument `json:"textDocument"`
	Position     position     `json:"position"`
	Range        textRange    `json:"range"`
	Context      struct {
		Only               []string `json:"only"`               // of code actions
		IncludeDeclaration bool     `json:"includeDeclaration"` // of references
	} `json:"context"`
	Capabilities struct {
		Workspace struct {
			CodeLens  canRefresh `json:"codeLens"`
			InlayHint canRefresh `json:"inlayHint"`
		} `json:"workspace"`
	} `json:"capabilities"`
	ID             json.RawMessage `json:"id"` // of the question that is taken back
	Positions      []position      `json:"positions"`
	NewName        string          `json:"newName"`
	RootURI        string          `json:"rootUri"`
	Query          string          `json:"query"`
	ContentChanges []contentChange `json:"contentChanges"`
}

func (c *conversation) open(p *params) error {
	if p.TextDocument.URI == "" {
		return errors.New("no document is named")
	}
	d := newDocument(p.TextDocument.URI, p.TextDocument.LanguageID)
	d.version = p.TextDocument.Version
	d.set(p.TextDocument.Text)
	c.put(d)
	c.touch(d)
	return nil
}

func (c *conversation) change(p *params) error {
	old, err := c.now.document(p)
	if err != nil {
		return err
	}
	text := old.text
	for _, change := range p.ContentChanges {
		if change.Range == nil {
			text = change.Text
			continue
		}
		from, to := offsetIn(text, change.Range.Start), offsetIn(text, change.Range.End)
		if from > to {
			return fmt.Errorf("a change of %q ends before it begins", old.uri)
		}
		text = text[:from] + change.Text + text[to:]
	}
	d := old.again()
	d.version = p.TextDocument.Version
	d.set(text)
	c.put(d)
	c.touch(d)
	return nil
}

func (c *conversation) close(p *params) error {
	d, err := c.now.document(p)
	if err != nil {
		return err
	}
	c.now.documents = maps.Clone(c.now.documents)
	delete(c.now.documents, d.uri)
	c.now.memory.forget(d.uri)
	c.touch(d)
	c.check(d.uri) // its findings go
	return nil
}

func (s *server) document(p *params) (*document, error) {
	if d := s.documents[p.TextDocument.URI]; d != nil {
		return d, nil
	}
	return nil, fmt.Errorf("the document %q is not open", p.TextDocument.URI)
}

// of makes a method of one that asks about an open document.
func of(ask func(*server, *document, *params) (any, error)) method {
	return func(s *server, p *params) (any, error) {
		d, err := s.document(p)
		if err != nil {
			return nil, err
		}
		return ask(s, d, p)
	}
}

// at makes a method of one that asks about a place of a document.
func at(ask func(*server, *document, int) any) method {
	return of(func(s *server, d *document, p *params) (any, error) {
		return ask(s, d, offsetOf(d.source, p.Position)), nil
	})
}
