package cmd

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine/brief"
	"glassbrief/engine/compare"
	"glassbrief/engine/learn"
	"glassbrief/lang"
)

// choicesComparedData is what "compare" says to programs of two files of choices.
type choicesComparedData struct {
	travel.Header
	Old     string             `json:"old"`
	New     string             `json:"new"`
	Changes []choiceChangeData `json:"changes"`
}

// choiceChangeData is a line of CSV, too.
type choiceChangeData struct {
	Scenario string `json:"scenario"`
	Shot     string `json:"shot"`
	Kind     string `json:"kind"`
	Old      string `json:"old"`
	New      string `json:"new"`
}

// isChoices reports whether a version is one of a file of choices, by its name.
func isChoices(version string) bool { return filepath.Ext(version) == choicesExtension }

// compareChoices compares two versions of a file of choices.
func (a *app) compareChoices(ctx context.Context, names []string) error {
	at := slices.IndexFunc(names, func(name string) bool { return !isChoices(name) })
	switch {
	case at >= 0:
		return usage(lang.WrongKind, "%q is no file of choices, and another version is one", names[at]).
			because("Name versions of scenarios alone, or two of files of choices.")
	case len(names) > 2:
		return usage(lang.ExtraValue, "two versions of a file of choices are compared, and %q is a third", names[2]).
			because("\"glassbrief merge\" joins two that come from a third. Only of scenarios three versions are compared.")
	}
	var versions [2][]learn.Group
	var found lang.Diagnostics
	for i, name := range names {
		if err := a.withVersion(ctx, name, func(text *lang.Source, _ brief.Files) error {
			groups, ds := learn.Read(text)
			versions[i], found = groups, append(found, ds...)
			return nil
		}); err != nil {
			return err
		}
	}
	if found.HasErrors() {
		return found
	}
	a.reportWarnings(found)
	data := choicesComparedData{travel.HeaderOf("compare-choices"), names[0], names[1], []choiceChangeData{}}
	said := func(s *learn.Said) string {
		if s == nil {
			return ""
		}
		return s.Taken()
	}
	for _, c := range learn.Changed(versions[0], versions[1]) {
		kind := compare.Changed
		switch {
		case c.Old == nil:
			kind = compare.Added
		case c.New == nil:
			kind = compare.Removed
		}
		data.Changes = append(data.Changes, choiceChangeData{c.Scenario, c.Shot, kind.String(), said(c.Old), said(c.New)})
	}
	if err := a.show(view{data: data, rows: rowsOf(data.Changes), page: func(lang.Printer) show.Page { return choicesComparedPage(data) }}); err != nil {
		return err
	}
	if len(data.Changes) > 0 {
		return errNo
	}
	return nil
}

func choicesComparedPage(data choicesComparedData) (out show.Page) {
	out.Heading(fmt.Sprintf("%s against %s", data.New, data.Old))
	if len(data.Changes) == 0 {
		out.Paragraph("The same lenses are chosen in the same shots.")
		return out
	}
	out.Paragraph(fmt.Sprintf("They differ in %s.", wording.Counted(len(data.Changes), "choice")))
	g := show.Grid{Columns: []show.Column{{Title: "scenario", Wraps: true}, {Title: "shot"}, {Title: "before", Wraps: true}, {Title: "now", Wraps: true}}}
	for _, c := range data.Changes {
		g.Rows = append(g.Rows, []show.Cell{{Text: c.Scenario}, {Text: c.Shot, Tone: show.Strong}, {Text: absent(c.Old)}, {Text: absent(c.New)}})
	}
	out.Grid(g)
	return out
}
