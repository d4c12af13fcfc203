package travel

import (
	"encoding/json"
	"math"
	"strconv"

	"glassbrief/lang"
)

// A Header begins every object, so that programs know what they read.
type Header struct {
	Schema string `json:"schema"`
}

// HeaderOf gives the header of what a verb gives.
func HeaderOf(verb string) Header { return Header{"glassbrief/" + verb + "/1"} }

// Number is a JSON number with nine significant digits: more than any formula here is
// good for, and few enough to be the same on every machine. What is unknown or without
// bound is null.
type Number float64

// MarshalJSON writes the number.
func (n Number) MarshalJSON() ([]byte, error) { return []byte(n.text()), nil }

func (n Number) text() string {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "null"
	}
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 9, 64), 64) // what FormatFloat wrote
	text, _ := json.Marshal(x)                                        // of a finite number
	return string(text)
}

// UnmarshalJSON reads null as unknown.
func (n *Number) UnmarshalJSON(text []byte) error {
	if string(text) == "null" {
		*n = Number(math.NaN())
		return nil
	}
	return json.Unmarshal(text, (*float64)(n))
}

// In gives a quantity in SI units as a number of the unit, a number of the trade as it is.
func In(value float64, unit string) Number {
	switch unit {
	case "", "f/", "T", "EV":
		return Number(value)
	}
	row, ok := lang.FindUnit(unit)
	if !ok {
		panic("no unit " + unit)
	}
	return Number(value / row.Factor)
}

// Unbounded reports whether a value has no bound; its number is then null.
func Unbounded(value float64) bool { return math.IsInf(value, 0) }

// List makes an empty list of none, for JSON tells them apart.
func List(names []string) []string {
	if names == nil {
		return []string{}
	}
	return names
}

// Numbers gives values as they are; an empty list for none.
func Numbers(values []float64) []Number {
	list := make([]Number, len(values))
	for i, value := range values {
		list[i] = Number(value)
	}
	return list
}
