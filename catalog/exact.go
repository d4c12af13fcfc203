package catalog

import (
	"math"
	"strconv"
)

// exact writes a number with as many digits as it takes to read the same one back, and
// without the exponent that the language does not have.
func exact(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// Millimetres writes a length in metres in millimetres, to the millionth of one: what
// lies below is the rounding of the conversion.
func Millimetres(metres float64) string { return exact(math.Round(metres*1e9)/1e6) + "mm" }
