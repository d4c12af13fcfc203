package editor

import "glassbrief/lang"

// A textEdit puts a new text in the place of a range.
type textEdit struct {
	Range   textRange `json:"range"`
	NewText string    `json:"newText"`
}

// format lays a document out as "tidy" does. A text that cannot be parsed, or that would
// say something else, gets no edits.
func (s *server) format(d *document, _ *params) (any, error) {
	tidy, ds := lang.TidyChecked(d.source)
	if d.faults.HasErrors() || ds.HasErrors() || tidy == d.text {
		return []textEdit{}, nil
	}
	return []textEdit{{Range: whole(d.text), NewText: tidy}}, nil
}
