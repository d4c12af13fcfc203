package lang

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Severity says whether a diagnostic stops the work. Its zero value is invalid.
type Severity uint8

const (
	// Error means that the input cannot be used as it stands.
	Error Severity = iota + 1
	// Warning means that the input is used, and that a person should look.
	Warning
)

// String gives "error" or "warning".
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	}
	return "invalid severity"
}

// A Diagnostic is one thing found wrong with an input, for people and for programs.
type Diagnostic struct {
	Severity Severity
	Code     Code
	Summary  string     // lower case, no full stop, names the thing in quotes
	Detail   string     // full sentences: the rule, then what to write instead; may be empty
	Span     Span       // the tightest piece of text that is wrong; zero if there is none
	Instead  string     // the likeliest text for Span; empty if there is none
	Spelling bool       // Instead says the same in the spelling of the language, so that no one needs to be asked
	Fix      Correction // what takes the fault away where that is not Instead in the place of Span; see [Diagnostic.Correction]
	Related  []Related  // other places that matter, such as an earlier definition
}

// Related is another place that a diagnostic points to.
type Related struct {
	Span Span
	Note string
}

// Error gives place, severity and summary on one line.
func (d Diagnostic) Error() string {
	var b strings.Builder
	if d.Span.Known() {
		b.WriteString(d.Span.String() + ": ")
	}
	fmt.Fprintf(&b, "%s: %s", d.Severity, d.Summary)
	if d.Instead != "" {
		fmt.Fprintf(&b, "; did you mean %q?", d.Instead)
	}
	return b.String()
}

// Diagnostics is a list of findings. It is an error value, and may hold warnings only:
// ask [Diagnostics.Err] before treating it as a failure.
type Diagnostics []Diagnostic

// Error gives one line a diagnostic.
func (ds Diagnostics) Error() string {
	lines := make([]string, len(ds))
	for i, d := range ds {
		lines[i] = d.Error()
	}
	return strings.Join(lines, "\n")
}

// Err gives the list itself when it holds an error, and nil when it holds at most warnings.
func (ds Diagnostics) Err() error {
	if ds.HasErrors() {
		return ds
	}
	return nil
}

// HasErrors reports whether any diagnostic is an error.
func (ds Diagnostics) HasErrors() bool {
	return slices.ContainsFunc(ds, func(d Diagnostic) bool { return d.Severity == Error })
}

// Full reports whether there is no room for more (see MaxRecorded) and an error among them, so that
// whoever reads on would find nothing that counts.
func (ds Diagnostics) Full() bool { return len(ds) >= MaxRecorded && ds.HasErrors() }

func (ds Diagnostics) count(s Severity) int {
	n := 0
	for _, d := range ds {
		if d.Severity == s {
			n++
		}
	}
	return n
}

// Add appends a diagnostic while there is room for it (see MaxRecorded). The first error takes the place
// of a warning where there is none.
func (ds *Diagnostics) Add(d Diagnostic) {
	switch {
	case len(*ds) < MaxRecorded:
		*ds = append(*ds, d)
	case d.Severity == Error && !ds.HasErrors():
		(*ds)[len(*ds)-1] = d
	}
}

// Sorted gives the diagnostics by source name and place, without repeats.
func (ds Diagnostics) Sorted() Diagnostics {
	sorted := slices.Clone(ds)
	slices.SortStableFunc(sorted, func(a, b Diagnostic) int {
		return cmp.Or(
			cmp.Compare(a.sourceName(), b.sourceName()),
			cmp.Compare(a.Span.Start, b.Span.Start),
			cmp.Compare(a.Severity, b.Severity),
		)
	})
	distinct := sorted[:0]
	for _, d := range sorted {
		first := len(distinct) // of those that begin where this one does
		for first > 0 && distinct[first-1].Span.Start == d.Span.Start {
			first--
		}
		if !slices.ContainsFunc(distinct[first:], d.same) {
			distinct = append(distinct, d)
		}
	}
	return distinct
}

// Beyond gives the diagnostics that others do not hold yet, as when a file is read twice.
func (ds Diagnostics) Beyond(others Diagnostics) Diagnostics {
	return slices.DeleteFunc(slices.Clone(ds), func(d Diagnostic) bool { return slices.ContainsFunc(others, d.same) })
}

// same reports whether another diagnostic says the same of the same text.
func (d Diagnostic) same(other Diagnostic) bool {
	a, b := d.Span.Source, other.Span.Source
	return d.Code == other.Code && d.Summary == other.Summary && d.Span.Start == other.Span.Start && d.Span.End == other.Span.End &&
		(a == b || a != nil && b != nil && a.Name == b.Name && a.Text == b.Text)
}

func (d Diagnostic) sourceName() string {
	if d.Span.Source == nil {
		return ""
	}
	return d.Span.Source.Name
}
