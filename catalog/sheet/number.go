package sheet

import (
	"cmp"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"glassbrief/lang"
)

// A numbering records which decimal marks a sheet certainly uses.
type numbering struct {
	point, comma bool
}

// marked matches numbers with points or commas in them.
var marked = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\d*(?:[.,]\d+)+`) })

// observe records the decimal marks of the numbers in a text.
func (n *numbering) observe(text string) {
	for _, number := range marked().FindAllString(text, -1) {
		switch decimalOf(number) {
		case '.':
			n.point = true
		case ',':
			n.comma = true
		}
	}
}

// decimalOf gives the decimal mark of a number, or 0 if the number alone does not tell:
// "1.250" and "1,250" may be 1.25 or 1250.
func decimalOf(number string) rune {
	point, comma := strings.LastIndex(number, "."), strings.LastIndex(number, ",")
	switch {
	case point >= 0 && comma >= 0:
		return rune(number[max(point, comma)])
	case strings.Count(number, ".") > 1:
		return ','
	case strings.Count(number, ",") > 1:
		return '.'
	}
	at := max(point, comma)
	lead := number[:at]
	if len(number)-at-1 == 3 && len(lead) >= 1 && len(lead) <= 3 && lead[0] != '0' {
		return 0
	}
	return rune(number[at])
}

// number gives a number with a decimal point, as the language writes it. An ambiguous or
// unreadable number is a fault.
func (v *value) number(text string) string {
	if strings.Contains(text, "/") {
		return text // a fraction: 1 1/3
	}
	text = ungroup(text)
	if strings.ContainsAny(text, " '") {
		v.fail(lang.BadNumber, "Write digits with at most one decimal mark.", "holds two numbers or more: %q", text)
	}
	if !strings.ContainsAny(text, ".,") || v.exact {
		return text
	}
	decimal := cmp.Or(decimalOf(text), v.row.reading.decimal())
	if decimal == 0 {
		v.fail(lang.BadNumber, "Say which with --decimal point or --decimal comma.", "can be read in two ways: %q is %s or %s",
			text, strings.ReplaceAll(text, ",", "."), strings.NewReplacer(",", "", ".", "").Replace(text))
	}
	group := ","
	if decimal == ',' {
		group = "."
	}
	plain := strings.ReplaceAll(strings.ReplaceAll(text, group, ""), string(decimal), ".")
	if strings.HasPrefix(plain, ".") {
		plain = "0" + plain
	}
	if value, err := strconv.ParseFloat(plain, 64); err != nil || math.IsInf(value, 0) {
		v.fail(lang.BadNumber, "Write digits with at most one decimal mark.", "is no number: %q", text)
	}
	return plain
}

// grouped matches numbers with blanks or apostrophes between thousands.
var grouped = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\d{1,3}([ ']\d{3})+([.,]\d+)?$`) })

func ungroup(text string) string {
	if grouped().MatchString(text) {
		return strings.NewReplacer(" ", "", "'", "").Replace(text)
	}
	return text
}

// stopsOf turns an optical density into stops. Densities are named in steps of 0.3 for a
// stop, which is log10 2 rounded.
func (v *value) stopsOf(density string) string {
	d, err := strconv.ParseFloat(density, 64)
	stops := d / 0.3
	if err != nil || math.Abs(stops*3-math.Round(stops*3)) > 0.02 {
		v.fail(lang.BadNumber, "Write the stops that it takes, as \"3 stops\".", "is neither a number of stops nor a density in thirds of one: %q", v.text)
	}
	whole, rest := int(math.Round(stops*3))/3, int(math.Round(stops*3))%3
	switch {
	case rest == 0:
		return strconv.Itoa(whole) + " stops"
	case whole == 0:
		return strconv.Itoa(rest) + "/3 stops"
	default:
		return strconv.Itoa(whole) + " " + strconv.Itoa(rest) + "/3 stops"
	}
}

// unitWords maps spellings of units in lists, in lower case, to that of the language. A
// spelling that the language knows needs no entry.
var unitWords = sync.OnceValue(func() map[string]string {
	index := map[string]string{}
	for unit, spellings := range map[string]string{
		"mm": "millimeter, millimetre, millimeters, millimetres, millimètre, millimètres, milímetro, milímetros, millimetro, millimetri",
		"cm": "cms, centimeter, centimetre, centimeters, centimetres, zentimeter, centimètre, centimètres, centímetro, centímetros, centimetro, centimetri",
		"m":  "mtr, mtrs, mt, meter, meters, metre, metres, mètre, mètres, metro, metros, metri",
		"in": `", '', inch, inches, ins, zoll, pouce, pouces, pulgada, pulgadas, pollice, pollici, duim`,
		"ft": "', foot, feet, fuss, fuß, pied, pieds, pie, pies, piede, piedi, voet",
		"g":  "gr, grs, gram, grams, gms, gramm, gramme, grammes, gramo, gramos, grammo, grammi",
		"kg": "kgs, kilo, kilos, kilogram, kilograms, kilogramm, kilogramme, kilogrammes, kilogramo, kilogramos, chilo, chili, chilogrammo, chilogrammi",
		// A Pfund, a livre and a pond are half a kilogram to some and a pound to others.
		"lb": "lbs, pound, pounds, libra, libras, libbra, libbre", "oz": "ounce, ounces, unze, unzen, once, onces, onza, onzas, oncia, once",
		"stops": "stop, ev, f-stop, f-stops, f stops, blende, blenden, blendenstufen, diaph, diaphs, il, paso, pasos",
		"%":     "percent, per cent, pct, prozent, pour cent, por ciento, per cento, procent",
		"f/":    "f, f/n, f no, f no., f/#, f-number", "T": "t, t-stop, t-number", "EUR": "€, euro, euros", "GBP": "£",
	} {
		for _, spelling := range words(spellings) {
			index[spelling] = unit
		}
	}
	return index
})

// perDay matches what says behind a price that it is for a day.
var perDay = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)\s*(?:/|per|a|pro|par|por|al)\s*(?:d|day|tag|jour|j|d[ií]a|giorno|dag)$`)
})

// unitOf reads a unit from a title or from behind a number. It is false if the unit does
// not have the dimension of the column, and without a column.
func unitOf(text string, c *column) (string, bool) {
	if c == nil || c.read == nil {
		return "", false
	}
	text = strings.TrimSuffix(strings.TrimSpace(text), ".")
	folded := fold(text)
	if c.dim == lang.Money {
		folded = perDay().ReplaceAllString(folded, "")
	}
	unit, ok := unitWords()[folded]
	if !ok {
		unit = folded
		if c.dim == lang.Money {
			unit = strings.ToUpper(folded)
		}
	}
	switch unit {
	case "f/", "T":
		return unit, c.dim == lang.Aperture
	}
	row, found := lang.FindUnit(unit)
	return unit, found && row.Dim == c.dim && !(c.dim == lang.Plain && unit != "%")
}
