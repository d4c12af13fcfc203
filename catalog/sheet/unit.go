package sheet

import (
	"strings"
	"sync"

	"glassbrief/lang"
)

// unitWords are units as people write them in lists, in small letters, with the spelling of
// the language. Those that the language knows too need no row.
var unitWords = sync.OnceValue(func() map[string]string {
	index := map[string]string{}
	for unit, spellings := range map[string]string{
		"mm": "millimeter, millimetre, millimeters, millimetres", "cm": "cms, centimeter, centimetre, centimeters, centimetres",
		"m": "mtr, mtrs, mt, meters, metres", "in": `", '', inch, inches, ins, zoll`, "ft": "', foot, feet, fuss, fuß",
		"g": "gr, grs, gram, grams, gms, gramm, grammes", "kg": "kgs, kilo, kilos, kilogram, kilograms, kilogramm",
		"lb": "lbs, pound, pounds, pfund", "oz": "ounce, ounces, unzen",
		"stops": "stop, ev, f-stop, f-stops, f stops, blenden, blende", "%": "percent, per cent, pct, prozent",
		"f/": "f, f/n, f no, f no., f/#, f-number", "T": "t, t-stop, t-number", "EUR": "€, euro, euros", "GBP": "£",
	} {
		for _, spelling := range words(spellings) {
			index[spelling] = unit
		}
	}
	return index
})

// unitOf reads a unit as it stands in a title or behind a number. It is false when it is
// none of the dimension of the column, and when there is no column.
func unitOf(text string, c *column) (string, bool) {
	if c == nil || c.read == nil {
		return "", false
	}
	text = strings.TrimSuffix(strings.TrimSpace(text), ".")
	folded := strings.ToLower(text)
	for _, suffix := range []string{"/day", "/d", "/tag", " per day", " a day", " / day"} {
		if c.dim == lang.Money {
			folded = strings.TrimSuffix(folded, suffix)
		}
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
