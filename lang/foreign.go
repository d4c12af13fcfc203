package lang

import (
	"fmt"
	"iter"
	"slices"
	"strings"
)

// What is often given in the place of a file of the language, or written in one, is told by
// its own name: "has no meaning here" would leave people to find out what it is.

// foreignBytes gives the summary and the remedy for bytes that are the beginning of another
// kind of file, or "".
func foreignBytes(text string) (summary, remedy string) {
	switch {
	case strings.HasPrefix(text, "\xff\xfe"), strings.HasPrefix(text, "\xfe\xff"), alternatesNUL(text):
		return "the file is in UTF-16", `Save it as UTF-8: an editor has that as "encoding" where it saves.`
	case strings.HasPrefix(text, "PK\x03\x04"):
		return "the file is a workbook or another archive, and no text",
			`Read a workbook of equipment with "glassbrief catalog import", and name a text file here.`
	case strings.HasPrefix(text, "%PDF-"):
		return "the file is a PDF, and no text", "Name a text file."
	}
	return "", ""
}

// alternatesNUL reports whether the text begins as ASCII does in UTF-16 without a mark.
func alternatesNUL(text string) bool {
	const enough = 8
	if len(text) < enough {
		return false
	}
	var nul [2]int
	for i, c := range []byte(text[:enough]) {
		if c == 0 {
			nul[i%2]++
		}
	}
	return max(nul[0], nul[1]) == enough/2 && min(nul[0], nul[1]) == 0
}

// foreignText reports a text that is no file of the language at all: one of an unfinished
// merge, JSON, XML, a list with columns or a screenplay.
func foreignText(src *Source) Diagnostics {
	if found := conflicts(src); found != nil {
		return found
	}
	text := strings.TrimLeft(src.Text, " \t\r\n")
	if text == "" {
		return nil
	}
	start := len(src.Text) - len(text)
	next := strings.TrimLeft(text[1:], " \t\r\n")
	kind, remedy := "", `Name a file that begins with a line like "use demo" or "lens "Wide 18" {".`
	switch {
	case text[0] == '{' && strings.HasPrefix(next, `"`), text[0] == '[' && next != "" && strings.ContainsRune(`[{"`, rune(next[0])):
		kind = "JSON"
	case text[0] == '<' && next != "" && (next[0] == '?' || next[0] == '!' || isLetter(next[0])):
		kind = "XML or HTML"
	case hasKeyword(src):
		return nil
	case hasColumns(src):
		kind = "a list with columns"
		remedy = `Read a list of equipment with "glassbrief catalog import", and one of shots with "glassbrief begin --shots".`
	case len(scenes(src, 1)) > 0:
		kind = "a screenplay"
		remedy = `Name it in a line "script" of the block "scenario", or begin from it with "glassbrief begin --script".`
	default:
		return nil
	}
	return Diagnostics{{
		Severity: Error, Code: WrongKind, Span: Span{Source: src, Start: start, End: start + 1},
		Summary: "this file is " + kind + ", and no text of the language",
		Detail:  remedy,
	}}
}

// beginning gives the first lines of a source that are not blank.
func beginning(src *Source, most int) iter.Seq[string] {
	return func(yield func(string) bool) {
		for n, left := 1, most; n <= src.Lines() && left > 0; n++ {
			if line, _ := src.Line(n); !isBlank(line) {
				if left--; !yield(line) {
					return
				}
			}
		}
	}
}

// hasKeyword reports whether one of the first lines begins as a statement of some kind of file does.
func hasKeyword(src *Source) bool {
	for line := range beginning(src, 1000) {
		end := scanWord(line)
		if (end == len(line) || strings.IndexByte(" \t{\"", line[end]) >= 0) && (kindOf(line[:end]) >= 0 || line[:end] == EditionKeyword) {
			return true
		}
	}
	return false
}

// hasColumns reports whether the first lines are of as many columns, of which there are three or more.
func hasColumns(src *Source) bool {
	lines := slices.Collect(beginning(src, 3))
	return len(lines) >= 2 && slices.ContainsFunc([]string{",", ";", "\t"}, func(separator string) bool {
		columns := strings.Count(lines[0], separator)
		return columns >= 2 && !slices.ContainsFunc(lines, func(line string) bool { return strings.Count(line, separator) != columns })
	})
}

// mergeMarks begin the lines by which a version control system marks what it could not merge.
var mergeMarks = []string{"<<<<<<<", "|||||||", "=======", ">>>>>>>"}

// conflicts reports each place that an unfinished merge has left, with the marks that belong
// to it.
func conflicts(src *Source) (found Diagnostics) {
	if !slices.ContainsFunc(mergeMarks, func(mark string) bool { return strings.Contains(src.Text, mark) }) {
		return nil
	}
	for n := 1; n <= src.Lines(); n++ {
		line, start := src.Line(n)
		mark := slices.IndexFunc(mergeMarks, func(mark string) bool {
			return strings.HasPrefix(line, mark) && (len(line) == len(mark) || line[len(mark)] == ' ')
		})
		if mark < 0 {
			continue
		}
		span := Span{Source: src, Start: start, End: start + len(mergeMarks[mark])}
		if last := len(found) - 1; mark > 0 && last >= 0 && len(found[last].Related) < len(mergeMarks)-1 {
			note := []string{"", "what both sides come from begins here", "the other side begins here", "it ends here"}[mark]
			found[last].Related = append(found[last].Related, Related{Span: span, Note: note})
			continue
		}
		found.Add(Diagnostic{
			Severity: Error, Code: UnfinishedMerge, Span: span,
			Summary: "a merge is unfinished here, and both sides stand in the file",
			Detail:  "Keep the lines of one side, or of both where they do not exclude each other, and remove the lines of marks.",
		})
	}
	return found
}

// A kindOfFile is known by the keywords at the top of the file.
type kindOfFile struct {
	name, remedy string
	keywords     []string
}

// A test holds the kinds to the structs that the files are decoded into.
var kinds = []kindOfFile{
	{"a scenario", "Give it to the command where a scenario is taken.", []string{"use", "scenario", "shot", "expect"}},
	{"a catalogue", `Name it in a line "use" of a scenario.`, []string{"lens", "camera", "rig", "mount", "adapter", "filter", "amend"}},
	{"a file of rules", `Name it in a line "rules" of the block "scenario".`, []string{"fact", "criterion", "weight", "case"}},
	{"a file of choices", `Give it to "glassbrief rules learn".`, []string{"choices"}},
}

// kindOf gives the index of the kind of file that has a keyword at its top, or -1.
func kindOf(keyword string) int {
	return slices.IndexFunc(kinds, func(k kindOfFile) bool { return slices.Contains(k.keywords, keyword) })
}

// TopKeywords gives the keywords at the top of each kind of file: a scenario, a catalogue,
// rules, choices.
func TopKeywords() (scenario, catalogue, rules, choices []string) {
	return kinds[0].keywords, kinds[1].keywords, kinds[2].keywords, kinds[3].keywords
}

// wrongKind reports a file of which every statement is one of another kind of file, or gives nil.
func wrongKind(file *File, p *plan) *Diagnostic {
	if len(file.Statements) == 0 || len(p.keywords) == 0 {
		return nil
	}
	wanted, is := kindOf(p.keywords[0]), kindOf(file.Statements[0].Keyword.Value)
	if wanted < 0 || is < 0 {
		return nil
	}
	for _, s := range file.Statements {
		if p.find(s.Keyword.Value) >= 0 {
			return nil
		}
	}
	return &Diagnostic{
		Severity: Error, Code: WrongKind, Span: file.Statements[0].Keyword.Span,
		Summary: fmt.Sprintf("this file is %s, and %s is wanted here", kinds[is].name, kinds[wanted].name),
		Detail:  kinds[is].remedy,
	}
}

// unquoted gives the diagnostic for bare words where a quoted text is wanted: the name that
// they make, up to the end of the values or to "or".
func (a *Args) unquoted() *Diagnostic {
	values := a.statement.Values[a.next:]
	bare := func(v Value) bool {
		return v.Form == Single && (v.Parts[0].Kind == WordPart && v.Parts[0].Text != "or" || v.Parts[0].Kind == NumberPart)
	}
	n := 0
	for n < len(values) && bare(values[n]) {
		n++
	}
	if n == 0 || values[0].Parts[0].Kind != WordPart {
		return nil
	}
	span := values[0].Span.To(values[n-1].Span)
	return &Diagnostic{
		Severity: Error, Code: WrongKind, Span: span,
		Summary: fmt.Sprintf("%s stands without quotes, and %q takes a quoted text here", shown(span), a.statement.Keyword.Value),
		Detail:  "Put it between quotes.", Instead: Quote(span.Text()), Spelling: true,
	}
}

// dashed gives the diagnostic for "3m-5m", of which "-5m" stands behind what was taken, or nil.
func (a *Args) dashed() *Diagnostic {
	if !a.More() || a.next == 0 {
		return nil
	}
	low, high := a.statement.Values[a.next-1].Span, a.statement.Values[a.next].Span
	if low.End != high.Start || !strings.HasPrefix(high.Text(), "-") || a.PeekKind() != NumberPart {
		return nil
	}
	span, high := low.To(high), high.Sub(1, high.End-high.Start)
	return &Diagnostic{
		Severity: Error, Code: BadInterval, Span: span,
		Summary: fmt.Sprintf("%s has a dash between two values", shown(span)),
		Detail:  "An interval is written with two dots.",
		Instead: low.Text() + ".." + high.Text(), Spelling: true,
	}
}

// foreignSpelling gives the diagnostic for a figure as other notations write it, around a span
// in which the language sees no token: a decimal comma, feet and inches by marks, a long dash.
// It is nil when there is none.
func foreignSpelling(at Span) *Diagnostic {
	line, start := at.Source.Line(at.Position().Line)
	offset := at.Start - start
	from := len(strings.TrimRight(line[:offset], "0123456789."))
	before, mark, after := line[from:offset], at.Text(), line[min(offset+len(at.Text()), len(line)):]
	part := func(end int, summary, remedy, instead string) *Diagnostic {
		span := Span{Source: at.Source, Start: start + from, End: start + end}
		return &Diagnostic{
			Severity: Error, Code: InvalidCharacter, Span: span,
			Summary: fmt.Sprintf(summary, clip(span.Text())), Detail: remedy, Instead: instead, Spelling: mark != ",", // which may part two values
		}
	}
	end := len(line) - len(after)
	switch n := digits(after); {
	case before == "":
		if dash := strings.TrimLeft(mark, "–—"); mark != "" && dash == "" && offset > 0 && n > 0 {
			return &Diagnostic{
				Severity: Error, Code: InvalidCharacter, Span: at,
				Summary: fmt.Sprintf("a dash, %q, stands between two values", mark), Detail: `An interval is written with two dots, as "3m..5m".`, Instead: "..", Spelling: true,
			}
		}
	case mark == "," && (n == 1 || n == 2) && !strings.HasPrefix(after[n:], ","):
		unit := scanUnit(after[n:])
		whole := before + "." + after[:n+unit]
		return part(end+n+unit, "%q has a decimal comma", "Decimals are written with a point; behind a comma of a list stands a space.", whole)
	case strings.Contains("'’′", mark):
		inches, length := "", n
		if n > 0 {
			inches = " " + after[:n] + "in"
			for _, double := range []string{`"`, "''", "”", "″"} {
				if strings.HasPrefix(after[n:], double) {
					length += len(double)
					break
				}
			}
		}
		return part(end+length, "%q has feet and inches by marks", `Write them as "5ft 3in".`, before+"ft"+inches)
	case strings.HasPrefix(mark, `"`), mark == "”", mark == "″":
		return part(offset+1, "%q has inches by a mark", `Write them as "63in".`, before+"in")
	}
	return nil
}
