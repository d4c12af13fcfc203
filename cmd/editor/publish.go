package editor

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"

	"glassbrief/catalog"
	"glassbrief/engine"
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

// publish sends the findings of a document, none when it is closed.
func (s *server) publish(uri string) error {
	found := []diagnostic{}
	if d := s.documents[uri]; d != nil {
		for _, finding := range s.findings(d).Sorted() {
			found = append(found, d.diagnostic(finding))
		}
	}
	params, err := json.Marshal(map[string]any{"uri": uri, "diagnostics": found})
	if err != nil {
		return err
	}
	return s.write(message{Method: "textDocument/publishDiagnostics", Params: params})
}

// findings works a document out. What goes wrong in the program itself costs this
// document's findings and no more.
func (s *server) findings(d *document) (found lang.Diagnostics) {
	defer func() {
		if caught := recover(); caught != nil {
			fmt.Fprintf(s.Log, "%s: a fault of the program: %v\n", d.uri, caught)
		}
	}()
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
		err := s.files(d, func(files brief.Files) {
			var scenario *brief.Scenario
			if scenario, found = brief.Load(d.source, files); scenario == nil {
				return
			}
			found = append(found, brief.CheckScript(scenario, files)...)
			if len(scenario.Expects) == 0 {
				return // judging would tell nothing
			}
			ctx, cancel := context.WithTimeout(context.Background(), s.Patience)
			defer cancel()
			if broken, err := engine.CheckExpectations(ctx, scenario); err == nil {
				found = append(found, broken...)
			}
		})
		if err != nil {
			found.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.UnreadableFile, Span: lang.Span{Source: d.source},
				Summary: err.Error(), Detail: "It is read with every scenario of this folder.",
			})
		}
	}
	return found
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
