package sheet

import (
	"regexp"
	"strings"
	"sync"

	"glassbrief/lang"
)

// Lists say in many ways that a figure is known only roughly: "ca. 480 g", "~43 cm",
// "env. 0,4 m", "500 g approx.", "480 g (circa)". The catalogue keeps that, as
// "mass about 480g".
const roughSpellings = `approximately|approx|appr|about|around|roughly|circa|zirka|ca|c|etwa|ungefahr|ungefaehr|rund|environ|env|a peu pres|` +
	`aproximadamente|aprox|alrededor de|cerca de|unos|unas|approssimativamente|appross|ongeveer|ong`

// roughForms match what says so before a figure, behind it, and in a title. The text is folded.
var roughForms = sync.OnceValue(func() (forms struct{ before, behind, alone, title *regexp.Regexp }) {
	forms.before = regexp.MustCompile(`^(?:[~≈≃∼±]|\+/-|(?:` + roughSpellings + `)(?:\.|\b))\s*`)
	forms.behind = regexp.MustCompile(`\s(?:` + roughSpellings + `)\.?$`)
	forms.alone = regexp.MustCompile(`^(?:~|±|(?:` + roughSpellings + `)\.?)$`)
	forms.title = regexp.MustCompile(`(^|[\s([{,;:/_-])(?:~|≈|±|(?:` + roughSpellings + `)\.?)($|[\s)\]},;:/_-])`)
	return forms
})

// takeRough gives a figure without what says that it is rough, and whether anything did.
func takeRough(text string) (figure string, rough bool) {
	text = strings.TrimSpace(text)
	figure = text
	if folded := fold(text); len(folded) != len(text) {
		figure = folded // places in the two differ
	}
	forms := roughForms()
	if at := forms.before.FindStringIndex(fold(figure)); at != nil && at[1] < len(figure) {
		figure, rough = figure[at[1]:], true
	}
	if at := forms.behind.FindStringIndex(fold(figure)); at != nil {
		figure, rough = strings.TrimSpace(figure[:at[0]]), true
	}
	if !rough {
		return text, false
	}
	return figure, true
}

// saysRough reports whether a remark begins by saying that its figure is rough, and gives what
// else it says.
func saysRough(remark string) (rest string, rough bool) {
	first, rest, _ := strings.Cut(remark, ",")
	if roughForms().alone.MatchString(fold(strings.TrimSpace(first))) {
		return strings.TrimSpace(rest), true
	}
	return remark, false
}

// withoutRough gives a title without what says that its figures are rough, and whether
// anything did.
func withoutRough(title string) (bare string, rough bool) {
	bare = roughForms().title.ReplaceAllString(fold(title), "$1 $2")
	return bare, bare != fold(title)
}

// roughly writes a figure as the language does, with the word before it if the cell or its
// title says that it is rough.
func (v *value) roughly(text string) string {
	if !v.rough || text == "" {
		return text
	}
	v.rough = false
	return lang.About + " " + text
}
