package cmd

import (
	"os"
	"path/filepath"

	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// load reads a scenario and all that it and the settings name. Warnings are reported at
// once; with errors it fails with all findings.
func (a *app) load(path string) (scenario *brief.Scenario, err error) {
	bar := a.progress("reading %s and its catalogues", path)
	defer bar.end()
	err = a.withFiles(path, func(src *lang.Source, files brief.Files) (err error) {
		scenario, err = a.loadFrom(src, files)
		return err
	})
	return scenario, err
}

// loadUntasted is load by the weights of the house, without those of a taste.
func (a *app) loadUntasted(path string) (scenario *brief.Scenario, err error) {
	err = a.withFiles(path, func(src *lang.Source, files brief.Files) (err error) {
		files.Untasted = true
		scenario, err = a.loadFrom(src, files)
		return err
	})
	return scenario, err
}

func (a *app) loadFrom(src *lang.Source, files brief.Files) (*brief.Scenario, error) {
	scenario, found := brief.Load(src, files)
	if found.HasErrors() {
		return nil, found
	}
	a.reportWarnings(found)
	return scenario, nil
}

// withFiles calls use with a scenario's text and with what it may read.
func (a *app) withFiles(path string, use func(*lang.Source, brief.Files) error) error {
	go brief.Ready() // beside reading files
	if err := a.loadSettings(path); err != nil {
		return err
	}
	src, err := a.source(path)
	if err != nil {
		return err
	}
	return a.readable(path, func(files brief.Files) error { return use(src, files) })
}

// readable calls use with what a scenario may read: its own folder, as long as use runs,
// and what the settings name. Standard input stands in the working folder.
func (a *app) readable(path string, use func(brief.Files) error) error {
	if err := a.loadSettings(path); err != nil {
		return err
	}
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return unreadable(filepath.Dir(path), err)
	}
	defer root.Close()
	files := brief.Files{
		Tree: folder{a, root}, Name: filepath.Dir(path), Budget: a.budget,
		House: brief.House{ChangePrice: lang.NewQuantity(a.settings.ChangePrice, lang.Plain), Crew: a.settings.crew},
	}
	if files.Catalogues, err = a.readSources(a.settings.Catalogues, lang.OfFile); err != nil {
		return err
	}
	if files.Rules, err = a.readSources(a.settings.Rules, lang.OfRules); err != nil {
		return err
	}
	return use(files)
}

// source reads a file of the language, or standard input for "-".
func (a *app) source(path string) (*lang.Source, error) {
	if path != "-" {
		return a.readSource(path)
	}
	text, err := a.budget.Read(a.stdin)
	if err != nil {
		return nil, unreadable("standard input", err)
	}
	src, found := a.budget.Source("standard input", text, lang.OfFile)
	return src, found.Err()
}

func (a *app) readSources(paths []string, of lang.Portion) ([]*lang.Source, error) {
	var sources []*lang.Source
	for _, path := range paths {
		src, err := a.readPortion(path, of)
		if err != nil {
			return nil, err
		}
		sources = append(sources, src)
	}
	return sources, nil
}

// oneFile is for verbs that take one scenario.
func oneFile(c *cobra.Command, args []string) error {
	switch len(args) {
	case 1:
		return nil
	case 0:
		return usage(lang.MissingValue, "%q lacks the scenario", c.CommandPath()).
			because("Name a file, as in: %s night-ferry.scenario; - reads standard input.", c.CommandPath())
	}
	return usage(lang.ExtraValue, "%q takes one scenario, and %q is a second", c.CommandPath(), args[1]).
		because("A name with spaces goes between quotes.")
}
