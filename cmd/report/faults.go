package report

import (
	"io"
	"strings"

	"glassbrief/lang"
)

// A fault is one finding, with the line that it is about cut around what is wrong.
type fault struct {
	Severity, Summary, Detail, Instead string
	Place                              string // file, line and column; "" without one
	Before, Wrong, After               string
	Related                            []fault
}

// Faults writes the page that stands in the place of a report while the files are broken.
func (w Writer) Faults(to io.Writer, title string, found lang.Diagnostics) error {
	return w.write(to, "faults.html", "page", title, faultsOf(found))
}

func faultsOf(found lang.Diagnostics) []fault {
	var faults []fault
	for _, d := range found.Sorted() {
		if len(faults) == lang.MaxReported {
			break
		}
		f := newFault(d.Span)
		f.Severity, f.Summary, f.Detail, f.Instead = d.Severity.String(), d.Summary, d.Detail, d.Instead
		for _, r := range d.Related {
			related := newFault(r.Span)
			related.Summary = r.Note
			f.Related = append(f.Related, related)
		}
		faults = append(faults, f)
	}
	return faults
}

// newFault cuts the line at the edges of a span.
func newFault(span lang.Span) fault {
	if !span.Known() {
		return fault{}
	}
	text, start := span.Source.Line(span.Position().Line)
	from := min(len(text), span.Start-start)
	to := min(len(text), max(from, span.End-start))
	return fault{
		Place:  span.String(),
		Before: strings.TrimLeft(text[:from], " \t"), Wrong: text[from:to], After: text[to:],
	}
}
