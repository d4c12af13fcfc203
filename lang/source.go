package lang

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// A Source is one named text, with the table that turns byte offsets into lines.
// Byte offsets into Text are the truth for every place; lines and columns are derived.
type Source struct {
	Name  string // as the user named it, for "file:line:column"
	Text  string // valid UTF-8 without byte-order mark or NUL
	lines []int  // offset at which each line starts
	cells bool   // columns count cells; see NewTable
	// budget bounds what is made of the text; nil is one of the usual size.
	budget *Budget
}

// A Position is a place for people: both numbers count from 1, columns in runes, or in
// cells where the source is a table.
type Position struct {
	Line, Column int
}

// A Span is a piece of a source, from byte Start up to but not including byte End.
// The zero Span means that there is no place to show.
type Span struct {
	Source     *Source
	Start, End int
}

const byteOrderMark = "\xef\xbb\xbf"

// NewSource makes a source of text that people write, as of a run that reads nothing else (see
// [DefaultBudget]). It drops one leading byte-order mark, and refuses what is not text, which is
// invalid UTF-8 or NUL, a line past its limit, maxLineBytes, and a character that no screen shows and
// that steers what it stands in: what people review must read as it is. With errors the source holds
// the text up to the first fault, or nothing.
func NewSource(name string, text []byte) (*Source, Diagnostics) {
	return NewBudget(DefaultBudget).Source(name, string(text), OfFile)
}

func newSource(name, text string) (*Source, Diagnostics) {
	src, ds := newData(name, text)
	if ds != nil {
		return src, ds
	}
	for i, start := range src.lines {
		end := len(src.Text)
		if i+1 < len(src.lines) {
			end = src.lines[i+1]
		}
		if end-start > maxLineBytes {
			return src, Diagnostics{{
				Severity: Error, Code: LineTooLong, Span: Span{Source: src, Start: start, End: start},
				Summary: fmt.Sprintf("the line holds %d bytes, and %d are the most", end-start, maxLineBytes),
				Detail:  "Write one fact a line.",
			}}
		}
	}
	if at := firstSteering(src.Text); at >= 0 {
		_, size := utf8.DecodeRuneInString(src.Text[at:])
		return src, Diagnostics{{
			Severity: Error, Code: InvalidCharacter, Span: Span{Source: src, Start: at, End: at + size},
			Summary: "a character stands here that is not shown and would steer a terminal or turn the writing",
			Detail:  "Remove it. The name of a thing needs none.",
		}}
	}
	return src, nil
}

// firstSteering gives the offset of the first character that steers, but for tabs and the ends of lines
// and for the marks that writing from right to left needs, or -1.
func firstSteering(text string) int {
	for i := 0; i < len(text); {
		switch c := text[i]; {
		case c >= ' ' && c < 0x7f, c == '\t', c == '\n', c == '\r':
			i++
		case c < utf8.RuneSelf:
			return i
		default:
			r, size := utf8.DecodeRuneInString(text[i:])
			if Steers(r) && !isDirectionMark(r) {
				return i
			}
			i += size
		}
	}
	return -1
}

// isDirectionMark reports whether a character only says which way the text beside it runs.
func isDirectionMark(r rune) bool { return r == 0x200e || r == 0x200f || r == 0x61c }

// newData makes a source without looking at what lines hold.
func newData(name, text string) (*Source, Diagnostics) {
	src := &Source{Name: name, lines: []int{0}}
	text = strings.TrimPrefix(text, byteOrderMark)
	bad := firstBadByte(text)
	if bad >= 0 {
		src.setText(text[:bad])
		summary, detail := "the text is not valid UTF-8 here", "Save the file as UTF-8."
		if kind, remedy := foreignBytes(text); kind != "" {
			summary, detail = kind, remedy
		} else if text[bad] == 0 {
			summary, detail = "a NUL byte stands here, so this is no text file", "Name a text file, or remove the byte."
		}
		return src, Diagnostics{{
			Severity: Error, Code: NotText, Span: Span{Source: src, Start: bad, End: bad},
			Summary: summary, Detail: detail,
		}}
	}
	src.setText(text)
	return src, nil
}

// NewTable makes a source of a table, so that findings about a spreadsheet have places. A
// line is a row, and columns count cells, not characters. Tabs and line breaks inside a
// cell become blanks. The spans are those of the cells.
func NewTable(name string, rows [][]string) (*Source, [][]Span) {
	src := &Source{Name: name, lines: []int{0}, cells: true}
	var text strings.Builder
	places := make([][]Span, len(rows))
	clean := strings.NewReplacer("\t", " ", "\n", " ", "\r", " ", "\x00", " ")
	for i, row := range rows {
		places[i] = make([]Span, len(row))
		for j, cell := range row {
			if j > 0 {
				text.WriteByte('\t')
			}
			start := text.Len()
			text.WriteString(strings.ToValidUTF8(clean.Replace(cell), "\uFFFD"))
			places[i][j] = Span{Source: src, Start: start, End: text.Len()}
		}
		text.WriteByte('\n')
	}
	src.setText(text.String())
	return src, places
}

// firstBadByte gives the offset of the first NUL or invalid UTF-8 sequence, or -1.
func firstBadByte(text string) int {
	nul := strings.IndexByte(text, 0)
	if nul < 0 && utf8.ValidString(text) {
		return -1
	}
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == 0 || r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}

func (s *Source) setText(text string) {
	s.Text = text
	s.lines = slices.Grow(s.lines, strings.Count(text, "\n"))
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			s.lines = append(s.lines, i+1)
		}
	}
}

// Position gives line and rune column of a byte offset; an offset past the end counts
// as the end.
func (s *Source) Position(offset int) Position {
	offset = min(max(offset, 0), len(s.Text))
	line := s.lineOf(offset)
	before := s.Text[s.lines[line]:offset]
	if s.cells {
		return Position{Line: line + 1, Column: strings.Count(before, "\t") + 1}
	}
	return Position{Line: line + 1, Column: utf8.RuneCountInString(before) + 1}
}

// Line gives the text of the 1-based line without its end, and the offset it starts at.
func (s *Source) Line(line int) (text string, start int) {
	if line < 1 || line > len(s.lines) {
		return "", len(s.Text)
	}
	start = s.lines[line-1]
	text = s.Text[start:]
	if end := strings.IndexByte(text, '\n'); end >= 0 {
		text = text[:end]
	}
	return strings.TrimSuffix(text, "\r"), start
}

// Lines gives the number of lines.
func (s *Source) Lines() int { return len(s.lines) }

// lineOf gives the index of the line that holds an offset.
func (s *Source) lineOf(offset int) int {
	at, found := slices.BinarySearch(s.lines, offset)
	if !found {
		at--
	}
	return at
}

// Known reports whether the span points anywhere.
func (s Span) Known() bool { return s.Source != nil }

// Text gives the source text of the span.
func (s Span) Text() string {
	if s.Source == nil {
		return ""
	}
	end := min(max(s.End, 0), len(s.Source.Text))
	return s.Source.Text[min(max(s.Start, 0), end):end]
}

// Sub gives the part of the span from byte start to byte end, counted from its start.
func (s Span) Sub(start, end int) Span {
	return Span{Source: s.Source, Start: s.Start + start, End: s.Start + end}
}

// To gives the span from the start of s to the end of other, in the same source.
func (s Span) To(other Span) Span {
	return Span{Source: s.Source, Start: s.Start, End: max(s.End, other.End)}
}

// Position gives the place at which the span starts.
func (s Span) Position() Position {
	if s.Source == nil {
		return Position{}
	}
	return s.Source.Position(s.Start)
}

// String gives "file:line:column" of the start, or "" for the zero span.
func (s Span) String() string {
	if s.Source == nil {
		return ""
	}
	at := s.Position()
	return fmt.Sprintf("%s:%d:%d", s.Source.Name, at.Line, at.Column)
}
