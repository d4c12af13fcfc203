package report

import (
	"html/template"
	"regexp"
	"strings"

	"glassbrief/lang"
)

// within finds a number that is marked, with where it lies behind it.
var within = regexp.MustCompile(lang.Assumed + `[^\s(~]+(?: [^\s(~]+){0,2}(?: (\([^()]+ to [^()]+\)))?`)

// marked gives a text in which the tildes, and where their numbers lie, stand back.
func marked(text string) template.HTML {
	var b strings.Builder
	at := 0
	for _, found := range within.FindAllStringSubmatchIndex(text, -1) {
		from, to := found[2], found[3]
		b.WriteString(template.HTMLEscapeString(text[at:found[0]]) + `<span class="tilde">` + lang.Assumed + `</span>`)
		if at = found[0] + len(lang.Assumed); from >= 0 {
			b.WriteString(template.HTMLEscapeString(text[at:from]) + `<span class="within">` + template.HTMLEscapeString(text[from:to]) + `</span>`)
			at = to
		}
	}
	return template.HTML(b.String() + template.HTMLEscapeString(text[at:]))
}
