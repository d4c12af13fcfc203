package lang

import (
	"math"
	"strconv"
	"strings"
)

// System is the system of units in which quantities are printed for people.
type System uint8

const (
	Metric System = iota
	Imperial
)

// A Printer writes quantities for people. Lens sizes stay in millimetres in both
// systems, as the trade has them; distances, masses, speeds and light follow System.
type Printer struct {
	System System
}

// Quantity writes value, held in SI units, in unit: a canonical spelling of the table
// of units, "f/", "T", "EV" (a stop number, not lux), or "" for a plain number.
// NaN is written "unknown" and an infinite value "infinity".
func (p Printer) Quantity(value float64, unit string) string {
	switch {
	case math.IsNaN(value):
		return "unknown"
	case math.IsInf(value, 1):
		return "infinity"
	case math.IsInf(value, -1):
		return "-infinity"
	}
	switch unit {
	case "":
		return significant(value, 3)
	case "f/", "T":
		return unit + stopNumber(value)
	case "EV":
		return unit + fixed(value, 1)
	case "%":
		return share(value*100) + "%"
	case "m":
		return p.distance(value)
	case "stops":
		return stops(value)
	case "cm":
		return p.centimetres(value)
	}
	if p.System == Imperial {
		value, unit = imperial(value, unit)
	}
	row, ok := FindUnit(unit)
	if !ok {
		return significant(value, 3) + " " + unit
	}
	scaled := value / row.Factor
	if row.Dim == Money || row.Dim == Wage {
		return fixed(scaled, 2) + " " + unit
	}
	switch unit {
	case "mm":
		return significantBelow(scaled, 3, 2) + " mm"
	case "lx", "fc": // a meter tells no more
		if size := math.Abs(scaled); size >= 1000 {
			step := math.Pow(10, math.Floor(math.Log10(size))-2)
			scaled = math.Round(scaled/step) * step
		}
	case "deg":
		return fixed(scaled, min(3, decimalsOf(scaled, 3))) + " deg"
	}
	return significant(scaled, 3) + " " + unit
}

// Within writes a quantity that is known to off either way, both in SI units: in no more digits than
// [Printer.Quantity], and none behind the first digit of off. An off that is unknown, without bound
// or not above zero takes no digit away.
func (p Printer) Within(value, off float64, unit string) string {
	text := p.Quantity(value, unit)
	at := strings.IndexFunc(text, func(r rune) bool { return r >= '0' && r <= '9' })
	if !(off > 0) || math.IsInf(off, 1) || math.IsNaN(value) || at < 0 || math.IsInf(value, 0) {
		return text
	}
	end := at
	for end < len(text) && (text[end] >= '0' && text[end] <= '9' || text[end] == '.') {
		end++
	}
	if p.System == Imperial && unit == "m" {
		for _, step := range [...]float64{120 * inch, 12 * inch, inch} {
			if rounded := roundedTo(value, step); off >= step && rounded != 0 {
				return p.distance(rounded)
			}
		}
		return text
	}
	shown, err := strconv.ParseFloat(text[at:end], 64)
	if err != nil || shown == 0 {
		return text
	}
	// The unit that is shown in SI units, by the digits: they are those of the value.
	step := math.Pow(10, math.Floor(math.Log10(off*shown/math.Abs(value))+1e-9))
	for roundedTo(shown, step) == 0 {
		step /= 10 // what may be nothing is not said to be
	}
	decimals := 0
	if _, fraction, ok := strings.Cut(text[at:end], "."); ok {
		decimals = len(fraction)
	}
	if decimals = min(decimals, max(0, -int(math.Round(math.Log10(step))))); step < math.Pow(10, -float64(decimals)) {
		return text
	}
	return text[:at] + strconv.FormatFloat(roundedTo(shown, step), 'f', decimals, 64) + text[end:]
}

func roundedTo(value, step float64) float64 { return math.Round(value/step) * step }

const inch = 0.0254 // m

// Given writes a quantity as a file gives it, with [About] before a rough one.
func (p Printer) Given(q Quantity) string {
	text := p.Quantity(q.OrNaN(), q.Unit)
	if q.Rough {
		return About + " " + text
	}
	return text
}

// List writes the values of a list with commas between, or "unknown" when it was not given.
func (p Printer) List(l List) string {
	if !l.Known() {
		return p.Quantity(math.NaN(), "")
	}
	shown := make([]string, len(l.Items))
	for i, q := range l.Items {
		shown[i] = p.Quantity(q.Value, q.Unit)
	}
	return strings.Join(shown, ", ")
}

// imperial gives the value and unit to show in place of a metric unit. Units that the
// trade uses everywhere come back as they are.
func imperial(value float64, unit string) (float64, string) {
	switch unit {
	case "kg", "g":
		return value, "lb"
	case "m/s":
		return value, "ft/s"
	case "lx":
		return value, "fc"
	}
	return value, unit
}

// distance writes a distance as a tape is read. Metric: to the millimetre below half a metre,
// the centimetre below 10 m, the decimetre below 100 m, the metre beyond. Imperial: feet and
// inches, in eighths of an inch below 3 ft, halves below 10 ft, whole inches beyond.
func (p Printer) distance(metres float64) string {
	if p.System == Metric {
		switch size := math.Abs(metres); {
		case size < 0.4995:
			// Close focus is a matter of millimetres, but "0.380 m" says no more than "0.38 m".
			return strings.TrimSuffix(strconv.FormatFloat(metres, 'f', 3, 64), "0") + " m"
		case size < 10:
			return strconv.FormatFloat(metres, 'f', 2, 64) + " m"
		case size < 100:
			return strconv.FormatFloat(metres, 'f', 1, 64) + " m"
		}
		return strconv.FormatFloat(metres, 'f', 0, 64) + " m"
	}
	const foot = 0.3048
	lead := ""
	if metres < 0 {
		lead, metres = "-", -metres
	}
	step := 8.0
	switch {
	case metres >= 10*foot:
		step = 1
	case metres >= 3*foot:
		step = 2
	}
	steps := int64(math.Round(metres / inch * step))
	perFoot := int64(12 * step)
	feet, rest := steps/perFoot, steps%perFoot
	switch {
	case feet == 0:
		return lead + mixed(rest, int64(step)) + "in"
	case rest == 0:
		return lead + strconv.FormatInt(feet, 10) + "ft"
	}
	return lead + strconv.FormatInt(feet, 10) + "ft " + mixed(rest, int64(step)) + "in"
}

// centimetres writes a short length as a tape is read: to the millimetre below 10 cm, the
// centimetre beyond. Imperial: as a distance.
func (p Printer) centimetres(metres float64) string {
	if p.System == Imperial {
		return p.distance(metres)
	}
	if math.Abs(metres) < 0.0995 {
		return fixed(metres*100, 1) + " cm"
	}
	return fixed(metres*100, 0) + " cm"
}

// mixed writes over/under, which is not negative, as a whole number and a fraction in its
// lowest terms: "1 1/2", "1/2" or "1".
func mixed(over, under int64) string {
	whole, over := over/under, over%under
	if over == 0 {
		return strconv.FormatInt(whole, 10)
	}
	for over%2 == 0 && under%2 == 0 {
		over, under = over/2, under/2
	}
	fraction := strconv.FormatInt(over, 10) + "/" + strconv.FormatInt(under, 10)
	if whole == 0 {
		return fraction
	}
	return strconv.FormatInt(whole, 10) + " " + fraction
}

// stopNumber writes an f-number or T-number as lens barrels do: one decimal below 10.
func stopNumber(n float64) string {
	if n < 10 {
		return fixed(n, 1)
	}
	return fixed(n, 0)
}

// stops writes a number of stops in thirds when it is one, else to a tenth.
func stops(value float64) string {
	thirds := math.Round(value * 3)
	if math.Abs(value*3-thirds) > 0.02 {
		return fixed(value, 1) + " stops"
	}
	text := mixed(int64(math.Abs(thirds)), 3)
	if thirds < 0 {
		text = "-" + text
	}
	if size := math.Abs(thirds); size > 0 && size <= 3 {
		return text + " stop"
	}
	return text + " stops"
}

// fixed writes a number with at most decimals digits behind the point.
func fixed(value float64, decimals int) string {
	text := strconv.FormatFloat(value, 'f', decimals, 64)
	if decimals > 0 {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// share writes a number of per cent: whole from a hundred on, to a tenth from one on, and to
// a hundredth below, so that what rounding leaves of nothing is nothing.
func share(percent float64) string {
	switch size := math.Abs(percent); {
	case size >= 99.95:
		return fixed(percent, 0)
	case size >= 0.995:
		return fixed(percent, 1)
	}
	return fixed(percent, 2)
}

// significant writes a number with n significant digits and no exponent.
func significant(value float64, n int) string { return fixed(value, decimalsOf(value, n)) }

// decimalsOf gives how many digits behind the point n significant digits take.
func decimalsOf(value float64, n int) int {
	if value == 0 {
		return 0
	}
	return max(0, n-1-int(math.Floor(math.Log10(math.Abs(value)))))
}

// significantBelow writes a number below 1 with n significant digits, and others with at
// most decimals digits behind the point.
func significantBelow(value float64, n, decimals int) string {
	if math.Abs(value) < 1 {
		return significant(value, n)
	}
	return fixed(value, decimals)
}
