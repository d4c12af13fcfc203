package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// A value is one cell on its way to what a file writes.
type value struct {
	cell
	column *column
	unit   string // of a number without one: by the title, or as the trade leaves it out
	// remark is what stands in brackets behind a figure, for the notes.
	remark string
	row    *row
	at     lang.Span
	where  string // the cell as spreadsheets name it; "" for a text that is none
	wrong  bool
}

// fail reports the cell, once.
func (v *value) fail(code lang.Code, remedy, format string, args ...any) {
	if v.wrong {
		return
	}
	v.wrong = true
	summary := fmt.Sprintf(format, args...)
	if v.where == "" { // no sheet
		summary = fmt.Sprintf("the %s %s", strings.ToLower(v.column.title), summary)
	} else {
		summary = fmt.Sprintf("%s, %q, %s", v.where, v.column.title, summary)
	}
	v.row.reading.found.Add(fault(code, v.at, summary, remedy))
}

// check reports what the language has against a text that was made of the cell.
func (v *value) check(text string, err error) string {
	var ds lang.Diagnostics
	if errors.As(err, &ds) && len(ds) > 0 {
		v.fail(ds[0].Code, ds[0].Detail, "cannot be read: %s", ds[0].Summary)
		return ""
	}
	return text
}

// signs are characters that stand for plainer ones.
var signs = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "−", "-", "×", "x", "′", "'", "’", "'", "‘", "'", "´", "'",
	"″", `"`, "”", `"`, "“", `"`, "''", `"`, "½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4", "ƒ", "f",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "\t", " ")

// normalise gives a text with plain signs, in one line with single blanks.
func normalise(text string) string { return strings.Join(strings.Fields(signs.Replace(text)), " ") }

// isUnknown reports whether a cell says that there is nothing to say.
func isUnknown(text string) bool {
	return slices.Contains([]string{"", "-", "--", "–", "—", "?", "??", "???", ".", "…", "...", "n/a", "na", "n.a.", "tba", "tbc", "tbd", "unknown", "unbekannt", "k.a.", "#n/a"},
		strings.ToLower(strings.TrimSpace(text)))
}

// needsQuotes reports whether a text would not come back as it is from a plain cell: one
// that a spreadsheet takes for a formula, that means "unknown", or that cleaning changes.
func needsQuotes(text string) bool {
	return text == "" || oneLine(text) != text || isUnknown(text) || strings.ContainsAny(text[:1], "=+-@'\"\t\r")
}

// oneLine gives a text with its lines joined and single blanks.
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

// plainText gives the text of a cell: without the quotes that an export puts around what
// needs them, or the apostrophe before a sign that others put there.
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

// readMount takes the name of a mount, in the spelling of one that is known.
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

// An amount is a number as written, and the unit behind it, "" when there is none.
type amount struct{ number, unit string }

var amountForms = sync.OnceValue(func() []*regexp.Regexp {
	const number = `(\d+ \d+/\d+|\d+/\d+|\d[\d.,' ]*\d|\d|[.,]\d+)`
	return []*regexp.Regexp{
		// 5ft 10in, 5' 10", 2 lb 3 oz
		regexp.MustCompile(`(?i)^` + number + ` ?('|ft|feet|foot|lbs?|pounds?)\.? ?` + number + ` ?("|in|ins|inch|inches|oz|ounces?)\.?$`),
		// 1.2 kg, €35
		regexp.MustCompile(`^([€£$]?) ?` + number + ` ?([^\d\s(][^(\d]*?)?$`),
	}
})

// amounts reads a figure: one number with its unit, or feet and inches, or pounds and
// ounces. A sign before it is given apart.
func (v *value) amounts(text string) (sign string, list []amount, ok bool) {
	text = strings.TrimSpace(text)
	for _, about := range []string{"~", "≈", "ca.", "ca ", "approx.", "approx ", "about "} {
		text = strings.TrimSpace(strings.TrimPrefix(text, about))
	}
	if rest, negative := strings.CutPrefix(text, "-"); negative {
		sign, text = "-", strings.TrimSpace(rest)
	} else {
		text = strings.TrimSpace(strings.TrimPrefix(text, "+"))
	}
	forms := amountForms()
	if m := forms[0].FindStringSubmatch(text); m != nil {
		return sign, []amount{{m[1], m[2]}, {m[3], m[4]}}, true
	}
	if m := forms[1].FindStringSubmatch(text); m != nil {
		return sign, []amount{{m[2], strings.TrimSpace(m[1] + m[3])}}, true
	}
	return "", nil, false
}

// figure turns a figure into what the language writes; unit is what a bare number is in.
func (v *value) figure(text, unit string) string {
	sign, list, ok := v.amounts(text)
	if !ok {
		v.fail(lang.BadNumber, "Write a number and its unit, and put remarks in brackets or in a column of notes.", "is no figure: %q", text)
	}
	var parts []string
	for _, a := range list {
		number, used := v.number(a.number), unit
		if a.unit != "" {
			if used, ok = unitOf(a.unit, v.column); !ok {
				v.wrongUnit(a.unit)
			}
		}
		if used == "" && v.column.dim != lang.Plain {
			v.fail(lang.MissingUnit, fmt.Sprintf("Write the unit into the title, as %q, or behind the number.", v.column.title+" ("+lang.UnitNames(v.column.dim)[0]+")"),
				"has no unit: %q", text)
		}
		parts = append(parts, joined(number, used))
	}
	return sign + strings.Join(parts, " ")
}

// quantity is a figure that the language takes as one of the column's dimension.
func (v *value) quantity(text, unit string) string {
	out := v.figure(text, unit)
	_, err := lang.ParseQuantity(v.column.title, out, v.column.dim)
	return v.check(out, err)
}

// shareUnit gives the first of two figures the unit of the second when it has none:
// "24-70 mm", "36 x 24 mm".
func (v *value) shareUnit(first, second string) string {
	_, a, ok1 := v.amounts(first)
	_, b, ok2 := v.amounts(second)
	if ok1 && ok2 && len(a) == 1 && len(b) == 1 && a[0].unit == "" {
		return strings.TrimSpace(first + " " + b[0].unit)
	}
	return first
}

func (v *value) wrongUnit(unit string) {
	summary := "is in a unit that is not known: %q"
	if _, known := lang.FindUnit(unit); known {
		summary = "is in a unit of something else: %q"
	}
	v.fail(lang.UnknownUnit, fmt.Sprintf("It is given in %s.", lang.Quoted(lang.UnitNames(v.column.dim))), summary, unit)
}

// joined writes a number with its unit as the language does.
func joined(number, unit string) string {
	switch unit {
	case "f/", "T":
		return unit + number
	}
	if row, ok := lang.FindUnit(unit); ok && row.Spaced {
		return number + " " + unit
	}
	return number + unit
}

// takeRemark cuts a remark in brackets off the end of a figure.
func (v *value) takeRemark() string {
	text := normalise(v.text)
	open := strings.IndexAny(text, "([")
	if open <= 0 || !strings.ContainsAny(text[len(text)-1:], ")]") {
		return text
	}
	v.remark = strings.TrimSpace(text[open+1 : len(text)-1])
	return strings.TrimSpace(text[:open])
}

func readQuantity(v *value) string { return v.quantity(v.takeRemark(), v.unit) }

// rangeSigns are what stands between the ends of a range, the plainest first.
var rangeSigns = []string{"..", "–", "—", " to ", " bis ", " - "}

// ends cuts a range at its sign; a single figure is both ends.
func ends(text string) (low, high string, isRange bool) {
	for _, sign := range rangeSigns {
		if low, high, ok := strings.Cut(text, sign); ok {
			return strings.TrimSpace(low), strings.TrimSpace(high), true
		}
	}
	if at := strings.LastIndex(text, "-"); at > 0 {
		return strings.TrimSpace(text[:at]), strings.TrimSpace(text[at+1:]), true
	}
	return text, text, false
}

func readInterval(v *value) string { return v.interval(v.takeRemark(), v.unit) }

func (v *value) interval(text, unit string) string {
	low, high, isRange := ends(text)
	if isRange {
		low = v.shareUnit(low, high)
	}
	// An end that is not given stays open.
	out := ""
	if low != "" {
		out = v.figure(low, unit)
	}
	if isRange {
		out += ".."
	}
	if isRange && high != "" {
		out += v.figure(high, unit)
	}
	_, err := lang.ParseInterval(v.column.title, out, v.column.dim)
	return v.check(out, err)
}

// listSigns are what stands between the values of a list. A comma counts only with a blank
// behind it, for in "0,6" it is the decimal mark.
var listSigns = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\s*(?:;|, |\s/\s|\sor\s|\sand\s|\sund\s|\soder\s)\s*`)
})

// readList reads "24, 28, 35 mm", "24; 28; 35", "800 / 4000". The unit behind the last value
// is that of bare numbers before it.
func readList(v *value) string {
	text := v.takeRemark()
	if v.column.dim == lang.Plain {
		text = strings.ReplaceAll(text, "/", " / ") // 800/4000 are two ISOs and no fraction
	}
	items := listSigns().Split(text, -1)
	if !strings.Contains(text, ";") && decimalComma().MatchString(text) {
		v.fail(lang.BadNumber, `Write a blank behind each comma of a list, or semicolons, as "24; 28; 35".`, "can be read in two ways: %q", text)
		return ""
	}
	unit := v.unit
	if _, last, ok := v.amounts(items[len(items)-1]); ok && len(last) == 1 && last[0].unit != "" {
		unit = last[0].unit
		if known, ok := unitOf(unit, v.column); ok {
			unit = known
		}
	}
	var texts []string
	for i, item := range items {
		text, isDensity := v.density(item, unit)
		if !isDensity {
			text = v.figure(item, unit)
		}
		if i < len(items)-1 && unit != "" {
			text = strings.TrimSpace(strings.TrimSuffix(text, unit))
		}
		texts = append(texts, text)
	}
	list := strings.Join(texts, ", ")
	_, err := lang.ParseList(v.column.title, list, v.column.dim)
	return v.check(list, err)
}

// decimalComma finds a comma between two digits.
var decimalComma = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\d,\d`) })

// stopForm finds an f-number or T-number with any of the marks that people put before it.
var stopForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(f ?/ ?|f:|f|1 ?: ?|t ?/ ?|t:|t|)[ ]?(\d[\d.,]*|[.,]\d+)$`)
})

// readStops reads "2.8", "f/2.8", "1:2.8-4", "2.8-22", "T2.1". A T-number goes to its own
// statement whatever the column is called, and so does an f-number.
func readStops(v *value) string {
	low, high, isRange := ends(v.takeRemark())
	var marks, numbers []string
	for _, end := range []string{low, high} {
		if end == "" && isRange {
			numbers = append(numbers, "")
			continue
		}
		m := stopForm().FindStringSubmatch(end)
		if m == nil {
			v.fail(lang.BadNumber, `Write it like "f/2.8", "2.8-22" or "T3.1".`, "is no stop: %q", end)
			return ""
		}
		numbers = append(numbers, v.number(m[2]))
		if m[1] != "" {
			marks = append(marks, strings.ToUpper(m[1][:1]))
		}
	}
	mark := v.unit
	switch {
	case slices.Contains(marks, "T"):
		mark = "T"
	case marks != nil:
		mark = "f/"
	}
	text := ""
	switch {
	case !isRange:
		text = mark + numbers[0]
	case mark == "T" && numbers[1] != "":
		// The smallest stop is known by its f-number alone.
		text = mark + numbers[0]
		v.remark = strings.TrimPrefix(v.remark+", down to T"+numbers[1], ", ")
	default:
		for i, number := range numbers {
			if number != "" {
				numbers[i] = mark + number
			}
		}
		text = numbers[0] + ".." + numbers[1]
	}
	_, err := lang.ParseInterval(v.column.title, text, lang.Aperture)
	if text = v.check(text, err); v.wrong {
		return ""
	}
	if keyword := map[string]string{"T": "transmission", "f/": "aperture"}[mark]; keyword != v.column.keyword {
		v.row.put(keyword, catalog.Line{Keyword: keyword, Value: text, At: v.at})
		return ""
	}
	return text
}

func readMoney(v *value) string {
	text := strings.TrimSuffix(strings.TrimSpace(v.takeRemark()), ",-")
	if strings.ContainsAny(text, "$¥") && v.unit == "" {
		v.fail(lang.MissingUnit, "Write the code of the currency, as EUR, or give it with --currency.", "is in a currency that several countries have: %q", text)
		return ""
	}
	if v.unit != "" {
		text = strings.Trim(text, "$¥ ")
	}
	return v.quantity(text, v.unit)
}

func readSize(v *value) string {
	sides := strings.Split(strings.ToLower(v.takeRemark()), "x")
	if len(sides) != 2 {
		v.fail(lang.WrongKind, `Write width and height, as "36 x 24 mm".`, "is no size: %q", v.text)
		return ""
	}
	return v.quantity(v.shareUnit(sides[0], sides[1]), v.unit) + " x " + v.quantity(sides[1], v.unit)
}

// choose gives the word that one of its spellings stands for.
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

// ratio reads "1:4" and "1.33x".
func (v *value) ratio(text string) string {
	sides := strings.Split(strings.TrimSuffix(text, "x"), ":")
	for i, side := range sides {
		sides[i] = v.number(strings.TrimSpace(side))
	}
	ratio := strings.Join(sides, ":")
	_, err := lang.ParseRatio(v.column.title, ratio)
	return v.check(ratio, err)
}

// readMagnification reads "1:4", "0.25x" and "1/4".
func readMagnification(v *value) string {
	return v.ratio(strings.ReplaceAll(strings.ToLower(v.takeRemark()), "/", ":"))
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

// readSqueeze reads "1.33x", "2:1" and "spherical", which is no squeeze.
func readSqueeze(v *value) string {
	text := strings.ToLower(v.takeRemark())
	switch text {
	case "spherical", "no", "none", "sph", "nein":
		return ""
	}
	return v.ratio(strings.TrimSuffix(text, ":1"))
}

func readFlag(v *value) string {
	switch v.choose(map[string]string{"yes": "y, x, true, 1, ja, ✓, af", "no": "n, false, 0, none, nein, mf, –"}) {
	case "yes":
		return yes
	}
	return ""
}

// yes is the value of a statement that is a keyword alone.
const yes = "\x00yes"

// readThread reads "77mm", "77", "M77x0.75" and "none".
func readThread(v *value) string {
	text := v.takeRemark()
	switch strings.ToLower(text) {
	case "none", "no", "no thread", "keins", "ohne":
		return "none"
	}
	if len(text) > 1 && (text[0] == 'M' || text[0] == 'm' || strings.HasPrefix(text, "Ø")) {
		text = strings.TrimLeft(text, "MmØ ")
	}
	text, _, _ = strings.Cut(text, "x") // the pitch
	return v.quantity(strings.TrimSpace(text), v.unit)
}

func readFilterKind(v *value) string {
	return v.choose(map[string]string{
		catalog.FilterND:        "neutral density, grey, gray, vnd, variable nd, ndx, graufilter",
		catalog.FilterDiffusion: "diffuser, soft, softener, mist, net, diffusor",
		catalog.FilterPolar:     "pol, polarizer, polariser, cpl, pl, circular polarizer, circular polariser, polfilter",
		catalog.FilterStepUp:    "step up, stepup, step up ring, stepup ring, ring, adapter ring, stufenring",
	})
}

// densityForm finds the optical density of a neutral filter, as "ND0.9" or "0,9".
var densityForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(?:nd ?)?(0?[.,]\d+|[1-4][.,]\d+)$`)
})

// density gives the stops of a density, of which 0.3 is one stop; it is false for another
// text, and where the unit says that stops are given.
func (v *value) density(text, unit string) (stops string, ok bool) {
	m := densityForm().FindStringSubmatch(text)
	if m == nil || unit != "" || v.column.dim != lang.Stops {
		return "", false
	}
	return v.stopsOf(v.number(m[1])), true
}

// readStrength reads stops, and densities of neutral filters.
func readStrength(v *value) string {
	text := v.takeRemark()
	if stops, ok := v.density(text, v.unit); ok {
		return stops
	}
	return v.interval(text, v.unit)
}

func readBlock(v *value) string { return strings.TrimSpace(v.text) }
