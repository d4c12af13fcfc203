package taste

import (
	"math"
	"slices"

	"glassbrief/engine/rules"
)

// A weigher gives the scores of all lenses in all shots by one weighting after another, for one
// goroutine. They are those of [Held.Score] bit for bit: what is the same for all weightings is laid
// side by side, and what does not apply stands there as a logarithm of 0.
type weigher struct {
	criteria int
	cells    []cell
	logs     []float64 // of the cells, criterion by criterion
	masks    []mask
	sums     []float64   // of the weights that count, by mask
	scores   [][]float64 // lenses first
}

// A cell is a lens that may be brought in a shot.
type cell struct {
	lens, shot, mask int
	own              float64 // logarithms by weights that stay, those of what a shot prefers
	limit            float64
}

// A mask says which criteria have a score that is known, and what of the weight stays.
type mask struct {
	counts []float64 // 1 or 0, by criterion
	own    float64
}

func newWeigher(h *Held) *weigher {
	w := &weigher{criteria: len(h.Criteria), scores: make([][]float64, len(h.Table.Lenses()))}
	for lens := range w.scores {
		w.scores[lens] = make([]float64, len(h.cells))
		for shot := range h.cells {
			if h.Table.Outcome(shot, lens).Acceptable() {
				w.add(lens, shot, h.cells[shot][lens])
			}
		}
	}
	w.sums = make([]float64, len(w.masks))
	return w
}

func (w *weigher) add(lens, shot int, u *rules.Unweighed) {
	m := mask{counts: make([]float64, w.criteria)}
	c := cell{lens: lens, shot: shot, limit: u.Limit}
	for k, a := range u.Aspects {
		counts, log := 0.0, 0.0
		if a.Applies {
			counts, log = float64(a.Known()), a.Log
		}
		if k < w.criteria {
			m.counts[k] = counts
			w.logs = append(w.logs, log)
		} else {
			m.own += a.Weight * counts
			c.own += a.Weight * log
		}
	}
	if c.mask = slices.IndexFunc(w.masks, func(other mask) bool {
		return other.own == m.own && slices.Equal(other.counts, m.counts)
	}); c.mask < 0 {
		c.mask = len(w.masks)
		w.masks = append(w.masks, m)
	}
	w.cells = append(w.cells, c)
}

// weigh gives the scores by some weights, lenses first, 0 for a lens that may not be brought. They are
// overwritten by the next call.
func (w *weigher) weigh(weights []float64) [][]float64 {
	for i := range w.masks {
		m := &w.masks[i]
		sum := 0.0
		for k, counts := range m.counts {
			sum += weights[k] * counts
		}
		w.sums[i] = sum + m.own
	}
	logs := w.logs
	for i := range w.cells {
		c := &w.cells[i]
		sum := 0.0
		for k, log := range logs[:w.criteria] {
			sum += weights[k] * log
		}
		logs = logs[w.criteria:]
		w.scores[c.lens][c.shot] = max(math.SmallestNonzeroFloat64, math.Exp((sum+c.own)/w.sums[c.mask])*c.limit)
	}
	return w.scores
}
