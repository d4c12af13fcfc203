package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// choose gives the word that the cell is a spelling of; remedy is what else helps when it is none.
func (v *value) choose(spellings map[string]string, remedy ...string) string {
	text := fold(v.takeRemark())
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
	v.fail(lang.UnknownWord, strings.Join(append([]string{fmt.Sprintf("Write %s.", lang.Quoted(known))}, remedy...), " "), "is not understood: %q", oneLine(v.text))
	return ""
}

func readHolding(v *value) string {
	if rest, ok := strings.CutPrefix(strings.ToLower(normalise(v.text)), catalog.Hired+" "); ok {
		v.text = rest
		price := *v
		price.column = v.row.kind.byKeyword(rateColumn)
		price.unit = cmp.Or(v.unit, v.row.reading.options.Currency)
		v.row.put(rateColumn, v.where, catalog.Line{Keyword: rateColumn, Value: readMoney(&price), At: v.at})
		v.wrong = price.wrong
		return catalog.Hired
	}
	return v.choose(map[string]string{
		catalog.Owned: "own, house, in house, inhouse, ours, us, yes, y, eigen, eigene, eigener, eigentum, im besitz, ja, propre, à nous, en propriété, oui, " +
			"propio, propia, nuestro, nuestra, sí, proprio, propria, nostro, nostra, di proprietà, eigendom, in bezit",
		catalog.Borrowed: "borrow, loan, on loan, lent, friend, geliehen, leihgabe, ausgeliehen, prêt, prêté, emprunté, " +
			"prestado, prestada, préstamo, prestito, in prestito, prestato, geleend, bruikleen, in bruikleen",
		catalog.Hired: "rental, hire, hired, rented, to rent, for hire, no, n, miete, mieten, gemietet, mietgerät, nein, location, à louer, loué, louer, non, " +
			"alquiler, alquilado, alquilada, de alquiler, noleggio, a noleggio, noleggiato, huur, gehuurd, te huur, nee",
	}, `A column of people's names can be kept as notes, with --column "Owner=about".`)
}

// readTerms reads what stands behind the price of a day in a file, whose currency does not matter here.
func readTerms(v *value) string {
	text := oneLine(v.text)
	return v.check(text, lang.ParseArgs(v.column.title, catalog.Hired+" 1 EUR "+text, &catalog.Holding{}))
}

func readDates(v *value) string {
	text := oneLine(v.text)
	return v.check(text, lang.ParseArgs(v.column.title, text, &lang.Dates{}))
}

func readFocus(v *value) string {
	return v.choose(map[string]string{
		catalog.FocusManual: "mf, no, n, mechanical, cine, false, 0, manuell, mechanisch, nein, manuel, manuelle, mécanique, non, mecánico, manuale, meccanico, handmatig, nee",
		catalog.FocusAuto:   "af, autofocus, yes, y, true, 1, x, ✓, autofokus, automatisch, ja, automatique, oui, autofoco, automático, sí, automatico",
		catalog.FocusWire:   "by wire, fly by wire, focus by wire, electronic, elektronisch, électronique, electrónico, elettronico",
	})
}

func readScale(v *value) string {
	return v.choose(map[string]string{
		catalog.ScaleMarked: "yes, y, true, 1, x, ✓, marks, engraved, ft, m, ja, graviert, oui, gravée, sí, grabada, incisa, gegraveerd",
		catalog.ScaleWire:   "by wire, fly by wire, electronic, elektronisch, électronique, electrónica, elettronica",
		catalog.ScaleNone:   "no, n, false, 0, nein, keine, ohne, non, aucune, sans, ninguna, sin, nessuna, senza, nee, geen, zonder",
	})
}

func readProjection(v *value) string {
	text := phraseOf(v.text)
	if slices.Contains([]string{"fisheye", "fish eye", "fischauge", "oeil de poisson", "ojo de pez", "occhio di pesce", "visoog"}, text) {
		v.fail(lang.UnknownWord, `Write which: "equisolid" is the usual one, others are "equidistant", "stereographic" and "orthographic".`, "does not say how the fisheye maps angles")
		return ""
	}
	return v.choose(map[string]string{
		"rectilinear": "normal, linear, rectilinear lens, rektilinear, rectilinéaire, rectilíneo, rettilineare, rechtlijnig", "equidistant": "f theta", "equisolid": "equisolid angle, equal area",
		"stereographic": "", "orthographic": "orthogonal",
	})
}

func readFlag(v *value) string {
	switch v.choose(map[string]string{"yes": "y, x, true, 1, ✓, af, ja, oui, sí", "no": "n, false, 0, none, mf, –, nein, non, nee"}) {
	case "yes":
		return yes
	}
	return ""
}

// yes is the value of a statement without values.
const yes = "\x00yes"

func readFilterKind(v *value) string {
	return v.choose(map[string]string{
		catalog.FilterND:        "neutral density, grey, gray, vnd, variable nd, ndx, graufilter, densité neutre, gris neutre, densidad neutra, densità neutra, grijsfilter",
		catalog.FilterDiffusion: "diffuser, soft, softener, mist, net, diffusor, weichzeichner, difusión, difusor, diffusione, diffusore, diffusie",
		catalog.FilterPolar:     "pol, polarizer, polariser, cpl, pl, circular polarizer, circular polariser, polfilter, polarisationsfilter, polarisant, polariseur, polarizador, polarizzatore, polarisatiefilter",
		catalog.FilterStepUp:    "step up, stepup, step up ring, stepup ring, ring, adapter ring, stufenring, bague, bague step up, anillo, aro, anello, verloopring",
	})
}
