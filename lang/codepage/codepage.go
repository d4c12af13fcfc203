// Package codepage has a page for each code of a diagnostic: what it is about, with a text that brings it
// about and the same text put right.
package codepage

import (
	_ "embed"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"glassbrief/lang"
)

// A Page explains one code.
type Page struct {
	Code    lang.Code
	Meaning string // of the table of codes
	About   string // full sentences
	Kind    string // of the texts: scenario, catalog or rules; "" when there are none
	// Wrong brings the code about and Right does not. What such a file needs besides is left out; see
	// [Whole]. "⟨text × n⟩" stands for a text n times; see [Full].
	Wrong, Right string
}

// pagesText says at its head how it is written.
//
//go:embed pages.txt
var pagesText string

// Of gives the page of a code, or false when there is no such code.
func Of(code lang.Code) (Page, bool) {
	at := slices.IndexFunc(lang.Codes(), func(row lang.CodeMeaning) bool { return row.Code == code })
	_, text, found := strings.Cut(pagesText, "\n== "+string(code))
	if at < 0 || !found {
		return Page{}, false
	}
	text, _, _ = strings.Cut(text, "\n== ")
	head, rest, _ := strings.Cut(text, "\n")
	about, lines, _ := strings.Cut(rest, "\n")
	p := Page{Code: code, Meaning: lang.Codes()[at].Meaning, About: about, Kind: strings.TrimSpace(head)}
	for line := range strings.Lines(strings.TrimRight(lines, "\n") + "\n") {
		wrong, right := sides(line)
		p.Wrong += wrong
		p.Right += right
	}
	if p.Kind == "" {
		p.Wrong, p.Right = "", ""
	}
	return p, true
}

// sides gives what a line of a page is in the wrong text and in the right one.
func sides(line string) (wrong, right string) {
	if text, ok := strings.CutSuffix(line, "  //-\n"); ok {
		return text + "\n", ""
	}
	if text, ok := strings.CutSuffix(line, "  //+\n"); ok {
		return "", text + "\n"
	}
	if before, after, ok := strings.Cut(line, "  //= "); ok {
		return before + "\n", after
	}
	return line, line
}

// Full writes out what a text of a page shortens.
func Full(text string) string {
	repeated := regexp.MustCompile(`⟨(.*?) × (\d+)⟩`)
	return repeated.ReplaceAllStringFunc(text, func(short string) string {
		parts := repeated.FindStringSubmatch(short)
		n, _ := strconv.Atoi(parts[2]) // digits, by the pattern
		if parts[1] == "NUL" {
			parts[1] = "\x00"
		}
		return strings.Repeat(parts[1], n)
	})
}

// needed is what a scenario cannot be without, by the beginnings of the lines that a text may have already.
var needed = []struct{ begins, text string }{
	{"use ", "use demo\n"},
	{"scenario ", "scenario \"Night\" {\n  camera    \"House body A\"\n  rig       \"Short sled\"\n}\n"},
	{"shot ", "shot \"1A\" {\n  subject   person 1.7m\n  frame     medium\n  distance  2m\n}\n"},
}

// Whole adds to the text of a scenario what it lacks to be one, behind which the text stands.
func Whole(text string) string {
	before := ""
	for _, part := range needed {
		if !strings.HasPrefix(text, part.begins) && !strings.Contains(text, "\n"+part.begins) {
			before += part.text + "\n"
		}
	}
	return before + text
}
