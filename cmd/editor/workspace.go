package editor

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// A file is a text of the folder that is worked in, with what it names.
type file struct {
	*document
	mentions []mention
	reads    []string // the paths of the files that it names
}

// A workspace is the texts of the folder that a session works in, by their paths.
type workspace struct {
	files []*file
	lacks string // why some file is not among them, "" where all are
}

// workspace reads the files of the language that lie in the folder of the session, or else in that of a
// document. An open document stands in the place of its file.
func (s *server) workspace(d *document) *workspace {
	w := &workspace{}
	add := func(of *document) {
		f := &file{document: of}
		f.mentions, f.reads = of.mentions()
		w.files = append(w.files, f)
	}
	if d.path == "" || s.List == nil {
		add(d)
		return w
	}
	root := filepath.Dir(d.path)
	if s.root != "" && within(s.root, d.path) {
		root = s.root
	}
	paths, all := s.List(root)
	if !all {
		w.lacks = fmt.Sprintf("%s holds more files than are looked through", uriOf(root))
	}
	for _, open := range s.documents {
		if open.path != "" && within(root, open.path) && !slices.Contains(paths, open.path) {
			paths = append(paths, open.path)
		}
	}
	slices.Sort(paths)
	err := s.files(&document{path: filepath.Join(root, "any")}, func(files brief.Files) {
		for _, path := range paths {
			if open := s.documents[uriOf(path)]; open != nil {
				add(open)
				continue
			}
			local, err := filepath.Rel(root, path)
			text := ""
			if err == nil {
				text, err = files.Text(filepath.ToSlash(local))
			}
			of := newDocument(uriOf(path), "")
			if of.set(text); err == nil {
				err = of.faults.Err()
			}
			if err != nil {
				w.lacks = fmt.Sprintf("%s cannot be read: %v", of.uri, err)
				continue
			}
			add(of)
		}
	})
	if err != nil {
		w.lacks = err.Error()
		if len(w.files) == 0 {
			add(d)
		}
	}
	return w
}

// within reports whether a path lies in a folder.
func within(folder, path string) bool {
	local, err := filepath.Rel(folder, path)
	return err == nil && filepath.IsLocal(local)
}

func (w *workspace) at(path string) *file {
	for _, f := range w.files {
		if f.path == path {
			return f
		}
	}
	return nil
}

// readers gives the files that name a path.
func (w *workspace) readers(path string) (all []*file) {
	for _, f := range w.files {
		if path != "" && slices.Contains(f.reads, path) {
			all = append(all, f)
		}
	}
	return all
}

// about lists the files in which a name of d stands for what it stands for there: what one scenario has of
// its own, in that and in the choices of it; else where it is described, in the files that read that,
// and in all that they read beside it. Without a description it is the document with what it reads.
func (w *workspace) about(d *document, of subject) (all []*file) {
	add := func(f *file) {
		if f != nil && !slices.Contains(all, f) {
			all = append(all, f)
		}
	}
	home := cmp.Or(of.scenario, w.home(d, of))
	add(w.at(home))
	for _, f := range w.readers(home) {
		add(f)
	}
	if of.scenario == "" {
		for _, f := range slices.Clone(all) {
			for _, path := range f.reads {
				add(w.at(path))
			}
			for _, reader := range w.readers(f.path) {
				if f.kind == "scenario" {
					add(reader)
				}
			}
		}
	}
	if len(all) == 0 {
		add(w.files[0]) // of a document without a path
	}
	return all
}

// home gives the path of the file that describes what a name of d stands for, or of d itself where none does.
func (w *workspace) home(d *document, of subject) string {
	seen := []string{d.path}
	for i := 0; i < len(seen); i++ {
		f := w.at(seen[i])
		if f == nil {
			continue
		}
		if slices.ContainsFunc(f.mentions, func(m mention) bool { return m.subject == of && m.defines }) {
			return f.path
		}
		next := f.reads
		if f.kind != "scenario" && f.kind != "choices" {
			next = nil
			for _, reader := range w.readers(f.path) {
				next = append(next, reader.path)
			}
		}
		for _, path := range next {
			if path != "" && !slices.Contains(seen, path) {
				seen = append(seen, path)
			}
		}
	}
	return d.path
}

// mentionsOf lists where a subject stands in files.
func mentionsOf(files []*file, of subject) (all []located) {
	for _, f := range files {
		for _, m := range f.mentions {
			if m.subject == of {
				all = append(all, located{f, m})
			}
		}
	}
	return all
}

// located is a mention in its file.
type located struct {
	*file
	mention
}

// mentionAt gives the mention at an offset of a document.
func (d *document) mentionAt(offset int) (mention, bool) {
	all, _ := d.mentions()
	at := slices.IndexFunc(all, func(m mention) bool { return m.span.Start <= offset && offset <= m.span.End })
	if at < 0 {
		return mention{}, false
	}
	return all[at], true
}

// quotedAs writes a name as it stands in the place of a mention.
func (m mention) quotedAs(name string) string {
	if m.kind == "fact" {
		return name
	}
	return strings.TrimSuffix(strings.TrimPrefix(lang.Quote(name), `"`), `"`)
}
