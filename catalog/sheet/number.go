package sheet

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"glassbrief/lang"
)

// A numbering is what is known of how a sheet writes numbers.
type numbering struct {
	point, comma bool // cells show that this is the decimal mark
}

// marked finds numbers with a mark in them.
var marked = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\d*(?:[.,]\d+)+`) })

// observe takes what a cell shows of the decimal mark.
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

// decimalOf gives the decimal mark that a number must have by itself, or 0 when it can be
// read in two ways: "1.250" and "1,250" may be 1.25 or 1250.
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

// number gives a number as the language writes it, with a point, or reports that it can be
// read in two ways or not at all.
func (v *value) number(text string) (string, bool) {
	if strings.Contains(text, "/") {
		return text, true // a fraction: 1 1/3
	}
	text = ungroup(text)
	if strings.ContainsAny(text, " '") {
		v.fail(lang.BadNumber, "Write digits with at most one decimal mark.", "holds two numbers or more: %q", text)
		return "", false
	}
	if !strings.ContainsAny(text, ".,") || v.exact {
		return text, true
	}
	decimal := decimalOf(text)
	if decimal == 0 {
		decimal = v.row.reading.decimal()
	}
	if decimal == 0 {
		one := strings.NewReplacer(",", ".").Replace(text)
		v.fail(lang.BadNumber, "Say which with --decimal point or --decimal comma.", "can be read in two ways: %q is %s or %s",
			text, one, strings.NewReplacer(",", "", ".", "").Replace(text))
		return "", false
	}
	group := ","
	if decimal == ',' {
		group = "."
	}
	plain := strings.ReplaceAll(strings.ReplaceAll(text, group, ""), string(decimal), ".")
	if strings.HasPrefix(plain, ".") {
		plain = "0" + plain
	}
	if value, err := strconv.ParseFloat(plain, 64); err != nil || math.IsInf(value, 0) || strings.Count(plain, ".") > 1 {
		v.fail(lang.BadNumber, "Write digits with at most one decimal mark.", "is no number: %q", text)
		return "", false
	}
	return plain, true
}

// grouped finds thousands set apart by blanks or apostrophes.
var grouped = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\d{1,3}([ ']\d{3})+([.,]\d+)?$`) })

func ungroup(text string) string {
	if grouped().MatchString(text) {
		return strings.NewReplacer(" ", "", "'", "").Replace(text)
	}
	return text
}

// stopsOfDensity turns an optical density into stops. Densities are named in steps of 0.3
// for a stop, which is log10 2 rounded.
func stopsOfDensity(v *value, density string) string {
	d, err := strconv.ParseFloat(density, 64)
	stops := d / 0.3
	if err != nil || math.Abs(stops*3-math.Round(stops*3)) > 0.02 {
		v.fail(lang.BadNumber, "Write the stops that it takes, as \"3 stops\".", "is neither a number of stops nor a density in thirds of one: %q", v.text)
		return ""
	}
	thirds := int(math.Round(stops * 3))
	switch whole, rest := thirds/3, thirds%3; {
	case rest == 0:
		return strconv.Itoa(whole) + " stops"
	case whole == 0:
		return strconv.Itoa(rest) + "/3 stops"
	default:
		return strconv.Itoa(whole) + " " + strconv.Itoa(rest) + "/3 stops"
	}
}
