package taste

import (
	"context"
	"slices"

	"glassbrief/engine"
)

// EachBest gives the weights of all tastes drawn, and the lenses of the kit found for each, sorted.
func EachBest(h *Held, draws int) (weights [][]float64, kits [][]string, err error) {
	d := newDrawing(h, draws)
	if err := d.solve(context.Background(), engine.Options{}); err != nil {
		return nil, nil, err
	}
	lenses := h.Table.Lenses()
	for i, best := range d.best {
		var names []string
		for _, lens := range best {
			names = append(names, lenses[lens].Name.Value)
		}
		slices.Sort(names)
		weights, kits = append(weights, d.taste(i)), append(kits, names)
	}
	return weights, kits, nil
}
