package show

import (
	"strings"
	"unicode/utf8"

	"glassbrief/lang"

	"github.com/jedib0t/go-pretty/v6/text"
)

// Wrap breaks a text at blanks into lines of at most width cells, but not within a value such
// as "2.4 m". What is longer than a line breaks within the value, and then wherever it must.
func Wrap(paragraph string, width int) []string {
	if isPlain(paragraph) && len(paragraph) <= width && strings.Trim(paragraph, " ") == paragraph && !strings.Contains(paragraph, "  ") {
		return []string{paragraph}
	}
	var lines []string
	var line []byte
	room := width
	end := func() { lines, line, room = append(lines, string(line)), line[:0], width }
	put := func(piece string) {
		if len(line) > 0 && cellsOf(piece)+1 > room {
			end()
		} else if len(line) > 0 {
			line, room = append(line, ' '), room-1
		}
		for _, c := range piece {
			cells := text.RuneWidth(c)
			if cells > room && len(line) > 0 {
				end()
			}
			line, room = utf8.AppendRune(line, c), room-cells
		}
	}
	for _, piece := range pieces(paragraph) {
		if cellsOf(piece) <= width {
			put(piece)
			continue
		}
		for word := range strings.FieldsSeq(piece) {
			put(word)
		}
	}
	return append(lines, string(line))
}

// isPlain reports whether each byte of a text takes a cell, as in nearly all there are.
func isPlain(line string) bool {
	for i := range len(line) {
		if line[i] < ' ' || line[i] > '~' {
			return false
		}
	}
	return true
}

// cellsOf gives the cells of a text of one line.
func cellsOf(line string) int {
	if isPlain(line) {
		return len(line)
	}
	return text.StringWidth(line)
}

// longestLine gives the cells of the longest line of a text, without escape codes.
func longestLine(paragraph string) int {
	if isPlain(paragraph) {
		return len(paragraph)
	}
	return text.LongestLineLen(paragraph)
}

// longestPiece gives the cells of the longest piece of a text that should not break.
func longestPiece(paragraph string) int {
	longest := 0
	for _, piece := range pieces(paragraph) {
		longest = max(longest, cellsOf(piece))
	}
	return longest
}

// pieces cuts a text at the blanks at which a line may end.
func pieces(paragraph string) []string {
	var all []string
	last := ""
	for word := range strings.FieldsSeq(paragraph) {
		if last != "" && areOneValue(last, word) {
			all[len(all)-1] += " " + word
		} else {
			all = append(all, word)
		}
		last = word
	}
	return all
}

// areOneValue reports whether two words are of one value: "2.4 m", "1 1/3 stops", "5ft 3in",
// "ISO 800".
func areOneValue(before, word string) bool {
	word = strings.TrimRight(word, ".,;:)")
	if word == "" {
		return false
	}
	starts := isDigit(word[0])
	switch last := before[len(before)-1]; {
	case isDigit(last) && starts: // a whole number and a fraction
		return isDigit(before[0]) && strings.Contains(word, "/") && !strings.ContainsAny(before, "/.")
	case isDigit(last):
		_, isUnit := lang.FindUnit(word)
		return isUnit
	}
	feet, isFeet := strings.CutSuffix(before, "ft")
	return starts && (isFeet && feet != "" && isDigit(feet[len(feet)-1]) || before == "ISO")
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
