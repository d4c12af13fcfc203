package editor

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// A diagnostic is a finding as the protocol has it.
type diagnostic struct {
	Range    textRange `json:"range"`
	Severity int       `json:"severity"`
	Code     lang.Code `json:"code"`
	Source   string    `json:"source"`
	Message  string    `json:"message"`
	Related  []related `json:"relatedInformation,omitempty"`
}

type related struct {
	Location location `json:"location"`
	Message  string   `json:"message"`
}

// publish works out the findings of a document and sends them, none when it is closed. Those that take a
// kit come behind the others where a kit takes long, and the margin is to follow then.
func (s *server) publish(uri string, send func(message) error, refresh func() error) error {
	d := s.documents[uri]
	if d == nil {
		return s.publishFound(uri, nil, nil, send)
	}
	defer s.survive(d)
	found := s.findings(d)
	if s.ctx.Err() != nil {
		return nil
	}
	if d.kind != "scenario" || found.HasErrors() {
		return s.publishFound(uri, d, found, send)
	}
	late := s.read(d).late()
	if late {
		if err := s.publishFound(uri, d, found, send); err != nil {
			return err
		}
	}
	broken, moved := s.settle(d)
	if s.ctx.Err() != nil {
		return nil
	}
	if !late || len(broken) > 0 {
		if err := s.publishFound(uri, d, append(found, broken...), send); err != nil {
			return err
		}
	}
	if moved {
		return refresh()
	}
	return nil
}

func (s *server) publishFound(uri string, d *document, findings lang.Diagnostics, send func(message) error) error {
	found := []diagnostic{}
	said := map[string]any{"uri": uri}
	if d != nil {
		for _, finding := range findings.Sorted() {
			found = append(found, d.diagnostic(finding))
		}
		if d.version != nil {
			said["version"] = *d.version
		}
	}
	said["diagnostics"] = found
	params, err := json.Marshal(said)
	if err != nil {
		return err
	}
	return send(message{Method: "textDocument/publishDiagnostics", Params: params})
}

// findings works a document out, but for what takes a kit.
func (s *server) findings(d *document) (found lang.Diagnostics) {
	if d.faults.HasErrors() {
		return d.faults
	}
	switch d.kind {
	case "catalog":
		_, found = catalog.Load(d.source)
	case "choices":
		found = s.choiceFindings(d)
	case "rules":
		var set *rules.Set
		set, found = rules.Standard().Extend(d.source)
		if found.HasErrors() {
			return found
		}
		for _, c := range set.Cases() {
			found = append(found, set.Test(&c)...)
		}
	default:
		found = slices.Clip(s.read(d).found)
	}
	return found
}

// survive keeps a fault of the program in one document from ending the session: it costs the findings of that
// document and no more.
func (s *server) survive(d *document) {
	if caught := recover(); caught != nil {
		s.logFault(d.uri, caught)
	}
}

// files gives use what a document may read, open documents before files.
func (s *server) files(d *document, use func(brief.Files)) error {
	if d.path == "" {
		use(brief.Files{})
		return nil
	}
	return s.Files(d.path, func(files brief.Files) {
		files.Tree = overlay{tree: files.Tree, folder: files.Name, documents: s.documents}
		use(files)
	})
}

// diagnostic gives a finding as the protocol has it. One that is about another file
// stands at the start of the document and says where it is.
func (d *document) diagnostic(finding lang.Diagnostic) diagnostic {
	sent := diagnostic{
		Severity: map[lang.Severity]int{lang.Error: 1, lang.Warning: 2}[finding.Severity],
		Code:     finding.Code, Source: "glassbrief", Message: lang.Printable(finding.Summary),
	}
	if finding.Span.Source == d.source {
		sent.Range = rangeOf(finding.Span)
	} else if finding.Span.Known() {
		sent.Message = finding.Span.String() + ": " + sent.Message
	}
	if finding.Detail != "" {
		sent.Message += "\n" + lang.Printable(finding.Detail)
	}
	if finding.Instead != "" {
		sent.Message += fmt.Sprintf("\nDid you mean %s?", finding.Instead)
	}
	for _, other := range finding.Related {
		if at, ok := d.locate(other.Span); ok {
			sent.Related = append(sent.Related, related{at, other.Note})
		}
	}
	return sent
}

// locate gives a span as a place in a file, if it is in one.
func (d *document) locate(span lang.Span) (location, bool) {
	switch {
	case span.Source == d.source && span.Known():
		return location{d.uri, rangeOf(span)}, true
	case !span.Known(), !filepath.IsAbs(span.Source.Name):
		return location{}, false // nowhere, or built into the program
	}
	return location{uriOf(span.Source.Name), rangeOf(span)}, true
}
