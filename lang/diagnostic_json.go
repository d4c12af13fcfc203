package lang

import "encoding/json"

// diagnosticJSON is the form of a diagnostic for programs. Lines and columns count from
// 1, columns in characters, and the end is one past the last character. A diagnostic
// without a place leaves them out.
type diagnosticJSON struct {
	Severity string `json:"severity"`
	Code     Code   `json:"code"`
	Summary  string `json:"summary"`
	Detail   string `json:"detail,omitempty"`
	Instead  string `json:"instead,omitempty"`
	placeJSON
	Correction *correctionJSON `json:"correction,omitempty"`
	Related    []relatedJSON   `json:"related,omitempty"`
}

type placeJSON struct {
	File      string `json:"file,omitempty"`
	Line      int    `json:"line,omitempty"`
	Column    int    `json:"column,omitempty"`
	EndLine   int    `json:"end_line,omitempty"`
	EndColumn int    `json:"end_column,omitempty"`
}

type correctionJSON struct {
	placeJSON
	Text string `json:"text"`
	Safe bool   `json:"safe"`
}

type relatedJSON struct {
	placeJSON
	Note string `json:"note"`
}

// MarshalJSON writes the diagnostic as an object: severity, code, summary, detail,
// instead, file, line, column, end_line, end_column, correction, related.
func (d Diagnostic) MarshalJSON() ([]byte, error) {
	view := diagnosticJSON{
		Severity: d.Severity.String(), Code: d.Code,
		Summary: d.Summary, Detail: d.Detail, Instead: d.Instead,
		placeJSON: placeOf(d.Span),
	}
	if c, ok := d.Correction(); ok && !c.Span.Source.cells { // a sheet has no text to put it in
		view.Correction = &correctionJSON{placeOf(c.Span), c.Text, c.Safe}
	}
	for _, related := range d.Related {
		view.Related = append(view.Related, relatedJSON{placeOf(related.Span), related.Note})
	}
	return json.Marshal(view)
}

func placeOf(span Span) placeJSON {
	if !span.Known() {
		return placeJSON{}
	}
	start, end := span.Position(), span.Source.Position(max(span.Start, span.End))
	return placeJSON{File: span.Source.Name, Line: start.Line, Column: start.Column, EndLine: end.Line, EndColumn: end.Column}
}
