package sheet

import (
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"glassbrief/lang"

	"golang.org/x/text/unicode/norm"
)

// signs replaces typographic characters by plain ones.
var signs = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "−", "-", "×", "x", "′", "'", "’", "'", "‘", "'", "´", "'",
	"″", `"`, "”", `"`, "“", `"`, "''", `"`, "½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4", "ƒ", "f",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "\t", " ")

// normalise gives a text with plain characters, in one line, with single blanks.
func normalise(text string) string { return strings.Join(strings.Fields(signs.Replace(text)), " ") }

// fold gives a text in lower case without accents, so that "Länge", "LÄNGE" and "Lange" are one.
func fold(text string) string {
	text = strings.ToLower(text)
	plain := strings.IndexFunc(text, func(r rune) bool { return r >= utf8.RuneSelf }) < 0
	if plain {
		return text
	}
	text = ligatures.Replace(text)
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFD.String(text))
}

var ligatures = strings.NewReplacer("ß", "ss", "œ", "oe", "æ", "ae")

// unknown are the ways in which a cell says that nothing is known.
var unknown = sync.OnceValue(func() []string {
	return words("-, --, –, —, ?, ??, ???, ., …, ..., n/a, na, n.a., #n/a, tba, tbc, tbd, unknown, unbekannt, k.a., k. a., inconnu, inconnue, n.c., n.d., " +
		"desconocido, desconocida, sconosciuto, sconosciuta, onbekend, n.b.")
})

// isUnknown reports whether a cell is empty or means "unknown".
func isUnknown(text string) bool {
	text = fold(strings.TrimSpace(text))
	return text == "" || slices.Contains(unknown(), text)
}

// needsQuotes reports whether a text must be exported in quotes to be read back unchanged:
// it looks like a formula, means "unknown", or would be cleaned up.
func needsQuotes(text string) bool {
	return text == "" || oneLine(text) != text || isUnknown(text) || strings.ContainsAny(text[:1], "=+-@'\"\t\r")
}

// oneLine joins the lines of a text, with single blanks between words.
func oneLine(text string) string {
	joined := ""
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		line = strings.Join(strings.Fields(line), " ")
		switch {
		case line == "":
		case joined == "":
			joined = line
		case strings.ContainsAny(joined[len(joined)-1:], ",;:.-"):
			joined += " " + line
		default:
			joined += "; " + line
		}
	}
	return joined
}

// plainText gives the text of a cell without the quotes of an export, and without the
// apostrophe that other programs put before a sign that could start a formula.
func (v *value) plainText() string {
	text := strings.TrimSpace(v.text)
	if got, ok := lang.Unquote(text); ok {
		return got
	}
	if strings.HasPrefix(text, "'") && len(text) > 1 && strings.ContainsAny(text[1:2], "=+-@") {
		text = text[1:]
	}
	return oneLine(text)
}

func readLine(v *value) string {
	if text := v.plainText(); text != "" {
		return lang.Quote(text)
	}
	return ""
}

// readMount reads the name of a mount, and spells it as the known one.
func readMount(v *value) string {
	text := v.plainText()
	if text == "" {
		return ""
	}
	for _, known := range v.row.reading.options.Mounts {
		if phraseOf(known) == phraseOf(text) {
			return lang.Quote(known)
		}
	}
	return lang.Quote(text)
}

func readBlock(v *value) string { return strings.TrimSpace(v.text) }
