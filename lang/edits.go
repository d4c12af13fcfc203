package lang

import (
	"cmp"
	"slices"
	"strings"
)

// Edits are pieces of a source that are to be replaced. All else in its text stays as it is:
// comments, the order of statements, and the layout.
type Edits struct {
	Source *Source
	edits  []edit
}

type edit struct {
	start, end int // of what is replaced
	text       string
	at         Span // where the new text comes from
}

// Replace puts a text in the place of a span of the source; at is where it comes from.
func (e *Edits) Replace(span Span, text string, at Span) {
	e.edits = append(e.edits, edit{span.Start, span.End, text, at})
}

// Set puts a line into the first of the blocks that has a statement of its keyword that is the same
// one, or else, in the order of the language that keywords give, into the last of them. It is
// false without blocks.
func (e *Edits) Set(blocks []*Block, keywords []string, line Line, same func(*Statement) bool) bool {
	if len(blocks) == 0 {
		return false
	}
	body, _ := Compose([]Line{{Keyword: "item", Block: []Line{line}}})
	body = body[strings.IndexByte(body, '\n'):strings.LastIndexByte(body, '}')]
	body = strings.Trim(body, "\n")
	bare := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(body), line.Keyword))
	for _, block := range blocks {
		for _, s := range block.Statements {
			if s.Keyword.Value != line.Keyword || !same(s) {
				continue
			}
			start, end := s.Keyword.Span.End, s.Span.End
			if len(s.Values) > 0 {
				start = s.Values[0].Span.Start
				if s.Block == nil {
					end = s.Values[len(s.Values)-1].Span.End
				}
			} else if bare != "" {
				bare = " " + bare
			}
			e.edits = append(e.edits, edit{start, end, bare, line.At})
			return true
		}
	}
	e.insert(blocks[len(blocks)-1], keywords, line, body)
	return true
}

// insert puts a new line behind the last statement of the block that comes before it in the
// order of the language, and behind what begins on the line where that ends, on a line of its own.
func (e *Edits) insert(block *Block, keywords []string, line Line, body string) {
	text := e.Source.Text
	at := block.Span.Start + 1
	for _, s := range block.Statements {
		onLine := !strings.Contains(text[at:s.Span.Start], "\n")
		if onLine || slices.Index(keywords, s.Keyword.Value) <= slices.Index(keywords, line.Keyword) {
			at = s.Span.End
		}
	}
	last := block.Span.End - 1 // the brace
	if end := strings.IndexByte(text[at:last], '\n'); end >= 0 {
		at += end
		e.edits = append(e.edits, edit{at, at, "\n" + body, line.At})
		return
	}
	body += "\n" // the brace stands behind the statement
	if !slices.ContainsFunc(e.edits, func(e edit) bool { return e.start == last }) {
		body = "\n" + body
	}
	e.edits = append(e.edits, edit{last, last, body, line.At})
}

// Text gives the new text, and for each of its lines that an edit touched where that comes from.
func (e *Edits) Text() (text string, origins []Span) {
	slices.SortStableFunc(e.edits, func(a, b edit) int { return cmp.Compare(a.start, b.start) })
	var b strings.Builder
	origins = []Span{{}}
	add := func(text string, at Span) {
		b.WriteString(text)
		for i := range strings.Count(text, "\n") + 1 {
			if i > 0 {
				origins = append(origins, Span{})
			}
			if at.Known() && (i > 0 || !strings.HasPrefix(text, "\n")) {
				origins[len(origins)-1] = at
			}
		}
	}
	end := 0
	for _, edit := range e.edits {
		add(e.Source.Text[end:edit.start], Span{})
		add(edit.text, edit.at)
		end = edit.end
	}
	add(e.Source.Text[end:], Span{})
	return b.String(), origins
}
