package lang

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// compareSceneNumbers orders scene numbers as a script does: 1, 1A, 2, 10, A10. They are
// names and not numbers, so any text has its place.
func compareSceneNumbers(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		m, n := digits(x), digits(y)
		var order int
		if m > 0 && n > 0 {
			order = compareDigits(x[:m], y[:n])
		} else if m, n = 1, 1; x[0] != y[0] {
			order = cmp.Compare(x[0], y[0])
		}
		if order != 0 {
			return order
		}
		x, y = x[m:], y[n:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(a, b))
}

// compareDigits orders two runs of digits of any length by their value.
func compareDigits(a, b string) int {
	a, b = strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
	return cmp.Or(cmp.Compare(len(a), len(b)), strings.Compare(a, b))
}

// NearestSceneNumber gives the scene number nearest to one that does not exist, or "" when
// there are none. Of the two neighbours in the order of the script it is the one whose
// number differs less.
func NearestSceneNumber(number string, numbers []string) string {
	if len(numbers) == 0 {
		return ""
	}
	sorted := slices.SortedFunc(slices.Values(numbers), compareSceneNumbers)
	at, _ := slices.BinarySearchFunc(sorted, number, compareSceneNumbers)
	below, above := sorted[max(0, at-1)], sorted[min(at, len(sorted)-1)]
	if distance(number, above) < distance(number, below) {
		return above
	}
	return below
}

// distance tells how far two scene numbers are apart by the first number in each.
func distance(a, b string) float64 { return math.Abs(firstNumber(a) - firstNumber(b)) }

func firstNumber(text string) float64 {
	at := strings.IndexAny(text, "0123456789")
	if at < 0 {
		return math.Inf(1)
	}
	value, _ := strconv.ParseFloat(text[at:at+digits(text[at:])], 64) // infinite when it is too long
	return value
}
