package editor

import (
	"strings"

	"glassbrief/lang"
)

// A symbol is something that a file describes, with what stands in its block.
type symbol struct {
	Name           string    `json:"name"`
	Detail         string    `json:"detail,omitempty"`
	Kind           int       `json:"kind"`
	Range          textRange `json:"range"`
	SelectionRange textRange `json:"selectionRange"`
	Children       []symbol  `json:"children,omitempty"`
}

// A placedSymbol is a symbol anywhere in the folder.
type placedSymbol struct {
	Name          string   `json:"name"`
	Kind          int      `json:"kind"`
	Location      location `json:"location"`
	ContainerName string   `json:"containerName,omitempty"`
}

// symbolKinds are the kinds of the protocol that come nearest to what the keywords describe.
var symbolKinds = map[string]int{
	"scenario": 2, "shot": 24, "place": 3, "unit": 3, // module, event, namespace
	"lens": 19, "camera": 19, "rig": 19, "mount": 11, "adapter": 11, "filter": 19, "mode": 22, // object, interface, member of an enumeration
	"criterion": 5, "fact": 13, "case": 6, "expect": 17, "choices": 2, "chose": 17, // class, variable, method, truth
}

// symbols lists what a document describes.
func (s *server) symbols(d *document, _ *params) (any, error) {
	file, _ := lang.Parse(d.source)
	return symbolsOf(file.Statements), nil
}

func symbolsOf(statements []*lang.Statement) []symbol {
	all := []symbol{}
	for _, of := range statements {
		kind, ok := symbolKinds[of.Keyword.Value]
		if !ok {
			continue
		}
		one := symbol{Name: of.Keyword.Value, Kind: kind, Range: rangeOf(of.Span), SelectionRange: rangeOf(of.Keyword.Span)}
		if len(of.Values) > 0 {
			name := of.Values[0]
			one.Name, one.Detail, one.SelectionRange = of.Keyword.Value+" "+textOf(name.Span), "", rangeOf(name.Span)
			if len(of.Values) > 1 && of.Block != nil {
				one.Detail = textOf(of.Values[1].Span)
			}
		}
		if of.Keyword.Value == "expect" || of.Keyword.Value == "chose" {
			one.Name, _, _ = strings.Cut(of.Span.Text(), "\n")
		}
		if of.Block != nil {
			one.Children = symbolsOf(of.Block.Statements)
		}
		all = append(all, one)
	}
	return all
}

// search lists what the files of the folder describe by names that have a text in them, in whatever case.
func (s *server) search(p *params) (any, error) {
	found := []placedSymbol{}
	seen := map[string]bool{}
	query := strings.ToLower(p.Query)
	folders := []*document{}
	if s.root != "" {
		folders = append(folders, &document{path: s.root + "/any"})
	} else {
		for _, d := range s.documents {
			folders = append(folders, d)
		}
	}
	for _, d := range folders {
		for _, f := range s.workspace(d).files {
			if seen[f.uri] {
				continue
			}
			seen[f.uri] = true
			for _, m := range f.mentions {
				if m.defines && strings.Contains(strings.ToLower(m.kind+" "+m.name), query) {
					found = append(found, placedSymbol{m.name, symbolKinds[m.kind], location{f.uri, rangeOf(m.span)}, m.kind})
				}
			}
		}
	}
	return found, nil
}

// A fold is a range of lines that can be hidden behind the first.
type fold struct {
	StartLine int    `json:"startLine"`
	EndLine   int    `json:"endLine"`
	Kind      string `json:"kind,omitempty"`
}

// folds lists the blocks of a document, and its remarks of more than one line.
func (s *server) folds(d *document, _ *params) (any, error) {
	found := []fold{}
	var open []int
	remark, end := -1, -1 // the lines of the remark so far
	flush := func() {
		if remark >= 0 && end > remark {
			found = append(found, fold{remark, end, "comment"})
		}
		remark = -1
	}
	last := -1 // the line of the token before
	for place := range d.source.Tokens() {
		line := place.Span.Position().Line - 1
		if place.Kind == lang.AtComment && line != last {
			if remark < 0 || line != end+1 {
				flush()
				remark = line
			}
			end = line
		} else if place.Kind != lang.AtComment {
			flush()
		}
		last = line
		switch place.Span.Text() {
		case "{":
			open = append(open, line)
		case "}":
			if n := len(open) - 1; n >= 0 {
				if line > open[n] {
					found = append(found, fold{StartLine: open[n], EndLine: line - 1})
				}
				open = open[:n]
			}
		}
	}
	flush()
	return found, nil
}

// A selection is a range that holds a place, with the next larger one.
type selection struct {
	Range  textRange  `json:"range"`
	Parent *selection `json:"parent,omitempty"`
}

// selections gives, for each place that is asked about, what can be selected around it: the word, the
// statement, the blocks and the whole text.
func (s *server) selections(d *document, p *params) (any, error) {
	file, _ := lang.Parse(d.source)
	found := []*selection{}
	for _, at := range p.Positions {
		offset := offsetOf(d.source, at)
		all := lang.Span{Source: d.source, End: len(d.source.Text)}
		spans := []lang.Span{all}
		for statements := file.Statements; statements != nil; {
			var next []*lang.Statement
			for _, of := range statements {
				if of.Span.Start > offset || offset > of.Span.End {
					continue
				}
				spans = append(spans, of.Span)
				if of.Block != nil && of.Block.Span.Start < offset && offset < of.Block.Span.End {
					spans = append(spans, of.Block.Span)
					next = of.Block.Statements
				}
				break
			}
			statements = next
		}
		place := d.source.At(offset)
		spans = append(spans, place.Span)
		if place.Kind == lang.AtExpression {
			spans = append(spans, partAt(place.Span, offset))
		}
		if place.Kind == lang.AtText && len(place.Span.Text()) > 1 && place.Span.Start < offset && offset < place.Span.End {
			spans = append(spans, place.Span.Sub(1, place.Span.End-place.Span.Start-1))
		}
		var inner *selection
		outer := lang.Span{}
		for _, span := range spans {
			if outer.Known() && (span.Start < outer.Start || span.End > outer.End || span == outer || span.Start > offset || span.End < offset) {
				continue
			}
			inner, outer = &selection{rangeOf(span), inner}, span
		}
		found = append(found, inner)
	}
	return found, nil
}
