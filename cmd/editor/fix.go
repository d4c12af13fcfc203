package editor

import (
	"slices"
	"strings"

	"glassbrief/lang"
)

// A codeAction is a change that the client offers at a place.
type codeAction struct {
	Title       string        `json:"title"`
	Kind        string        `json:"kind"`
	Diagnostics []diagnostic  `json:"diagnostics,omitempty"`
	IsPreferred bool          `json:"isPreferred,omitempty"`
	Edit        workspaceEdit `json:"edit"`
}

// A workspaceEdit is edits of texts, by their URI. The edits of one text do not overlap.
type workspaceEdit struct {
	Changes map[string][]textEdit `json:"changes"`
}

// The kinds of code action, as the protocol names them.
const (
	quickFix = "quickfix"
	fixAll   = "source.fixAll"
)

// fixes lists the corrections of the findings that touch a range, and the one that makes all safe
// corrections of the document, of the kinds that are asked for.
func (s *server) fixes(d *document, p *params) (any, error) {
	from, to := offsetOf(d.source, p.Range.Start), offsetOf(d.source, p.Range.End)
	actions := []codeAction{}
	found := s.findings(d)
	for _, finding := range found.Sorted() {
		c, ok := finding.Correction()
		if !ok || c.Span.Source != d.source || !wanted(p.Context.Only, quickFix) {
			continue
		}
		if start, end := min(finding.Span.Start, c.Span.Start), max(finding.Span.End, c.Span.End); start <= to && end >= from {
			title := c.Title()
			actions = append(actions, codeAction{
				Title: lang.Capital(title), Kind: quickFix, IsPreferred: c.Safe,
				Diagnostics: []diagnostic{d.diagnostic(finding)}, Edit: d.edit(c),
			})
		}
	}
	if _, made := lang.Correct(d.source, found.SafeCorrections(d.source)); len(made) > 0 && wanted(p.Context.Only, fixAll) {
		actions = append(actions, codeAction{Title: "Correct all that is only spelt otherwise", Kind: fixAll, Edit: d.edit(made...)})
	}
	return actions, nil
}

// wanted reports whether a kind of action is one of those asked for, or below one; without any all are.
func wanted(only []string, kind string) bool {
	return len(only) == 0 || slices.ContainsFunc(only, func(asked string) bool {
		return asked == "" || kind == asked || strings.HasPrefix(kind, asked+".") || asked == fixAll+".glassbrief" && kind == fixAll
	})
}

// edit gives corrections of a document as the protocol has edits.
func (d *document) edit(corrections ...lang.Correction) workspaceEdit {
	var edits []textEdit
	for _, c := range corrections {
		edits = append(edits, textEdit{rangeOf(c.Span), c.Text})
	}
	return workspaceEdit{map[string][]textEdit{d.uri: edits}}
}
