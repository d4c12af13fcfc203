package engine

import (
	"slices"

	"glassbrief/catalog"
)

// WithLens gives the table with another lens in the place of that of the same name, which
// must be in it; only that one is judged anew.
func (t *Table) WithLens(lens *catalog.Lens) *Table {
	s := *t.Scenario
	s.Catalogue = s.Catalogue.With(lens)
	j := t.place(lens.Name.Value)
	fitted := s.fit(lens, t.Camera)
	changed := &Table{Scenario: &s, Camera: t.Camera, glass: slices.Clone(t.glass), inputs: t.inputs, outcomes: make([][]Outcome, len(t.outcomes))}
	changed.glass[j] = fitted
	for i, row := range t.outcomes {
		changed.outcomes[i] = slices.Clone(row)
		changed.outcomes[i][j] = judgeShot(s.Shots[i], &t.inputs[i], []*glass{fitted})[0]
	}
	return changed
}
