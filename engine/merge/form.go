package merge

import (
	"slices"
	"strings"
)

// A form is how the text of a file is written down: with which byte order marks at its beginning, with
// which ends of lines, and with or without one at its end. It is merged for itself.
type form struct {
	marks          string
	carriage, open bool
}

const byteOrderMark = "\xef\xbb\xbf"

// unformed gives three texts whose lines all end in "\n", and the merged form. Ends of lines stay
// as they are where a text has both kinds.
func unformed(base, ours, theirs string) ([3]string, form) {
	texts := [3]string{base, ours, theirs}
	var forms [3]form
	mixed := false
	var known []int // the texts that have ends of lines
	for i, text := range texts {
		for strings.HasPrefix(texts[i], byteOrderMark) { // reading drops one of several
			texts[i], forms[i].marks = texts[i][len(byteOrderMark):], forms[i].marks+byteOrderMark
		}
		ends, carriage := strings.Count(text, "\n"), strings.Count(text, "\r\n")
		forms[i].carriage = ends > 0 && carriage == ends
		mixed = mixed || carriage > 0 && carriage < ends
		if ends > 0 {
			known = append(known, i)
		}
		forms[i].open = texts[i] != "" && !strings.HasSuffix(text, "\n")
	}
	for i := range forms {
		if len(known) > 0 && !slices.Contains(known, i) {
			forms[i].carriage = forms[known[0]].carriage
		}
	}
	f := form{
		marks:    pick(forms[0].marks, forms[1].marks, forms[2].marks),
		carriage: pick(forms[0].carriage, forms[1].carriage, forms[2].carriage) && !mixed,
		open:     pick(forms[0].open, forms[1].open, forms[2].open),
	}
	for i, text := range texts {
		if !mixed {
			text = strings.ReplaceAll(text, "\r\n", "\n")
		}
		if forms[i].open {
			text += "\n"
		}
		texts[i] = text
	}
	return texts, f
}

// restored gives a text its form. The end of one with marks stays, since one may stand there.
func (f form) restored(text string, marked bool) string {
	if f.open && !marked {
		text = strings.TrimSuffix(text, "\n")
	}
	if f.carriage {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return f.marks + text
}
