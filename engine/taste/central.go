package taste

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"glassbrief/engine"
)

// A middle finds central weights.
type middle struct {
	*drawing
	weigher *weigher
	series  *engine.Series
}

// of gives weights in the middle of some tastes for which a kit is best: their mean, of factors as a
// mean of logarithms, where the kit is best for it. The tastes that make a kit best need not lie around
// their mean, and then it is the taste nearest to it.
func (m *middle) of(kit, tastes []int) []float64 {
	mean := m.mean(tastes)
	if central := rounded(mean); m.isBest(kit, central) {
		return central
	}
	order, apart := slices.Clone(tastes), make(map[int]float64, len(tastes))
	for _, i := range tastes {
		for k, weight := range m.taste(i) {
			apart[i] += math.Pow((weight-mean[k])/m.inForce[k], 2)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(apart[a], apart[b]) })
	for _, i := range order {
		if central := rounded(m.taste(i)); m.isBest(kit, central) {
			return central
		}
	}
	return slices.Clone(m.taste(order[0])) // as it was drawn
}

func (m *middle) isBest(kit []int, weights []float64) bool {
	best, _ := m.series.Best(m.weigher.weigh(weights))
	return slices.Equal(best, kit)
}

// mean gives the mean of some tastes of one kind.
func (d *drawing) mean(tastes []int) []float64 {
	ofLogs := tastes[0] >= d.draws
	mean := make([]float64, len(d.inForce))
	for _, i := range tastes {
		for k, weight := range d.taste(i) {
			if ofLogs {
				weight = math.Log(weight)
			}
			mean[k] += weight / float64(len(tastes))
		}
	}
	if ofLogs {
		for k := range mean {
			mean[k] = math.Exp(mean[k])
		}
	}
	return mean
}

// leastWeight is the least that a rules file may give, so that central weights can stand in one.
const leastWeight = 0.0001

// rounded gives weights with three digits.
func rounded(weights []float64) []float64 {
	short := make([]float64, len(weights))
	for k, weight := range weights {
		short[k], _ = strconv.ParseFloat(strconv.FormatFloat(max(leastWeight, weight), 'g', 3, 64), 64)
	}
	return short
}

// mark finds the criterion that tells some tastes over all weightings from all of them. The weight of
// one, as a share of the even one, has about a mean of 1 and a deviation of 1, and the mean of m tastes
// one of 1/√m: what lies within three of these is chance.
func (d *drawing) mark(tastes []int) *Mark {
	if len(tastes) == 0 {
		return nil
	}
	const chance = 3
	even := d.sum / float64(len(d.scored))
	mean := d.mean(tastes)
	var best *Mark
	for _, k := range d.scored {
		times := mean[k] / even
		if math.Abs(times-1) < chance/math.Sqrt(float64(len(tastes))) {
			continue
		}
		if best == nil || math.Abs(math.Log(times)) > math.Abs(math.Log(best.Times)) {
			best = &Mark{d.held.Criteria[k], times}
		}
	}
	return best
}
