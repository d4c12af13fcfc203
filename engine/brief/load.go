package brief

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"reflect"
	"slices"
	"strings"
	"sync"

	"glassbrief/catalog"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// Files is where a scenario's own files are read from.
type Files struct {
	// Tree is the folder of the scenario; "use", "script" and "rules" name files in it
	// and below. Nothing outside it is read.
	Tree fs.FS
	// Heard is told of each file of the tree that is read, by its path there; nil where nobody asks.
	Heard func(name, text string)
	// Kept keeps the catalogue from one reading to the next; nil where it is read once.
	Kept *catalog.Kept
	// Name is how Tree is named to the user, in front of the path of a file.
	Name string
	// Catalogues and Rules are further sources that the user's settings name.
	Catalogues []*lang.Source
	Rules      []*lang.Source
	// Budget bounds what is read of the tree; nil is one of the usual size.
	Budget *lang.Budget
	House  House
	// Untasted leaves out the weights that a statement of their own sets in the scenario's own rules: a taste,
	// beside the house's.
	Untasted bool
}

// A House is what the settings say where a scenario does not.
type House struct {
	ChangePrice, Crew lang.Quantity // unknown where they do not say it either
}

// Ready makes ready what every scenario is read and judged with, and what depends on none. It takes
// as long as reading one with its catalogue, so start it while waiting for something else.
func Ready() { ready() }

var ready = sync.OnceFunc(func() { // in the order in which reading comes to it
	lang.Ready(reflect.TypeFor[document]())
	catalog.Ready()
	rules.Standard()
})

// Shape says how statements may stand in a scenario.
func Shape() lang.Shape {
	shape := lang.ShapeOf(reflect.TypeFor[document]())
	shape["scenario"].Inner.Name("unit", "day", "place", "vary")
	return shape
}

// Load reads a scenario with all that it names. The diagnostics hold every fault of every
// file; with errors among them the scenario is nil.
func Load(src *lang.Source, files Files) (*Scenario, lang.Diagnostics) {
	go Ready() // beside the reading, which takes as long
	file, found := lang.Parse(src)
	var doc document
	found = append(found, lang.Decode(file, &doc)...)
	l := newLoader(files, &doc)
	l.found = found
	scenario := l.scenario()
	if large := slices.DeleteFunc(slices.Clone(l.found), func(d lang.Diagnostic) bool { return d.Code != lang.TooLarge }); len(large) > 0 {
		return nil, large.Sorted() // what else is missing is missing for that
	}
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
	l := newLoader(files, &document{})
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
	House      House
}

// PartsOf reads the texts of a scenario that [Load] has read without errors.
func PartsOf(src *lang.Source, files Files) Parts {
	file, _ := lang.Parse(src)
	l := newLoader(files, &document{})
	lang.Decode(file, l.doc)
	return Parts{Scenario: file, Catalogues: l.catalogueSources(), Rules: append([]*lang.Source{rules.StandardSource()}, l.ownRules()...), House: files.House}
}

type loader struct {
	files Files
	found lang.Diagnostics
	doc   *document
	read  map[string]*lang.Source // the files of the tree, by name; nil for a faulty one
}

func newLoader(files Files, doc *document) *loader {
	files.Budget = files.Budget.Or()
	return &loader{files: files, doc: doc, read: map[string]*lang.Source{}}
}

func (l *loader) report(d lang.Diagnostic) { l.found.Add(d) }

// open reads a file that the scenario names, once however often it does, or reports why it cannot be
// read.
func (l *loader) open(name lang.Text, of lang.Portion) *lang.Source {
	return l.openAs(name, l.files.Budget.Source, of)
}

func (l *loader) openAs(name lang.Text, source func(name, text string, of lang.Portion) (*lang.Source, lang.Diagnostics), of lang.Portion) *lang.Source {
	cleaned := path.Clean(strings.ReplaceAll(name.Value, `\`, "/"))
	if src, known := l.read[cleaned]; known {
		return src
	}
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
	text, err := l.files.Text(cleaned)
	if err != nil {
		l.unreadable(name, err)
		return nil
	}
	src, ds := source(path.Join(l.files.Name, cleaned), text, of)
	l.found = append(l.found, ds...)
	if ds.HasErrors() {
		src = nil
	}
	l.read[cleaned] = src
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

// Text reads a file of the tree, no more of it than makes one byte too many.
func (f Files) Text(name string) (string, error) {
	file, err := f.Tree.Open(name)
	if err != nil {
		return "", err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return "", err
	}
	if !info.Mode().IsRegular() {
		return "", errNotAFile
	}
	text, err := f.Budget.Or().Read(file)
	if err == nil && f.Heard != nil {
		f.Heard(name, text)
	}
	return text, err
}

// catalogueSources gives every catalogue in use, the first on top.
func (l *loader) catalogueSources() []*lang.Source {
	var sources []*lang.Source
	for _, use := range l.doc.Uses {
		switch {
		case use.Demo:
			if l.read[""] == nil { // no path is cleaned to that
				l.read[""] = catalog.Demo()
			}
			sources = add(sources, l.read[""])
		case use.Path.Span.Known():
			sources = add(sources, l.open(use.Path, lang.OfFile))
		}
	}
	return append(sources, l.files.Catalogues...)
}

// add adds a source that could be read and is not among the others: what is named twice counts once.
func add(sources []*lang.Source, src *lang.Source) []*lang.Source {
	if src == nil || slices.Contains(sources, src) {
		return sources
	}
	return append(sources, src)
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
	loaded, ds := l.files.Kept.Load(sources...)
	l.found = append(l.found, ds...)
	return loaded
}

// ownRules gives the rules that the settings and the scenario add to the standard ones.
func (l *loader) ownRules() []*lang.Source {
	sources := slices.Clone(l.files.Rules)
	for _, name := range l.doc.Scenario.Rules {
		sources = add(sources, l.open(name, lang.OfRules))
	}
	return sources
}

// rules gives all criteria.
func (l *loader) rules() *rules.Set {
	set, found := rules.Standard(), lang.Diagnostics(nil)
	switch own := l.ownRules(); {
	case len(own) == 0:
	case l.files.Untasted:
		set, found = set.ExtendUntasted(own[len(l.files.Rules):], own...)
	default:
		set, found = set.Extend(own...)
	}
	l.found = append(l.found, found...)
	return set
}
