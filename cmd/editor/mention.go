package editor

import (
	"iter"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/engine/learn"
	"glassbrief/lang"
)

// A mention is a place where a name stands that a file gives to something.
type mention struct {
	subject
	span    lang.Span // the name alone, without quotes
	defines bool
}

// A subject is what a name stands for: its kind, as [document.nameKind] has it or "fact", its name, for what
// belongs to one scenario the path of that, and for a sensor mode the name of its camera.
type subject struct{ kind, name, scenario, camera string }

// ofScenario are the kinds of which each scenario has its own.
var ofScenario = map[string]bool{"shot": true, "place": true, "unit": true}

// renamable are the kinds whose names are mentioned.
var renamable = map[string]bool{
	"lens": true, "camera": true, "rig": true, "mount": true, "adapter": true, "filter": true,
	"criterion": true, "fact": true, "shot": true, "place": true, "unit": true, "mode": true,
}

// mentions lists the names of a document, in order, and the files that it names. A sensor mode of a scenario
// that is that of several cameras is mentioned once for each.
func (d *document) mentions() (all []mention, files []string) {
	chosen := "" // the scenario of a block of choices
	crew := fleet{of: map[string]string{}, onShot: map[int]string{}}
	modes := map[int]lang.Place{} // by their places in the list
	for place := range d.source.Tokens() {
		switch {
		case place.Kind == lang.AtExpression:
			for name := range factNames(place.Span) {
				all = append(all, mention{subject{kind: "fact", name: name.Text()}, name, false})
			}
		case place.Kind == lang.AtWord && place.Keyword.Value == "fact" && len(place.Values) == 0:
			all = append(all, mention{subject{kind: "fact", name: place.Span.Text()}, place.Span, true})
		case place.Kind == lang.AtWord && place.Keyword.Value == "given" && len(place.Values) == 0:
			all = append(all, mention{subject{kind: "fact", name: place.Span.Text()}, place.Span, false})
		case place.Kind == lang.AtText && isTemplate(place):
			for part := range braced(place.Span) {
				for name := range factNames(part) {
					all = append(all, mention{subject{kind: "fact", name: name.Text()}, name, false})
				}
			}
		case place.Kind == lang.AtText:
			text, closed := lang.Unquote(place.Span.Text())
			kind, defines := d.defined(place)
			if !defines {
				kind = d.nameKind(place)
			}
			switch {
			case !closed:
			case kind == "file":
				path := d.beside(text)
				if files = append(files, path); d.kind == "choices" {
					chosen = path
				}
			case renamable[kind]:
				of := subject{kind: kind, name: text}
				if d.kind == "scenario" {
					crew.hear(place, kind, text)
				}
				if kind == "mode" {
					if defines {
						of.camera = textOf(place.Blocks[0].Values[len(place.Blocks[0].Values)-1])
					} else {
						modes[len(all)] = place
					}
				}
				if ofScenario[kind] {
					if of.scenario = d.path; d.kind == "choices" {
						of.scenario = chosen
					}
				}
				all = append(all, mention{of, place.Span.Sub(1, place.Span.End-place.Span.Start-1), defines})
			}
		}
	}
	if len(modes) == 0 {
		return all, files
	}
	var known []mention
	for i, m := range all {
		place, isMode := modes[i]
		if !isMode {
			known = append(known, m)
			continue
		}
		for _, m.camera = range crew.cameras(place) {
			known = append(known, m)
		}
	}
	return known, files
}

// A fleet is the cameras of a scenario, by which it is known whose a sensor mode is.
type fleet struct {
	candidates []string
	units      []string
	of         map[string]string // the camera of a unit that has its own
	onShot     map[int]string    // the unit of a shot, by where the shot begins
}

// hear takes a name of a scenario in.
func (f *fleet) hear(place lang.Place, kind, name string) {
	switch block := place.Block(); {
	case block == "shot" && kind == "unit":
		f.onShot[place.Blocks[0].Keyword.Span.Start] = name
	case block == "scenario" && kind == "camera" && place.Keyword.Value == "unit":
		f.of[textOf(place.Values[0])] = name
	case block == "scenario" && kind == "camera":
		f.candidates = append(f.candidates, name)
	case block == "scenario" && kind == "unit":
		f.units = append(f.units, name)
	}
}

// cameras lists the cameras that must have the mode which a place names.
func (f *fleet) cameras(place lang.Place) []string {
	if place.Keyword.Value == "unit" {
		if camera, ok := f.of[textOf(place.Values[0])]; ok {
			return []string{camera}
		}
		return f.candidates[:min(1, len(f.candidates))]
	}
	list := slices.Clone(f.candidates)
	if place.Block() != "shot" {
		return list
	}
	on, isOn := f.onShot[place.Blocks[0].Keyword.Span.Start]
	for _, unit := range f.units {
		if camera, ok := f.of[unit]; ok && (!isOn || unit == on) && !slices.Contains(list, camera) {
			list = append(list, camera)
		}
	}
	return list
}

// beside gives the path of a file that the document names.
func (d *document) beside(name string) string {
	if d.kind == "choices" {
		name = learn.PathOf(name)
	}
	if d.path == "" || name == "" || !filepath.IsLocal(filepath.FromSlash(name)) {
		return ""
	}
	return filepath.Join(filepath.Dir(d.path), filepath.FromSlash(name))
}

// defined gives the kind of what a quoted text names for the first time, if it does.
func (d *document) defined(place lang.Place) (kind string, defines bool) {
	if len(place.Values) > 0 {
		return "", false
	}
	keyword := place.Keyword.Value
	switch block := place.Block(); {
	case d.kind == "scenario" && block == "" && keyword == "shot", d.kind == "scenario" && block == "scenario" && (keyword == "place" || keyword == "unit"):
		return keyword, true
	case d.kind == "rules" && block == "" && keyword == "criterion":
		return keyword, true
	case d.kind == "catalog" && block == "" && renamable[keyword]:
		return keyword, true
	case d.kind == "catalog" && keyword == "mode" && len(place.Blocks) == 1 && len(place.Blocks[0].Values) > 0 &&
		(block == "camera" || block == "amend" && place.Blocks[0].Values[0].Text() == "camera"):
		return keyword, true
	}
	return "", false
}

// isTemplate reports whether a quoted text quotes facts between braces.
func isTemplate(place lang.Place) bool {
	return place.Keyword.Value == "reason" || place.Keyword.Value != "fact" && place.Last().Text() == "because"
}

// braced gives what stands between the braces of a template.
func braced(span lang.Span) iter.Seq[lang.Span] {
	return func(yield func(lang.Span) bool) {
		text := span.Text()
		for at := 0; at < len(text); at++ {
			switch {
			case strings.HasPrefix(text[at:], "{{"), strings.HasPrefix(text[at:], "}}"), text[at] == '\\':
				at++
			case text[at] == '{':
				length := strings.IndexByte(text[at:], '}')
				if length < 0 || !yield(span.Sub(at+1, at+length)) {
					return
				}
				at += length
			}
		}
	}
}

// factNames gives the words of an expression that can be the name of a fact, whether there is one or not.
func factNames(span lang.Span) iter.Seq[lang.Span] {
	return func(yield func(lang.Span) bool) {
		for part := range parts(span) {
			text := part.Text()
			called := strings.HasPrefix(strings.TrimLeft(part.Source.Text[part.End:span.End], " \t\r\n"), "(")
			if wordLength(text) == len(text) && !called && !yield(part) {
				return
			}
		}
	}
}

// parts gives the words and quantities of an expression.
func parts(span lang.Span) iter.Seq[lang.Span] {
	return func(yield func(lang.Span) bool) {
		text := span.Text()
		for at := 0; at < len(text); {
			if strings.HasPrefix(text[at:], "//") {
				line, _, _ := strings.Cut(text[at:], "\n")
				at += len(line)
				continue
			}
			n := wordLength(text[at:])
			if quantity := lang.ScanQuantity(text[at:]); quantity > 0 && text[at] != '-' {
				n = quantity
			}
			if n == 0 || text[at] == ' ' {
				at++
				continue
			}
			if !yield(span.Sub(at, at+n)) {
				return
			}
			at += n
		}
	}
}
