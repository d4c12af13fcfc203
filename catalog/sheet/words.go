package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// choose gives the word that the cell is a spelling of.
func (v *value) choose(spellings map[string]string) string {
	text := strings.ToLower(v.takeRemark())
	if phrase := phraseOf(text); phrase != "" {
		text = phrase
	}
	for word, list := range spellings {
		if text == phraseOf(word) || slices.Contains(words(list), text) {
			return word
		}
	}
	var known []string
	for word := range spellings {
		known = append(known, word)
	}
	slices.Sort(known)
	v.fail(lang.UnknownWord, fmt.Sprintf("Write %s.", lang.Quoted(known)), "is not understood: %q", oneLine(v.text))
	return ""
}

func readHolding(v *value) string {
	if rest, ok := strings.CutPrefix(strings.ToLower(normalise(v.text)), catalog.Hired+" "); ok {
		v.text = rest
		price := *v
		price.column = v.row.kind.byKeyword(rateColumn)
		price.unit = cmp.Or(v.unit, v.row.reading.options.Currency)
		v.row.put(rateColumn, catalog.Line{Keyword: rateColumn, Value: readMoney(&price), At: v.at})
		v.wrong = price.wrong
		return catalog.Hired
	}
	return v.choose(map[string]string{
		catalog.Owned:    "own, house, in house, inhouse, ours, us, yes, y, eigen, eigene, eigentum",
		catalog.Borrowed: "borrow, loan, on loan, lent, friend, geliehen, leihgabe",
		catalog.Hired:    "rental, hire, hired, rented, to rent, for hire, no, n, miete, mieten, gemietet",
	})
}

func readFocus(v *value) string {
	return v.choose(map[string]string{
		catalog.FocusManual: "mf, no, n, mechanical, cine, false, 0, manuell, nein",
		catalog.FocusAuto:   "af, autofocus, yes, y, true, 1, ja, x, ✓",
		catalog.FocusWire:   "by wire, fly by wire, focus by wire, electronic, elektronisch",
	})
}

func readScale(v *value) string {
	return v.choose(map[string]string{
		catalog.ScaleMarked: "yes, y, true, 1, x, ✓, marks, engraved, ja, ft, m",
		catalog.ScaleWire:   "by wire, fly by wire, electronic, elektronisch",
		catalog.ScaleNone:   "no, n, false, 0, nein, keine, ohne",
	})
}

func readProjection(v *value) string {
	text := phraseOf(v.text)
	if text == "fisheye" || text == "fish eye" || text == "fischauge" {
		v.fail(lang.UnknownWord, `Write which: "equisolid" is the usual one, others are "equidistant", "stereographic" and "orthographic".`, "does not say how the fisheye maps angles")
		return ""
	}
	return v.choose(map[string]string{
		"rectilinear": "normal, linear, rectilinear lens", "equidistant": "f theta", "equisolid": "equisolid angle, equal area",
		"stereographic": "", "orthographic": "orthogonal",
	})
}

func readFlag(v *value) string {
	switch v.choose(map[string]string{"yes": "y, x, true, 1, ja, ✓, af", "no": "n, false, 0, none, nein, mf, –"}) {
	case "yes":
		return yes
	}
	return ""
}

// yes is the value of a statement without values.
const yes = "\x00yes"

func readFilterKind(v *value) string {
	return v.choose(map[string]string{
		catalog.FilterND:        "neutral density, grey, gray, vnd, variable nd, ndx, graufilter",
		catalog.FilterDiffusion: "diffuser, soft, softener, mist, net, diffusor",
		catalog.FilterPolar:     "pol, polarizer, polariser, cpl, pl, circular polarizer, circular polariser, polfilter",
		catalog.FilterStepUp:    "step up, stepup, step up ring, stepup ring, ring, adapter ring, stufenring",
	})
}
