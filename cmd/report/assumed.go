package report

import (
	"html/template"
	"regexp"
	"strings"
	"sync"

	"glassbrief/lang"
)

// within finds a number that is marked, with where it lies behind it.
var within = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(lang.Assumed + `[^\s(~]+(?: [^\s(~]+){0,2}(?: (\([^()]+ to [^()]+\)))?`)
})

// marked gives a text in which the tildes, and where their numbers lie, stand back.
func marked(text string) template.HTML {
	var b strings.Builder
	at := 0
	for _, found := range within().FindAllStringSubmatchIndex(text, -1) {
		from, to := found[2], found[3]
		b.WriteString(template.HTMLEscapeString(text[at:found[0]]) + `<span class="tilde">` + lang.Assumed + `</span>`)
		if at = found[0] + len(lang.Assumed); from >= 0 {
			b.WriteString(template.HTMLEscapeString(text[at:from]) + `<span class="within">` + template.HTMLEscapeString(text[from:to]) + `</span>`)
			at = to
		}
	}
	return template.HTML(b.String() + template.HTMLEscapeString(text[at:]))
}

// figure finds what of a text is a number, and no name of a shot such as 4A.
var figure = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\b[0-9]+(?:[.,/][0-9]+)*\b`) })

// bold gives a text with its numbers bold.
func bold(text string) template.HTML {
	var b strings.Builder
	at := 0
	for _, found := range figure().FindAllStringIndex(text, -1) {
		b.WriteString(template.HTMLEscapeString(text[at:found[0]]) + "<b>" + text[found[0]:found[1]] + "</b>")
		at = found[1]
	}
	return template.HTML(b.String() + template.HTMLEscapeString(text[at:]))
}
