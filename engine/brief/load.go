package brief

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// Files is where a scenario's own files are read from.
type Files struct {
	// Tree is the folder of the scenario; "use", "script" and "rules" name files in it
	// and below. Nothing outside it is read.
	Tree fs.FS
	// Name is how Tree is named to the user, in front of the path of a file.
	Name string
	// Catalogues and Rules are further sources that the user's settings name.
	Catalogues []*lang.Source
	Rules      []*lang.Source
}

// Load reads a scenario with all that it names. The diagnostics hold every fault of every
// file; with errors among them the scenario is nil.
func Load(src *lang.Source, files Files) (*Scenario, lang.Diagnostics) {
	go rules.Standard() // beside the reading, which takes as long
	file, found := lang.Parse(src)
	var doc document
	found = append(found, lang.Decode(file, &doc)...)
	l := &loader{files: files, found: found, doc: &doc}
	scenario := l.scenario()
	if l.found.HasErrors() {
		return nil, l.found.Sorted()
	}
	scenario.assume()
	return scenario, l.found.Sorted()
}

// Look reads a scenario as far as it can be read, for editors: what is faulty is left
// out, so that cameras and shots may be missing. It is not to be recommended from.
func Look(src *lang.Source, files Files) *Scenario {
	file, _ := lang.Parse(src)
	l := &loader{files: files, doc: &document{}}
	lang.Decode(file, l.doc)
	s := l.scenario()
	if s.Rig == nil {
		s.Rig = &catalog.Rig{}
	}
	return s
}

// Parts are the texts that a scenario is made of.
type Parts struct {
	Scenario   *lang.File
	Catalogues []*lang.Source // the first on top
	Rules      []*lang.Source // the standard ones first; a later criterion replaces an earlier one
}

// PartsOf reads the texts of a scenario that [Load] has read without errors.
func PartsOf(src *lang.Source, files Files) Parts {
	file, _ := lang.Parse(src)
	l := &loader{files: files, doc: &document{}}
	lang.Decode(file, l.doc)
	return Parts{Scenario: file, Catalogues: l.catalogueSources(), Rules: append([]*lang.Source{rules.StandardSource()}, l.ownRules()...)}
}

type loader struct {
	files Files
	found lang.Diagnostics
	doc   *document
	read  int // bytes of the files that the scenario names
}

func (l *loader) report(d lang.Diagnostic) { l.found.Add(d) }

// open reads a file that the scenario names, or reports why it cannot be read.
func (l *loader) open(name lang.Text) *lang.Source { return l.openAs(name, lang.NewSource) }

func (l *loader) openAs(name lang.Text, source func(name string, text []byte) (*lang.Source, lang.Diagnostics)) *lang.Source {
	cleaned := path.Clean(strings.ReplaceAll(name.Value, `\`, "/"))
	if !fs.ValidPath(cleaned) {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.OutsideTree, Span: name.Span,
			Summary: fmt.Sprintf("%q lies outside the folder of the scenario", name.Value),
			Detail:  "Put the file beside the scenario or below it, or name its folder under \"catalogues\" in the settings.",
		})
		return nil
	}
	if l.files.Tree == nil {
		l.unreadable(name, fs.ErrNotExist)
		return nil
	}
	text, err := readLimited(l.files.Tree, cleaned)
	if err != nil {
		l.unreadable(name, err)
		return nil
	}
	before := l.read
	if l.read += len(text); l.read > lang.MaxNamedBytes {
		if before <= lang.MaxNamedBytes { // once for all of them
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.TooLarge, Span: name.Span,
				Summary: fmt.Sprintf("with %q, the files that the scenario names hold more than %d MB", name.Value, lang.MaxNamedBytes>>20),
				Detail:  "Leave out what this scenario does not need. Catalogues that the settings name do not count.",
			})
		}
		return nil
	}
	src, ds := source(path.Join(l.files.Name, cleaned), text)
	l.found = append(l.found, ds...)
	if ds.HasErrors() {
		return nil
	}
	return src
}

func (l *loader) unreadable(name lang.Text, err error) {
	why := "it cannot be read"
	switch {
	case errors.Is(err, fs.ErrNotExist):
		why = "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		why = "reading it is not permitted"
	case errors.Is(err, errNotAFile):
		why = "it is no file"
	}
	l.report(lang.Diagnostic{
		Severity: lang.Error, Code: lang.UnreadableFile, Span: name.Span,
		Summary: fmt.Sprintf("%q: %s", name.Value, why),
		Detail:  "Check the path; it counts from the folder of the scenario.",
	})
}

var errNotAFile = errors.New("not a file")

// readLimited reads a file, no more of it than makes one byte too many.
func readLimited(tree fs.FS, name string) ([]byte, error) {
	f, err := tree.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNotAFile
	}
	return lang.ReadLimited(f)
}

// catalogueSources gives every catalogue in use, the first on top.
func (l *loader) catalogueSources() []*lang.Source {
	var sources []*lang.Source
	read := map[string]bool{} // a file that is named twice is read once
	for _, use := range l.doc.Uses {
		name := path.Clean(use.Path.Value)
		if use.Demo {
			name = "" // no path is cleaned to that
		}
		if read[name] {
			continue
		}
		read[name] = true
		switch {
		case use.Demo:
			sources = append(sources, catalog.Demo())
		case use.Path.Span.Known():
			if src := l.open(use.Path); src != nil {
				sources = append(sources, src)
			}
		}
	}
	return append(sources, l.files.Catalogues...)
}

// catalogue loads every catalogue in use.
func (l *loader) catalogue() *catalog.Catalogue {
	sources := l.catalogueSources()
	if len(sources) == 0 && !l.found.HasErrors() {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.MissingField, Span: l.doc.Scenario.Span,
			Summary: "the scenario names no catalogue",
			Detail:  "Add a line as: use \"kit.catalog\" (a file of yours), or: use demo (the built-in demo catalogue).",
		})
	}
	loaded, ds := catalog.Load(sources...)
	l.found = append(l.found, ds...)
	return loaded
}

// ownRules gives the rules that the settings and the scenario add to the standard ones.
func (l *loader) ownRules() []*lang.Source {
	sources := slices.Clone(l.files.Rules)
	read := map[string]bool{}
	for _, name := range l.doc.Scenario.Rules {
		cleaned := path.Clean(name.Value)
		if read[cleaned] {
			continue
		}
		read[cleaned] = true
		if src := l.open(name); src != nil {
			sources = append(sources, src)
		}
	}
	return sources
}

// rules gives all criteria.
func (l *loader) rules() *rules.Set {
	set, found := rules.Standard(), lang.Diagnostics(nil)
	if own := l.ownRules(); len(own) > 0 {
		set, found = set.Extend(own...)
	}
	l.found = append(l.found, found...)
	return set
}
