package editor

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/learn"
	"glassbrief/engine/taste"
	"glassbrief/lang"
)

// choiceFindings works a file of choices out with the scenarios that it names.
func (s *server) choiceFindings(d *document) lang.Diagnostics {
	groups, found := learn.Read(d.source)
	ctx, cancel := context.WithTimeout(s.ctx, s.Patience)
	defer cancel()
	study := &learn.Study{}
	for _, group := range groups {
		if group.Path == "" || d.path == "" {
			continue // already reported, or nobody knows where the scenario is
		}
		err := s.inScenario(d, group.Path, func(src *lang.Source, files brief.Files) {
			scenario, ds := brief.Load(src, files)
			found = append(found, ds...)
			if scenario == nil {
				return
			}
			table, err := engine.Judge(ctx, scenario, engine.Options{})
			if err != nil {
				return
			}
			if held, err := taste.Hold(ctx, table, engine.Options{}); err == nil {
				found = append(found, study.Add(held, group)...)
			}
		})
		if err != nil {
			found.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.UnreadableFile, Span: group.Scenario.Span,
				Summary: fmt.Sprintf("%q cannot be read: %v", group.Scenario.Value, err), Detail: "Check the path; it counts from the folder of the choices.",
			})
		}
	}
	return found
}

// inScenario gives use a scenario that a file of choices names, with what it may read, by the weights of
// the house.
func (s *server) inScenario(d *document, name string, use func(*lang.Source, brief.Files)) error {
	path := filepath.Join(filepath.Dir(d.path), filepath.FromSlash(name))
	var failed error
	err := s.files(&document{path: path}, func(files brief.Files) {
		text, err := files.Text(filepath.Base(path))
		if err != nil {
			var of *fs.PathError
			if failed = err; errors.As(err, &of) {
				failed = of.Err
			}
			return
		}
		files.Untasted = true
		src, found := files.Budget.Or().Source(path, text, lang.OfFile)
		if failed = found.Err(); failed == nil {
			use(src, files)
		}
	})
	return errors.Join(err, failed)
}

// lookAt reads what a place of a document can name: of choices, the scenario of the block.
func (s *server) lookAt(d *document, place lang.Place) *brief.Scenario {
	if d.kind != "choices" || len(place.Blocks) == 0 {
		return s.look(d)
	}
	groups, _ := learn.Read(d.source)
	in := slices.IndexFunc(groups, func(g learn.Group) bool {
		return slices.Contains(place.Blocks[0].Values, g.Scenario.Span)
	})
	scenario := s.look(d)
	if in >= 0 && groups[in].Path != "" && d.path != "" {
		_ = s.inScenario(d, groups[in].Path, func(src *lang.Source, files brief.Files) { scenario = brief.Look(src, files) }) // or there is nothing to name
	}
	return scenario
}
