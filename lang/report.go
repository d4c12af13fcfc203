package lang

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/mattn/go-runewidth"
)

const (
	// tabStop is the distance of tab stops in a source line that a report shows.
	tabStop = 4
	// sourceCells bounds the part of a source line that a report shows, so that its
	// caret stands below it on a terminal of 80 cells.
	sourceCells = 68
	// detailCells bounds a line of a detail.
	detailCells = 80
	// maxShown bounds the bytes of a line on either side of a fault that are laid out at all.
	maxShown = 4 << 10
	// leadCells is how much of a long line is kept before the caret, if there is more.
	leadCells = 24
)

// A Role says what a piece of a report is, for [Paint].
type Role uint8

// The roles of a report's pieces. Each carries its meaning in words too.
const (
	ErrorRole   Role = iota + 1 // the word "error"
	WarningRole                 // the word "warning"
	PlaceRole                   // "file:line:column"
	CaretRole                   // the marks below the source line
	MarginRole                  // line numbers and the rule beside them
)

// Paint gives a text the colour of its role. What it adds must take no room on the screen.
type Paint func(Role, string) string

// Report prints diagnostics for people, in the order of [Diagnostics.Sorted]: place,
// severity and summary, the source line with carets below the span, the detail, the
// likeliest correction, and related places. At most [MaxReported] are printed, errors
// before warnings if there are more, and the rest are counted. A nil paint leaves the
// text plain. The error is that of w.
func Report(w io.Writer, ds Diagnostics, paint Paint) error {
	if paint == nil {
		paint = func(_ Role, text string) string { return text }
	}
	r := reporter{paint: paint}
	shown, rest := mostSerious(ds.Sorted(), MaxReported)
	for i, d := range shown {
		if i > 0 {
			r.text.WriteByte('\n')
		}
		r.diagnostic(d)
	}
	if len(rest) > 0 {
		fmt.Fprintf(&r.text, "\nand %s more\n", Count(rest))
	}
	_, err := io.WriteString(w, r.text.String())
	return err
}

// Count says in words how many errors and warnings there are: "1 error, 2 warnings".
func Count(ds Diagnostics) string {
	var parts []string
	for _, severity := range []Severity{Error, Warning} {
		switch n := ds.count(severity); n {
		case 0:
		case 1:
			parts = append(parts, "1 "+severity.String())
		default:
			parts = append(parts, fmt.Sprintf("%d %ss", n, severity))
		}
	}
	return strings.Join(parts, ", ")
}

// mostSerious splits sorted diagnostics into at most n to print, in their order, and
// the rest. No error is left out while a warning is printed.
func mostSerious(ds Diagnostics, n int) (shown, rest Diagnostics) {
	room := map[Severity]int{Error: n, Warning: max(0, n-ds.count(Error))}
	for _, d := range ds {
		if room[d.Severity] > 0 {
			room[d.Severity]--
			shown = append(shown, d)
		} else {
			rest = append(rest, d)
		}
	}
	return shown, rest
}

type reporter struct {
	text  strings.Builder
	paint Paint
}

func (r *reporter) diagnostic(d Diagnostic) {
	severity, role := d.Severity.String(), ErrorRole
	if d.Severity == Warning {
		role = WarningRole
	}
	r.headline(d.Span, r.paint(role, severity+":")+" "+Printable(d.Summary))
	r.excerpt(d.Span)
	if d.Detail != "" {
		r.indented(d.Detail)
	}
	if d.Instead != "" {
		r.indented("Did you mean " + quote(d.Instead) + "?")
	}
	for _, related := range d.Related {
		r.headline(related.Span, Printable(related.Note))
		r.excerpt(related.Span)
	}
}

// indented prints sentences below a headline, broken at blanks to fit a terminal.
func (r *reporter) indented(sentences string) {
	line := " "
	for _, word := range strings.Fields(Printable(sentences)) {
		if cellsOf(line)+1+cellsOf(word) > detailCells && line != " " {
			r.text.WriteString(line + "\n")
			line = " "
		}
		line += " " + word
	}
	r.text.WriteString(line + "\n")
}

// quote puts a text between quotes unless it carries its own.
func quote(text string) string {
	if strings.HasPrefix(text, `"`) {
		return text
	}
	return `"` + text + `"`
}

func (r *reporter) headline(span Span, text string) {
	if span.Known() {
		r.text.WriteString(r.paint(PlaceRole, Printable(span.String())+":") + " ")
	}
	r.text.WriteString(text + "\n")
}

// excerpt prints the line in which the span starts, and carets below the span. A span that
// goes on past the line is marked to the end of the line, an empty span by one caret.
func (r *reporter) excerpt(span Span) {
	if !span.Known() || span.Source.Text == "" {
		return
	}
	number := fmt.Sprint(span.Position().Line)
	line, start := span.Source.Line(span.Position().Line)
	from := min(max(span.Start-start, 0), len(line))
	to := min(max(span.End-start, from), len(line))
	first, end := characterAt(line, from-maxShown), characterAt(line, from+maxShown)
	line, from, to = line[first:end], from-first, min(to, end)-first
	shown, before, marked := window(layOut(line), from, to)
	margin := r.paint(MarginRole, "  "+number+" | ")
	below := r.paint(MarginRole, "  "+strings.Repeat(" ", len(number))+" | ")
	r.text.WriteString(strings.TrimRight(margin+shown, " ") + "\n")
	r.text.WriteString(below + strings.Repeat(" ", before) + r.paint(CaretRole, strings.Repeat("^", max(1, marked))) + "\n")
}

// A glyph is one piece of a source line as a terminal shows it.
type glyph struct {
	text  string
	at    int // byte offset in the line
	cells int
}

// characterAt gives the offset of the character that holds a byte of a line; an offset outside of the
// line counts as its nearest end.
func characterAt(line string, at int) int {
	at = min(max(at, 0), len(line))
	for at > 0 && at < len(line) && !utf8.RuneStart(line[at]) {
		at--
	}
	return at
}

// layOut cuts a line into glyphs. It expands tabs to spaces and replaces characters that
// steer a terminal. A combining mark takes no cells.
func layOut(line string) []glyph {
	glyphs := make([]glyph, 0, len(line))
	cell := 0
	for at, c := range line {
		g := glyph{text: string(c), at: at}
		switch {
		case c == '\t':
			g.cells = tabStop - cell%tabStop
			g.text = strings.Repeat(" ", g.cells)
		case Steers(c):
			g.text, g.cells = string(unicode.ReplacementChar), 1
		default:
			g.cells = cellsOf(string(c))
		}
		glyphs = append(glyphs, g)
		cell += g.cells
	}
	return glyphs
}

// cellsOf gives the width of a text on a terminal, the same in every locale.
func cellsOf(text string) int {
	widths := runewidth.Condition{StrictEmojiNeutral: true}
	return widths.StringWidth(text)
}

// window gives the part of a line to show, the cells before the bytes from..to that are
// marked, and the cells that they take. "…" stands for a part that is left out.
func window(glyphs []glyph, from, to int) (shown string, before, marked int) {
	first, cells := 0, 0
	for _, g := range glyphs {
		cells += g.cells
		if g.at < from {
			before += g.cells
		} else if g.at < to {
			marked += g.cells
		}
	}
	var b strings.Builder
	if cells > sourceCells && before > leadCells {
		for cut := 1; before > leadCells; first++ {
			before -= glyphs[first].cells - cut
			cut = 0
		}
		b.WriteString("…")
	}
	room := sourceCells - min(1, first)
	for i, g := range glyphs[first:] {
		if room -= g.cells; room < 1 && first+i < len(glyphs)-1 {
			b.WriteString("…")
			break
		}
		b.WriteString(g.text)
	}
	return b.String(), before, min(marked, sourceCells-before)
}

// Printable replaces what would steer a terminal in a text that may quote input.
func Printable(text string) string {
	return strings.Map(func(c rune) rune {
		if Steers(c) {
			return unicode.ReplacementChar
		}
		return c
	}, text)
}

// Steers reports whether a terminal may obey a character instead of showing it: control
// characters, and those that turn the direction of writing.
func Steers(c rune) bool {
	return unicode.IsControl(c) || unicode.Is(unicode.Bidi_Control, c) || c == 0x2028 || c == 0x2029
}
