package cmd

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// fixRounds bounds how often files are read anew: a correction can bring a fault to light that has one too.
const fixRounds = 10

// fixData is one correction that was made, at its place in the text before it.
type fixData struct {
	Code   lang.Code `json:"code"`
	File   string    `json:"file"`
	Line   int       `json:"line"`
	Column int       `json:"column"`
	Was    string    `json:"was"`
	Is     string    `json:"is"`
}

// fix makes the safe corrections of scenarios and of the catalogues and rules beside them, and gives those
// that were made. What cannot be read is left for the check that follows.
func (a *app) fix(paths []string) (made []fixData, err error) {
	for _, path := range paths {
		for range fixRounds {
			a.forget() // each file may have settings beside it
			found := a.faultsOf(path)
			round := len(made)
			for _, src := range a.correctable(path, found) {
				of, err := a.correct(src, found)
				if err != nil {
					return made, err
				}
				made = append(made, of...)
			}
			if len(made) == round {
				break
			}
		}
	}
	a.forget()
	return made, nil
}

// faultsOf gives all that reading a scenario finds.
func (a *app) faultsOf(path string) (found lang.Diagnostics) {
	err := a.withFiles(path, func(src *lang.Source, files brief.Files) error {
		scenario, faults := brief.Load(src, files)
		if found = faults; scenario != nil {
			found = append(found, brief.CheckScript(scenario, files)...)
		}
		return nil
	})
	if err != nil {
		return diagnosticsOf(err)
	}
	return found
}

// correctable lists the sources of safe corrections that lie in the folder of a scenario. Those of a house,
// which the settings name, are for others too, and are left as they are.
func (a *app) correctable(path string, found lang.Diagnostics) (sources []*lang.Source) {
	for _, d := range found {
		c, ok := d.Correction()
		if !ok || !c.Safe || slices.Contains(sources, c.Span.Source) {
			continue
		}
		name := c.Span.Source.Name
		local, err := filepath.Rel(filepath.Dir(path), name)
		house := a.settings != nil && slices.Contains(slices.Concat(a.settings.Catalogues, a.settings.Rules), name)
		if err == nil && filepath.IsLocal(local) && !house {
			sources = append(sources, c.Span.Source)
		}
	}
	return sources
}

// correct makes the safe corrections of one file in one step, unless it has changed since it was read.
func (a *app) correct(src *lang.Source, found lang.Diagnostics) (made []fixData, err error) {
	text, corrections := lang.Correct(src, found.SafeCorrections(src))
	codes := map[lang.Span]lang.Code{}
	for _, d := range found {
		if c, ok := d.Correction(); ok {
			codes[c.Span] = d.Code
		}
	}
	err = a.updateFile(src.Name, func(now *lang.Source) (string, error) {
		if made = nil; now == nil || now.Text != src.Text {
			return "", usage(lang.UnreadableFile, "%q was changed while it was checked", src.Name).because("Run this again.")
		}
		for _, c := range corrections {
			at := c.Span.Position()
			made = append(made, fixData{codes[c.Span], src.Name, at.Line, at.Column, c.Span.Text(), c.Text})
		}
		return text, nil
	})
	if err != nil {
		made = nil
	}
	return made, err
}

// sayFixed prints what was corrected, a line each.
func sayFixed(w io.Writer, made []fixData) error {
	oneLine := func(text string) string { return lang.Printable(strings.Join(strings.Fields(text), " ")) }
	for _, f := range made {
		is := "is now " + oneLine(f.Is)
		if f.Is == "" {
			is = "is removed"
		}
		if _, err := fmt.Fprintf(w, "%s:%d:%d: %s %s\n", lang.Printable(f.File), f.Line, f.Column, oneLine(f.Was), is); err != nil {
			return err
		}
	}
	return nil
}
