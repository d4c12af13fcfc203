package editor

import (
	"encoding/json"
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
	kind   string // scenario, catalog or rules
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
var kinds = []string{"scenario", "catalog", "rules"}

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

func (s *server) open(params json.RawMessage) (any, error) {
	var p struct {
		TextDocument textDocument `json:"textDocument"`
	}
	if err := json.Unmarshal(params, &p); err != nil {
		return nil, err
	}
	d := newDocument(p.TextDocument.URI, p.TextDocument.LanguageID)
	d.set(p.TextDocument.Text)
	s.documents[d.uri] = d
	s.touch()
	return nil, nil
}

func (s *server) change(params json.RawMessage) (any, error) {
	var p struct {
		TextDocument   textDocument `json:"textDocument"`
		ContentChanges []struct {
			Range *textRange `json:"range"`
			Text  string     `json:"text"`
		} `json:"contentChanges"`
	}
	if err := json.Unmarshal(params, &p); err != nil {
		return nil, err
	}
	d, err := s.document(p.TextDocument.URI)
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

func (s *server) save(json.RawMessage) (any, error) {
	s.touch()
	return nil, nil
}

func (s *server) close(params json.RawMessage) (any, error) {
	var p struct {
		TextDocument textDocument `json:"textDocument"`
	}
	if err := json.Unmarshal(params, &p); err != nil {
		return nil, err
	}
	if _, err := s.document(p.TextDocument.URI); err != nil {
		return nil, err
	}
	delete(s.documents, p.TextDocument.URI)
	s.touch()
	s.stale[p.TextDocument.URI] = true // its findings go
	return nil, nil
}

// touch marks every text for new findings, since one may read another.
func (s *server) touch() {
	for uri := range s.documents {
		s.stale[uri] = true
	}
}

func (s *server) document(uri string) (*document, error) {
	if d := s.documents[uri]; d != nil {
		return d, nil
	}
	return nil, fmt.Errorf("the document %q is not open", uri)
}

// at makes a method of one that asks about a place of a document.
func at(ask func(*server, *document, int) any) method {
	return func(s *server, params json.RawMessage) (any, error) {
		var p struct {
			TextDocument textDocument `json:"textDocument"`
			Position     position     `json:"position"`
		}
		if err := json.Unmarshal(params, &p); err != nil {
			return nil, err
		}
		d, err := s.document(p.TextDocument.URI)
		if err != nil {
			return nil, err
		}
		return ask(s, d, offsetOf(d.source, p.Position)), nil
	}
}
