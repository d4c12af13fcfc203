package whatif

import (
	"bytes"
	"io/fs"
	"path"
	"time"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// An Input is all that an answer is made from: a scenario with the texts of the files that it reads,
// and what the settings say. It holds no files and no settings itself, so that it can travel in a
// page.
type Input struct {
	Name  string            `json:"name"`  // of the scenario, in Files
	Files map[string]string `json:"files"` // texts by their path from the folder of the scenario
	// Catalogues and Rules are those that the settings name, by the path that they are named by.
	Catalogues []Text `json:"catalogues"`
	Rules      []Text `json:"rules"`

	Units       string  `json:"units"`        // "imperial", or else metric
	ChangePrice float64 `json:"change_price"` // of a minute of changes, where the scenario does not say; NaN is not allowed
	Crew        string  `json:"crew"`         // what a minute of the crew costs, likewise, as "6 EUR/min"; "" when nobody says
	Budget      int     `json:"budget"`       // bytes that may be read; 0 for the usual
}

// Printer writes quantities in the units of the input.
func (in *Input) Printer() lang.Printer {
	if in.Units == "imperial" {
		return lang.Printer{System: lang.Imperial}
	}
	return lang.Printer{}
}

// A Text is a named text.
type Text struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// sources makes sources of texts. What cannot be read was reported when the input was made.
func sources(of []Text, portion lang.Portion, b *lang.Budget) (all []*lang.Source, found lang.Diagnostics) {
	for _, text := range of {
		src, ds := b.Source(text.Name, text.Text, portion)
		found = append(found, ds...)
		all = append(all, src)
	}
	return all, found
}

// files gives what a scenario is read with, with some texts in the place of those of the input.
func (in *Input) files(changed map[string]string) (brief.Files, lang.Diagnostics) {
	b := lang.NewBudget(lang.DefaultBudget)
	if in.Budget > 0 {
		b.Raise(in.Budget)
	}
	f := brief.Files{Tree: texts{changed, in.Files}, Budget: b, House: brief.House{ChangePrice: lang.NewQuantity(in.ChangePrice, lang.Plain)}}
	var found, more lang.Diagnostics
	f.Catalogues, found = sources(in.Catalogues, lang.OfFile, b)
	f.Rules, more = sources(in.Rules, lang.OfRules, b)
	found = append(found, more...)
	if in.Crew != "" {
		crew, err := lang.ParseQuantity("crew", in.Crew, lang.Wage)
		if ds, ok := err.(lang.Diagnostics); ok {
			found = append(found, ds...)
		}
		f.House.Crew = crew
	}
	return f, found
}

// texts are files in memory: those of the first map that holds a path.
type texts []map[string]string

// Open gives a file; there are no folders.
func (t texts) Open(name string) (fs.File, error) {
	for _, files := range t {
		if text, ok := files[name]; ok && fs.ValidPath(name) {
			return &file{bytes.NewReader([]byte(text)), path.Base(name)}, nil
		}
	}
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

// A file is one of texts, and what is told about it.
type file struct {
	*bytes.Reader
	name string
}

func (f *file) Stat() (fs.FileInfo, error) { return f, nil }
func (f *file) Close() error               { return nil }
func (f *file) Name() string               { return f.name }
func (f *file) Mode() fs.FileMode          { return 0o444 }
func (f *file) ModTime() time.Time         { return time.Time{} }
func (f *file) IsDir() bool                { return false }
func (f *file) Sys() any                   { return nil }
