package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// An amount is a number as written, with the unit behind it or "".
type amount struct{ number, unit string }

var amountForms = sync.OnceValue(func() []*regexp.Regexp {
	// Two numbers with a stroke between are a fraction only where they look like one: 24/70 is
	// none.
	const fraction = `(?:\d/(?:[234568]|10)|\d{1,2}/(?:16|32))`
	const number = `(\d+ ` + fraction + `|` + fraction + `|\d[\d.,' ]*\d|\d|[.,]\d+)`
	return []*regexp.Regexp{
		// 5ft 10in, 5' 10", 2 lb 3 oz
		regexp.MustCompile(`(?i)^` + number + ` ?('|ft|feet|foot|lbs?|pounds?)\.? ?` + number + ` ?("|in|ins|inch|inches|oz|ounces?)\.?$`),
		// 1.2 kg, €35
		regexp.MustCompile(`^([€£$]?) ?` + number + ` ?(kgm2|[^\d\s(][^(\d]*?)?$`),
	}
})

// amounts splits a figure into sign and amounts. Feet and inches are two amounts, and so
// are pounds and ounces.
func (v *value) amounts(text string) (sign string, list []amount, ok bool) {
	text = v.takeRough(text)
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

func (v *value) isAmount(text string) bool {
	_, _, ok := v.amounts(text)
	return ok
}

// figure writes a figure as the language does; unit is for a number that has none.
func (v *value) figure(text, unit string) string {
	sign, list, ok := v.amounts(text)
	if low, high, isRange := ends(text); !ok && isRange && v.isAmount(low) && v.isAmount(high) {
		v.fail(lang.WrongKind, `Write one figure, as "ca. `+strings.TrimSpace(high)+`", and the range into a column of notes.`, "is a range where one figure is wanted: %q", text)
	}
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
			remedy := fmt.Sprintf("Write the unit into the title, as %q, or behind the number.", v.column.title+" ("+lang.UnitNames(v.column.dim)[0]+")")
			if v.row.alone {
				remedy = fmt.Sprintf("Write one behind the number: %s.", lang.Quoted(lang.UnitNames(v.column.dim)))
			}
			v.fail(lang.MissingUnit, remedy, "has no unit: %q", text)
		}
		parts = append(parts, joined(number, used))
	}
	return sign + strings.Join(parts, " ")
}

// quantity writes a figure, and checks that the language reads it in the column's dimension.
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
		first = strings.TrimSpace(first) + " " + b[0].unit
	}
	return strings.TrimSpace(first)
}

func (v *value) wrongUnit(unit string) {
	summary := "is in a unit that is not known: %q"
	if _, known := lang.FindUnit(unit); known {
		summary = "is in a unit of something else: %q"
	}
	v.fail(lang.UnknownUnit, fmt.Sprintf("It is given in %s.", lang.Quoted(lang.UnitNames(v.column.dim))), summary, unit)
}

// joined writes a number and its unit as the language does.
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

func readQuantity(v *value) string { return v.roughly(v.quantity(v.takeRemark(), v.unit)) }

// rangeSigns can separate the ends of a range, the clearest first.
var rangeSigns = []string{"->", "→", "...", "…", "..", "–", "—", "÷", " to ", " bis ", " à ", " a ", " al ", " hasta ", " tot ", " t/m ", " - "}

// rangeStarts can stand before a range: "von 24 bis 70".
var rangeStarts = []string{"from ", "von ", "de ", "desde ", "da ", "dal ", "van "}

// ends splits a range; a single figure is both of its ends.
func ends(text string) (low, high string, isRange bool) {
	for _, sign := range rangeSigns {
		low, high, ok := strings.Cut(text, sign)
		if !ok {
			continue
		}
		for _, start := range rangeStarts {
			if len(low) > len(start) && strings.EqualFold(low[:len(start)], start) {
				low = low[len(start):]
				break
			}
		}
		return strings.TrimSpace(low), strings.TrimSpace(high), true
	}
	if at := strings.LastIndex(text, "-"); at > 0 {
		return strings.TrimSpace(text[:at]), strings.TrimSpace(text[at+1:]), true
	}
	return text, text, false
}

func readInterval(v *value) string { return v.roughly(v.interval(v.takeRemark(), v.unit)) }

func (v *value) interval(text, unit string) string {
	low, high, isRange := ends(text)
	if isRange {
		low = v.shareUnit(low, high)
	}
	// A missing end leaves the range open.
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

// endsJoint stands between the figures at the wide and at the long end of a zoom.
const endsJoint = " to "

// twoFigures matches two figures with units that stand side by side.
var twoFigures = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(.*[^\d\s])\s+([-+−]?\d.*)$`) })

// readEnds reads a figure that a zoom has at its wide and at its long end, in that order, and the
// word for a thin lens.
func readEnds(v *value) string {
	text := v.takeRemark()
	if fold(text) == catalog.ThinPupil {
		return catalog.ThinPupil
	}
	wide, long, both := strings.Cut(text, endsJoint)
	if m := twoFigures().FindStringSubmatch(text); m != nil && !both {
		wide, long, both = m[1], m[2], true
	}
	if !both {
		return v.roughly(v.quantity(text, v.unit))
	}
	return v.roughly(v.quantity(v.shareUnit(wide, long), v.unit) + " " + v.quantity(long, v.unit))
}

// listSigns can separate the values of a list. A comma needs a blank behind it, because in
// "0,6" it is the decimal mark.
var listSigns = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\s*(?:;|, |\s/\s|\sor\s|\sand\s|\sund\s|\soder\s)\s*`)
})

// readList reads "24, 28, 35 mm", "24; 28; 35", "800 / 4000". Numbers
// without a unit take that of the last value.
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

// stopForm matches an f-number or T-number with any of the usual marks before it.
var stopForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(f ?/ ?|f:|f|1 ?: ?|t ?/ ?|t:|t|)[ ]?(\d[\d.,]*|[.,]\d+)$`)
})

// stopMark matches where an f-number or a T-number with its mark begins.
var stopMark = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)(?:^|[^\pL\d])(f|t) ?[/:]? ?[\d.,]`) })

// stopJoints can stand between an f-number and a T-number.
const stopJoints = " /|,;()[]+&-–="

// bothStops splits a cell that gives an f-number and a T-number, as "f/2.8 (T3.1)",
// "T1.5/f1.4" or "2.8 / T3.1": the mark of the second one tells where it begins.
func bothStops(text string) (first, second string, ok bool) {
	for _, m := range stopMark().FindAllStringSubmatchIndex(text, -1) {
		at := m[2]
		first, second = strings.Trim(text[:at], stopJoints), strings.Trim(text[at:], stopJoints)
		if first == "" || strings.EqualFold(first[:1], second[:1]) {
			continue
		}
		if low, _, _ := ends(first); stopForm().MatchString(low) {
			return first, second, true
		}
	}
	return "", "", false
}

// readStops reads "2.8", "f/2.8", "1:2.8-4", "2.8-22", "T2.1", and an f-number and a T-number in
// one cell. A T-number becomes "transmission" and an f-number "aperture", whatever the column is
// called.
func readStops(v *value) string {
	text, _ := takeRough(normalise(v.text))
	first, second, both := bothStops(text)
	if !both {
		return v.stops(v.takeRemark())
	}
	v.takeRough(normalise(v.text))
	rough := v.rough
	own := v.stops(first)
	v.rough = rough
	if other := v.stops(second); other != "" {
		own = other
	}
	return own
}

// stops gives the statement of the column, or puts that of the other column into the row.
func (v *value) stops(text string) string {
	low, high, isRange := ends(text)
	var marks, numbers []string
	for _, end := range []string{low, high} {
		if end == "" && isRange {
			numbers = append(numbers, "")
			continue
		}
		m := stopForm().FindStringSubmatch(end)
		if m == nil {
			v.fail(lang.BadNumber, `Write it like "f/2.8", "2.8-22", "T3.1" or "f/2.8 (T3.1)".`, "is no stop: %q", end)
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
	out := ""
	switch {
	case !isRange:
		out = mark + numbers[0]
	case mark == "T" && numbers[1] != "":
		// The language has no field for a smallest T-number.
		out = mark + numbers[0]
		v.remark = strings.TrimPrefix(v.remark+", down to T"+numbers[1], ", ")
	default:
		for i, number := range numbers {
			if number != "" {
				numbers[i] = mark + number
			}
		}
		out = numbers[0] + ".." + numbers[1]
	}
	_, err := lang.ParseInterval(v.column.title, out, lang.Aperture)
	if out = v.check(out, err); v.wrong {
		return ""
	}
	out = v.roughly(out)
	if keyword := map[string]string{"T": "transmission", "f/": "aperture"}[mark]; keyword != v.column.keyword {
		v.row.put(keyword, v.where, catalog.Line{Keyword: keyword, Value: out, At: v.at})
		return ""
	}
	return out
}

func readMoney(v *value) string {
	text := strings.TrimSuffix(strings.TrimSpace(perDay().ReplaceAllString(v.takeRemark(), "")), ",-")
	if strings.ContainsAny(text, "$¥") && v.unit == "" {
		v.fail(lang.MissingUnit, "Write the code of the currency, as EUR, or give it with --currency.", "is in a currency that several countries have: %q", text)
		return ""
	}
	if v.unit != "" {
		text = strings.Trim(text, "$¥ ")
	}
	return v.roughly(v.quantity(text, v.unit))
}

func readSize(v *value) string {
	sides := strings.Split(strings.ToLower(v.takeRemark()), "x")
	if len(sides) != 2 {
		v.fail(lang.WrongKind, `Write width and height, as "36 x 24 mm".`, "is no size: %q", v.text)
		return ""
	}
	return v.quantity(v.shareUnit(sides[0], sides[1]), v.unit) + " x " + v.quantity(sides[1], v.unit)
}

// readPixels reads "4448 x 3096".
func readPixels(v *value) string {
	sides := strings.Split(strings.ToLower(v.takeRemark()), "x")
	if len(sides) != 2 {
		v.fail(lang.WrongKind, `Write width and height, as "4448 x 3096".`, "is no size in pixels: %q", v.text)
		return ""
	}
	return v.number(strings.TrimSpace(sides[0])) + " x " + v.number(strings.TrimSpace(sides[1]))
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

// readSqueeze reads "1.33x", "2:1" and "spherical", which is no squeeze.
func readSqueeze(v *value) string {
	text := strings.ToLower(v.takeRemark())
	switch text {
	case "spherical", "no", "none", "sph", "nein":
		return ""
	}
	return v.ratio(strings.TrimSuffix(text, ":1"))
}

// noThread are the ways in which a cell says that nothing can be screwed in.
var noThread = sync.OnceValue(func() []string {
	return words("none, no, no thread, keins, keines, kein, ohne, nein, aucun, aucune, sans, non, ninguno, ninguna, sin, sin rosca, nessuno, nessuna, senza, geen, zonder, nee")
})

// threadForm matches a thread with the mark of a diameter before it or its pitch behind it.
var threadForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(?:[MmØø] ?)?(\d[^x]*?) ?(?:x ?[\d.,]+.*)?$`) })

// readThread reads "77mm", "77", "M77x0.75" and "none".
func readThread(v *value) string {
	text := v.takeRemark()
	if slices.Contains(noThread(), fold(text)) {
		return "none"
	}
	return v.threadSize(text)
}

// readThreadSize reads the thread of a filter, which has one.
func readThreadSize(v *value) string { return v.threadSize(v.takeRemark()) }

func (v *value) threadSize(text string) string {
	if m := threadForm().FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	return v.roughly(v.quantity(text, v.unit))
}

// densityForm matches the optical density of a neutral filter, as "ND0.9" or "0,9".
var densityForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(?:nd ?)?(0?[.,]\d+|[1-4][.,]\d+)$`)
})

// density reads an optical density and gives its stops; ok is false if the text is none or
// the unit says that it is in stops already.
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
	stops, ok := v.density(text, v.unit)
	if !ok {
		stops = v.interval(text, v.unit)
	}
	return v.roughly(stops)
}
