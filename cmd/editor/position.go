package editor

import (
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"glassbrief/lang"
)

// A position is a place as the protocol counts it: lines and UTF-16 units from 0.
type position struct {
	Line      int `json:"line"`
	Character int `json:"character"`
}

// A textRange is a piece of a text, its end excluded.
type textRange struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

// A location is a piece of a file.
type location struct {
	URI   string    `json:"uri"`
	Range textRange `json:"range"`
}

// positionOf gives a byte offset as a position.
func positionOf(src *lang.Source, offset int) position {
	offset = min(max(offset, 0), len(src.Text))
	line := src.Position(offset).Line
	_, start := src.Line(line)
	units := 0
	for _, c := range src.Text[start:offset] {
		units += utf16.RuneLen(c)
	}
	return position{Line: line - 1, Character: units}
}

// offsetOf gives a position as a byte offset. A place behind the end of a line is its
// end, and one inside a character the start of it, as the protocol wants.
func offsetOf(src *lang.Source, at position) int {
	line, start := src.Line(at.Line + 1)
	return start + lengthOf(line, at.Character)
}

// lengthOf gives how many bytes of a line so many UTF-16 units take; of a part of a character none.
func lengthOf(line string, units int) int {
	for i, c := range line {
		if units -= utf16.RuneLen(c); units < 0 {
			return i
		}
	}
	return len(line)
}

// offsetIn gives a position of a text as the client has it as a byte offset, as [offsetOf] does.
func offsetIn(text string, at position) int {
	start := 0
	for range at.Line {
		end := strings.IndexByte(text[start:], '\n')
		if end < 0 {
			return len(text)
		}
		start += end + 1
	}
	line, _, _ := strings.Cut(text[start:], "\n")
	line = strings.TrimSuffix(line, "\r")
	return start + lengthOf(line, at.Character)
}

func rangeOf(span lang.Span) textRange {
	return textRange{positionOf(span.Source, span.Start), positionOf(span.Source, max(span.Start, span.End))}
}

// whole gives the range of a text as the client has it, which may end its lines
// otherwise than the source does.
func whole(text string) textRange {
	last := text[strings.LastIndexByte(text, '\n')+1:]
	units := 0
	for i := 0; i < len(last); {
		c, size := utf8.DecodeRuneInString(last[i:])
		units += utf16.RuneLen(c)
		i += size
	}
	return textRange{End: position{Line: strings.Count(text, "\n"), Character: units}}
}
