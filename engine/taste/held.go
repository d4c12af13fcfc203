package taste

import (
	"context"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/parallel"
	"glassbrief/engine/rules"
)

// Held is the judgement of every lens in every shot of a table with the set-ups held, ready to be
// weighed anew. It is not changed once made.
type Held struct {
	Table *engine.Table
	// Criteria are those of the rules in force, by which all weights here are ordered. What a shot
	// itself prefers is beside them, with the weight that it has.
	Criteria []*rules.Criterion
	cells    [][]*rules.Unweighed // shots first; nil where a lens is excluded
}

// Hold takes the judgements of a table apart. It fails with the context's error when the context ends.
func Hold(ctx context.Context, t *engine.Table, o engine.Options) (*Held, error) {
	shots, lenses := len(t.Scenario.Shots), len(t.Lenses())
	h := &Held{Table: t, Criteria: t.Scenario.Rules.Criteria(), cells: make([][]*rules.Unweighed, shots)}
	for i := range h.cells {
		h.cells[i] = make([]*rules.Unweighed, lenses)
	}
	err := parallel.For(ctx, lenses, o.Workers, func(lens int) {
		var record facts.Record
		for shot := range h.cells {
			if t.Outcome(shot, lens).Standing != engine.Excluded {
				u := t.Unweighed(shot, lens, &record)
				h.cells[shot][lens] = &u
			}
		}
	})
	return h, err
}

// At gives a lens in a shot, by their places in the table; nil where it is excluded.
func (h *Held) At(shot, lens int) *rules.Unweighed { return h.cells[shot][lens] }

// Weights gives the weights in force.
func (h *Held) Weights() []float64 {
	weights := make([]float64, len(h.Criteria))
	for k, c := range h.Criteria {
		weights[k] = c.Weight
	}
	return weights
}

// Score gives what a lens scores in a shot by other weights, 0 where it may not be brought.
func (h *Held) Score(shot, lens int, weights []float64) float64 {
	if !h.Table.Outcome(shot, lens).Acceptable() {
		return 0
	}
	return h.cells[shot][lens].Judge(weights).Score
}
