package wording

import (
	"math"

	"glassbrief/engine/floor"
)

// WayKey says how [Strip] reads.
const WayKey = "= holds, - little to spare, / does not hold"

// Strip draws the way of a shot from its start to its end in so many cells, each as the worst of
// what happens in it. A piece that fails is never too short to be seen.
func Strip(w *floor.Way, cells int) string {
	worst := make([]floor.Hold, cells)
	for _, lane := range w.Lanes {
		for _, piece := range lane {
			from, to := 0, cells
			if w.Start != w.End {
				from = int(math.Floor(w.Place(piece.From)*float64(cells) + 1e-9))
				to = max(from+1, int(math.Ceil(w.Place(piece.To)*float64(cells)-1e-9)))
			}
			for cell := min(from, cells-1); cell < min(to, cells); cell++ {
				worst[cell] = max(worst[cell], piece.Hold)
			}
		}
	}
	strip := make([]byte, cells)
	for i, hold := range worst {
		strip[i] = "=-/"[hold]
	}
	return string(strip)
}
