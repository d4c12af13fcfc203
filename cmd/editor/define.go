package editor

import (
	"path/filepath"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// define gives the place where what a text names is described: a piece of equipment in a
// catalogue, a shot, a fact of a rules file, a file, a scene of the script. What is built
// into the program has no place.
func (s *server) define(d *document, offset int) any {
	place := d.source.At(offset)
	scenario := s.lookAt(d, place)
	var span lang.Span
	switch place.Kind {
	case lang.AtText:
		kind, name := d.nameKind(place), textOf(place.Span)
		switch part := partAt(place.Span, offset); {
		case quotesFact(part):
			span = factSpan(scenario, part.Text())
		case kind == "file":
			return s.fileNamed(d, name)
		case place.Keyword.Value == "scene" || place.Keyword.Value == "heading":
			return s.scene(d, scenario, name)
		default:
			span = find(scenario, kind, name, s.Printer).span
		}
	case lang.AtWord:
		if place.Keyword.Value == "scene" {
			return s.scene(d, scenario, place.Span.Text())
		}
	case lang.AtExpression:
		span = factSpan(scenario, partAt(place.Span, offset).Text())
	}
	at, ok := d.locate(span)
	if !ok {
		return nil
	}
	return at
}

// factSpan gives the place where a rules file defines a fact.
func factSpan(s *brief.Scenario, name string) lang.Span {
	for _, fact := range s.Rules.Facts() {
		if fact.Name == name {
			return fact.Span
		}
	}
	return lang.Span{}
}

// fileNamed gives the start of a file that a scenario names.
func (s *server) fileNamed(d *document, name string) any {
	if d.path == "" || !filepath.IsLocal(filepath.FromSlash(name)) {
		return nil
	}
	return location{URI: uriOf(filepath.Join(filepath.Dir(d.path), filepath.FromSlash(name)))}
}

// scene gives the heading of a scene in the script.
func (s *server) scene(d *document, scenario *brief.Scenario, name string) any {
	if scenario.Script.Value == "" || d.path == "" {
		return nil
	}
	var found any
	err := s.files(d, func(files brief.Files) {
		text, err := files.Text(filepath.ToSlash(filepath.Clean(scenario.Script.Value)))
		if err != nil {
			return // which is among the findings
		}
		src, ds := files.Budget.Or().Source(filepath.Join(files.Name, filepath.FromSlash(scenario.Script.Value)), text, lang.OfFile)
		if ds.HasErrors() {
			return
		}
		for _, scene := range lang.Scenes(src) {
			if scene.Number == name || lang.SameHeading(scene.Heading, name) {
				found = location{uriOf(src.Name), rangeOf(scene.Span)}
				return
			}
		}
	})
	if err != nil {
		return nil
	}
	return found
}
