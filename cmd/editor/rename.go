package editor

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
	"glassbrief/lang/expression"
)

// prepareRename gives the range of the name at a place, if that is of something that can be renamed.
func (s *server) prepareRename(d *document, p *params) (any, error) {
	m, ok := d.mentionAt(offsetOf(d.source, p.Position))
	if !ok {
		return nil, nil
	}
	if _, err := s.described(s.workspace(d), d, m); err != nil {
		return nil, err
	}
	return map[string]any{"range": rangeOf(m.span), "placeholder": m.name}, nil
}

// described gives the places of what a mention stands for, of which one describes it.
func (s *server) described(w *workspace, d *document, m mention) ([]located, error) {
	all := mentionsOf(w.about(d, m.subject), m.subject)
	for _, place := range all {
		if place.defines {
			return all, nil
		}
	}
	return nil, fmt.Errorf("no file of this folder describes the %s %q: it is built in, of the house or not there at all", m.kind, m.name)
}

// rename gives the edits by which what stands at a place has another name everywhere. It fails where the name
// is taken or cannot be one, so that nothing means something else afterwards.
func (s *server) rename(d *document, p *params) (any, error) {
	m, ok := d.mentionAt(offsetOf(d.source, p.Position))
	if !ok {
		return nil, errors.New("nothing that can be renamed stands here")
	}
	w := s.workspace(d)
	places, err := s.described(w, d, m)
	if err != nil {
		return nil, err
	}
	if w.lacks != "" && m.scenario == "" {
		return nil, fmt.Errorf("whether other files name the %s %q is not known: %s", m.kind, m.name, w.lacks)
	}
	if p.NewName == m.name {
		return workspaceEdit{map[string][]textEdit{}}, nil
	}
	if err := s.mayBeCalled(w, d, m, p.NewName); err != nil {
		return nil, err
	}
	about := w.about(d, m.subject)
	edit := workspaceEdit{map[string][]textEdit{}}
	for _, place := range places {
		for _, m := range place.mentions {
			if m.span == place.span && m.subject != place.subject {
				return nil, fmt.Errorf("line %d of %s names the %s %q of %q and of %q at once: give one of them another name by hand",
					place.span.Position().Line, place.uri, m.kind, m.name, place.camera, m.camera)
			}
		}
		for _, reader := range w.readers(place.path) {
			if place.document.kind != "scenario" && !slices.Contains(about, reader) {
				return nil, fmt.Errorf("%s reads %s too, and has another %s %q or none", reader.uri, place.uri, m.kind, m.name)
			}
		}
		edit.Changes[place.uri] = append(edit.Changes[place.uri], textEdit{rangeOf(place.span), place.quotedAs(p.NewName)})
	}
	return edit, nil
}

// mayBeCalled gives the reason why a name cannot be that of what a mention stands for, or nil.
func (s *server) mayBeCalled(w *workspace, d *document, m mention, name string) error {
	switch {
	case m.kind == "fact" && !expression.FitName(name):
		return fmt.Errorf("%q cannot be the name of a fact: it has two or more lower-case letters, digits and \"_\", begins with a letter, and is no word of expressions", name)
	case strings.TrimSpace(name) == "":
		return errors.New("a name is wanted")
	case strings.ContainsFunc(name, func(c rune) bool { return unicode.IsControl(c) }):
		return errors.New("a name stands on one line")
	}
	if m.kind == "criterion" && find(&brief.Scenario{Rules: rules.Standard()}, m.kind, m.name, s.Printer).text != "" {
		return fmt.Errorf("the criterion %q takes the place of the standard one by its name", m.name)
	}
	other := m.subject
	other.name = name
	files := w.about(d, m.subject)
	for _, place := range mentionsOf(files, other) {
		return fmt.Errorf("%s has the name already: a %s %q at line %d", place.uri, m.kind, name, place.span.Position().Line)
	}
	for _, f := range files {
		if f.kind != "scenario" {
			continue // which reads the others
		}
		look := s.look(f.document)
		_, isFact := look.Rules.Names().Lookup(name)
		if m.kind == "mode" {
			camera, ok := look.Catalogue.Cameras.Lookup(m.camera)
			if ok && camera.Mode(name) != nil {
				return fmt.Errorf("%q has a mode %q already", m.camera, name)
			}
			continue
		}
		if m.kind == "fact" && isFact || find(look, m.kind, name, s.Printer).text != "" {
			return fmt.Errorf("there is a %s %q already", m.kind, name)
		}
	}
	return nil
}

// references lists where what stands at a place is named, with where it is described if asked for.
func (s *server) references(d *document, p *params) (any, error) {
	places := []location{}
	if m, ok := d.mentionAt(offsetOf(d.source, p.Position)); ok {
		for _, place := range mentionsOf(s.workspace(d).about(d, m.subject), m.subject) {
			if !place.defines || p.Context.IncludeDeclaration {
				places = append(places, location{place.uri, rangeOf(place.span)})
			}
		}
	}
	return places, nil
}

// A highlight is a place of the same name in the same document.
type highlight struct {
	Range textRange `json:"range"`
	Kind  int       `json:"kind"` // 3 where it is described, else 2
}

func (s *server) highlight(d *document, offset int) any {
	found := []highlight{}
	at, ok := d.mentionAt(offset)
	if !ok {
		return found
	}
	all, _ := d.mentions()
	for _, m := range all {
		if m.subject == at.subject {
			found = append(found, highlight{rangeOf(m.span), map[bool]int{false: 2, true: 3}[m.defines]})
		}
	}
	return found
}
