package report

import (
	"math"

	"glassbrief/lang"
)

const foot = 0.3048

// niceLength gives a length near to the wanted one that reads well: 1, 2 or 5 times a
// power of ten in metres, or in feet, of which those below one are halves and quarters.
func niceLength(wanted float64, p lang.Printer) float64 {
	unit := 1.0
	if p.System == lang.Imperial {
		unit = foot
		if wanted < foot {
			return foot * math.Exp2(max(-4, math.Round(math.Log2(wanted/foot))))
		}
	}
	power := math.Pow(10, math.Floor(math.Log10(wanted/unit)))
	for _, step := range []float64{1, 2, 5, 10} {
		// The middle between neighbours on a scale of ratios.
		if wanted/unit/power <= step*math.Sqrt2 || step == 10 {
			return step * power * unit
		}
	}
	return wanted
}
