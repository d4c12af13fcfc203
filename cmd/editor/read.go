package editor

import (
	"hash/maphash"
	"slices"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// A reading is what reading a scenario gave, and what it read.
type reading struct {
	scenario *brief.Scenario // nil with errors
	found    lang.Diagnostics
	files    map[string]uint64 // the hash of each file that it read, by name
	house    brief.House
}

// manyShots is from how many shots on a kit takes too long to be chosen at each key.
const manyShots = 200

// late reports whether the kit is chosen only when the keys rest.
func (r *reading) late() bool { return r.scenario != nil && len(r.scenario.Shots) >= manyShots }

// read reads a scenario with all that it names, once for a document.
func (s *server) read(d *document) *reading {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.read != nil {
		return d.read
	}
	r := &reading{}
	if d.faults.HasErrors() {
		r.found = d.faults
		d.read = r
		return r
	}
	err := s.files(d, func(files brief.Files) {
		r.files, r.house = map[string]uint64{}, files.House
		files.Heard = func(name, text string) { r.files[name] = maphash.String(seed, text) }
		for _, src := range slices.Concat(files.Catalogues, files.Rules) {
			files.Heard(src.Name, src.Text)
		}
		if r.scenario, r.found = brief.Load(d.source, files); r.scenario != nil {
			r.found = append(r.found, brief.CheckScript(r.scenario, files)...)
		}
	})
	if err != nil {
		r.found.Add(lang.Diagnostic{
			Severity: lang.Error, Code: lang.UnreadableFile, Span: lang.Span{Source: d.source},
			Summary: err.Error(), Detail: "It is read with every scenario of this folder.",
		})
	}
	d.read = r
	return r
}

var seed = maphash.MakeSeed()

// shotTexts gives the text of each shot's block, by which two states of a scenario are compared, and what all
// else says but for expectations.
func (r *reading) shotTexts(src *lang.Source) (shots []string, rest string) {
	var outside strings.Builder
	at := 0
	for _, shot := range r.scenario.Shots {
		start := shot.Span.Start
		end := blockEnd(src.Text, start)
		if start < at || end < start {
			return nil, "" // which no scenario that is read has
		}
		shots = append(shots, src.Text[start:end])
		outside.WriteString(src.Text[at:start])
		at = end
	}
	outside.WriteString(src.Text[at:])
	all, _ := lang.NewSource(src.Name, []byte(outside.String()))
	file, _ := lang.Parse(all)
	var meaning strings.Builder
	for _, statement := range file.Statements {
		if statement.Keyword.Value != "expect" {
			meaning.WriteString(statement.Meaning() + "\n")
		}
	}
	return shots, meaning.String()
}

// blockEnd gives the end of the block that begins behind an offset, with its brace, or the end of the text.
func blockEnd(text string, at int) int {
	depth := 0
	for ; at < len(text); at++ {
		switch text[at] {
		case '"':
			for at++; at < len(text) && text[at] != '"' && text[at] != '\n'; at++ {
				if text[at] == '\\' {
					at++
				}
			}
		case '/':
			if strings.HasPrefix(text[at:], "//") {
				for at+1 < len(text) && text[at+1] != '\n' {
					at++
				}
			}
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				return at + 1
			}
		}
	}
	return len(text)
}
