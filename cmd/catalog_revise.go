package cmd

import (
	"fmt"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"
)

// take gives the text of the catalogue with drafts in it: added, or with --update put in the
// place of what they give otherwise.
func (x *importContext) take(old *lang.Source, f *importFlags, drafts []catalog.Draft) (catalog.Revision, lang.Diagnostics) {
	if !f.update || old == nil {
		text, _, found := x.add(old, f.into, drafts)
		return catalog.Revision{Text: text, New: drafts}, found
	}
	sources := append([]*lang.Source{old}, x.beside...)
	all, _ := catalog.Load(sources...)
	r, found := all.Revise(old, drafts)
	if found.HasErrors() {
		return r, found
	}
	text, _, more := x.extend(r.Text, r.Origins, f.into, r.New)
	found, r.Text = append(found, more...), text
	if src, ds := lang.NewSource(f.into, []byte(text)); !found.HasErrors() && !ds.HasErrors() {
		sources[0] = src
		all, _ = catalog.Load(sources...)
		found = append(found, all.Unmet(r.Changes)...)
	}
	return r, found
}

// reviseFile changes a catalogue file by drafts, and says what changed. A file in which nothing
// is to be changed is not written.
func (a *app) reviseFile(f *importFlags, x *importContext, drafts []catalog.Draft, found lang.Diagnostics) error {
	var r catalog.Revision
	var more lang.Diagnostics
	err := a.updateFile(f.into, func(old *lang.Source) (string, error) {
		r, more = x.take(old, f, drafts)
		return r.Text, more.Err()
	})
	if err != nil {
		return err
	}
	a.reportWarnings(append(found, more...))
	fmt.Fprintf(a.stderr, "%s: %s\n", f.into, countRevision(r))
	for _, c := range r.Changes {
		fmt.Fprintf(a.stderr, "  %s %q: %s is %s, was %s\n", c.Kind, c.Name, c.After.Keyword, c.After.Show(a.printer()), shownBefore(c, a.printer()))
	}
	return nil
}

func shownBefore(c catalog.Change, p lang.Printer) string {
	if text := c.Before.Show(p); text != "" {
		return text
	}
	return "unknown"
}

// countRevision says how many items a revision changes and adds.
func countRevision(r catalog.Revision) string {
	type item struct{ kind, name string }
	changed, added := map[string]int{}, map[string]int{}
	seen := map[item]bool{}
	for _, c := range r.Changes {
		if key := (item{c.Kind, c.Name}); !seen[key] {
			seen[key] = true
			changed[c.Kind]++
		}
	}
	for _, d := range r.New {
		if !d.Amends {
			added[d.Kind]++
		}
	}
	switch {
	case len(changed) == 0 && len(added) == 0:
		return "nothing to change"
	case len(changed) == 0:
		return "added " + countKinds(added)
	case len(added) == 0:
		return "changed " + countKinds(changed)
	}
	return "changed " + countKinds(changed) + "; added " + countKinds(added)
}

var changeListing = listing[catalog.Change]{
	{key: "kind", value: func(c catalog.Change) any { return c.Kind }},
	{key: "name", Column: show.Column{Title: "item", Wraps: true}, tone: show.Strong, value: func(c catalog.Change) any { return c.Name }},
	{key: "field", Column: show.Column{Title: "changes"}, value: func(c catalog.Change) any { return c.After.Keyword }},
	{key: "before", Column: show.Column{Title: "from", Wraps: true}, value: func(c catalog.Change) any { return shownBefore(c, lang.Printer{}) },
		cell: func(c catalog.Change, p lang.Printer) show.Cell { return show.Cell{Text: shownBefore(c, p)} }},
	{key: "after", Column: show.Column{Title: "to", Wraps: true}, value: func(c catalog.Change) any { return c.After.Show(lang.Printer{}) },
		cell: func(c catalog.Change, p lang.Printer) show.Cell { return show.Cell{Text: c.After.Show(p)} }},
}

// changesMember gives what programs read of changes.
func changesMember(changes []catalog.Change) travel.Member {
	return travel.Member{Key: "changes", Value: changeListing.objects(changes)}
}
