package cmd

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/learn"
	"glassbrief/engine/taste"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

// choicesExtension ends the name of a file of choices.
const choicesExtension = ".choices"

// study reads files of choices with the scenarios that they name, each judged by the weights of the
// house. It reports all faults of all files, and warns of choices that count for nothing.
func (a *app) study(ctx context.Context, files []string) (*learn.Study, error) {
	type scenario struct {
		path  string
		group learn.Group
	}
	var scenarios []scenario
	var found lang.Diagnostics
	for _, file := range files {
		src, err := a.source(file)
		if err != nil {
			return nil, err
		}
		groups, ds := learn.Read(src)
		found = append(found, ds...)
		for _, group := range groups {
			if group.Path == "" {
				continue // already reported
			}
			folder := filepath.Dir(file)
			if err := namedFile(folder, group); err != nil {
				found = append(found, diagnosticsOf(err)...)
				continue
			}
			path := filepath.Join(folder, filepath.FromSlash(group.Path))
			at := slices.IndexFunc(scenarios, func(s scenario) bool { return s.path == path })
			if at < 0 {
				scenarios = append(scenarios, scenario{path, group})
				continue
			}
			scenarios[at].group.Said = append(scenarios[at].group.Said, group.Said...)
		}
	}
	study := &learn.Study{}
	for _, s := range scenarios {
		a.settings = nil // each may have settings beside it
		of, err := a.loadUntasted(s.path)
		if err != nil {
			found = append(found, diagnosticsOf(err)...)
			continue
		}
		table, err := engine.Judge(ctx, of, engine.Options{})
		if err != nil {
			return nil, err
		}
		held, err := taste.Hold(ctx, table, engine.Options{})
		if err != nil {
			return nil, err
		}
		found = append(found, study.Add(held, s.group)...)
	}
	a.settings = nil
	if err := a.loadSettings(files[0]); err != nil {
		return nil, err
	}
	found = found.Sorted()
	if found.HasErrors() {
		return nil, found
	}
	a.reportWarnings(found)
	return study, nil
}

// namedFile reports a scenario that a file of choices names and that is not in its folder or below.
func namedFile(folder string, group learn.Group) error {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return unreadable(folder, err)
	}
	defer root.Close()
	if _, err := root.Stat(filepath.FromSlash(group.Path)); err != nil {
		return usage(lang.UnreadableFile, "%q: %s", group.Scenario.Value, reasonOf(err)).at(group.Scenario.Span).
			because("Check the path; it counts from the folder of the choices.")
	}
	return nil
}

// writeChoice adds the lens that is asked about to the file of choices, as the one that was taken.
func (a *app) writeChoice(scenario string, q *whyQuestion, behind *why.Case) error {
	for _, j := range []*engine.Judgement{behind.Lens, behind.Against} {
		if j != behind.Lens && q.against == "" {
			continue // it is not what was asked
		}
		switch {
		case j.Standing == engine.Excluded:
			return usage(lang.Contradiction, "%q cannot do shot %q: %s", j.Lens, q.shot, strings.Join(wording.WhyOut(j, a.printer()), "; ")).
				because("A taste never overrules a veto: nothing is written. Change the brief or the rules if the lens is to come.")
		case j.KeptOut.By != "" || !(engine.Outcome{Score: j.Score, Standing: j.Standing}).Acceptable():
			return usage(lang.Contradiction, "%q cannot be chosen in shot %q", j.Lens, q.shot).
				because("A limit of the scenario keeps it out, or too little is known of it: nothing is written.")
		}
	}
	file := q.choices
	if file == "" {
		file = strings.TrimSuffix(scenario, filepath.Ext(scenario)) + choicesExtension
	}
	path, err := filepath.Rel(filepath.Dir(file), scenario)
	if path = filepath.ToSlash(path); err != nil || learn.PathOf(path) == "" {
		return usage(lang.OutsideTree, "%q is in no folder below that of %q", scenario, file).
			because("A file of choices names scenarios beside it or below: name one there with --choices.")
	}
	said := learn.Said{Lens: lang.Text{Value: q.chose}, Shot: lang.Text{Value: q.shot}}
	if q.against != "" {
		said.Over = []lang.Text{{Value: q.against}}
	}
	added := false
	err = a.updateFile(file, func(old *lang.Source) (string, error) {
		text, isNew, found := learn.Add(old, path, said)
		added = isNew
		return text, found.Err()
	})
	switch {
	case err != nil:
		return err
	case !added:
		fmt.Fprintf(a.stderr, "%s has it already: %s\n", lang.Printable(file), lang.Printable(said.String()))
	default:
		fmt.Fprintf(a.stderr, "%s: %s\n", lang.Printable(file), lang.Printable(said.String()))
	}
	return nil
}
