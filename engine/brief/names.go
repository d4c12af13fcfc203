package brief

import (
	"fmt"

	"glassbrief/lang"
)

// unknownName reports a name that is none of those known. known names them in the detail, behind listed,
// as in "The places are"; where there are none, the detail is none.
func (l *loader) unknownName(name lang.Text, summary, listed string, known []string, none string) {
	detail := none
	if len(known) > 0 {
		detail = fmt.Sprintf("%s %s.", listed, lang.Quoted(known))
	}
	l.report(lang.Diagnostic{
		Severity: lang.Error, Code: lang.UnknownName, Span: name.Span,
		Summary: summary, Detail: detail, Instead: lang.Nearest(name.Value, known),
	})
}

// unknownShot reports that there is no shot of a name.
func (l *loader) unknownShot(name lang.Text, ids []string) {
	l.unknownName(name, fmt.Sprintf("there is no shot %q", name.Value), "The shots are", ids, "The scenario has no shots.")
}

// nameTwice reports that two things of a kind have the same name.
func (l *loader) nameTwice(kind string, name lang.Text, first lang.Span) {
	l.report(lang.Diagnostic{
		Severity: lang.Error, Code: lang.DuplicateName, Span: name.Span,
		Summary: fmt.Sprintf("two %ss are called %q", kind, name.Value), Detail: fmt.Sprintf("Give each %s a name of its own.", kind),
		Related: []lang.Related{{Span: first, Note: "the first one is here"}},
	})
}
