package editor

import (
	"errors"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	"glassbrief/lang"
)

// A document is one open text.
type document struct {
	uri    string
	path   string // "" when it has none
	kind   string // scenario, catalog, rules or choices
	text   string // as the client has it
	source *lang.Source
	faults lang.Diagnostics // of the text as such
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
	Positions      []position `json:"positions"`
	NewName        string     `json:"newName"`
	RootURI        string     `json:"rootUri"`
	Query          string     `json:"query"`
	ContentChanges []struct {
		Range *textRange `json:"range"`
		Text  string     `json:"text"`
	} `json:"contentChanges"`
}

func (s *server) open(p *params) (any, error) {
	if p.TextDocument.URI == "" {
		return nil, errors.New("no document is named")
	}
	d := newDocument(p.TextDocument.URI, p.TextDocument.LanguageID)
	d.set(p.TextDocument.Text)
	s.documents[d.uri] = d
	s.touch()
	return nil, nil
}

func (s *server) change(p *params) (any, error) {
	d, err := s.document(p)
	if err != nil {
		return nil, err
	}
	for _, change := range p.ContentChanges {
		if change.Range != nil {
			return nil, errors.New("changes are taken as whole texts only")
		}
		d.set(change.Text)
	}
	s.touch()
	return nil, nil
}

func (s *server) save(*params) (any, error) {
	s.touch()
	return nil, nil
}

func (s *server) close(p *params) (any, error) {
	d, err := s.document(p)
	if err != nil {
		return nil, err
	}
	delete(s.documents, d.uri)
	s.touch()
	s.stale[d.uri] = true // its findings go
	return nil, nil
}

// touch marks every text for new findings, since one may read another.
func (s *server) touch() {
	for uri := range s.documents {
		s.stale[uri] = true
	}
}

func (s *server) document(p *params) (*document, error) {
	if d := s.documents[p.TextDocument.URI]; d != nil {
		return d, nil
	}
	return nil, fmt.Errorf("the document %q is not open", p.TextDocument.URI)
}

// at makes a method of one that asks about a place of a document.
func at(ask func(*server, *document, int) any) method {
	return func(s *server, p *params) (any, error) {
		d, err := s.document(p)
		if err != nil {
			return nil, err
		}
		return ask(s, d, offsetOf(d.source, p.Position)), nil
	}
}
