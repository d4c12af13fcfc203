package engine

import (
	"cmp"
	"context"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
)

// Tables that are made from another, with as little judged anew as can be.

// With gives the table of the scenario with other shots, as many as it has. Only shots that
// changed are judged anew.
func (t *Table) With(shots []*brief.Shot) *Table {
	s := *t.Scenario
	s.Shots = shots
	return t.of(&s, false)
}

// Under gives the table with other values of assumed figures. Only what they bear on is judged anew.
func (t *Table) Under(values brief.Values) *Table {
	return t.Otherwise(values, func(shots []*brief.Shot) []*brief.Shot { return shots })
}

// Otherwise gives the table with other values of assumed figures and, beside that, what turn makes of
// the shots, as many as there are.
func (t *Table) Otherwise(values brief.Values, turn func([]*brief.Shot) []*brief.Shot) *Table {
	if len(values) == 0 {
		return t.With(turn(t.Scenario.Shots))
	}
	s, floor := t.Scenario.Under(values), false
	s.Shots = turn(s.Shots)
	for i := range values {
		switch t.Scenario.Assumed[i].Of {
		case brief.OfCamera, brief.OfRig, brief.OfMount, brief.OfAdapter:
			floor = true
		}
	}
	return t.of(s, floor)
}

// of gives the table of a scenario that differs from that of this one in some shots, in lenses of the
// same names, and, where floor is set, in what they all stand on: camera, rig, mounts and adapters.
func (t *Table) of(s *brief.Scenario, floor bool) *Table {
	changed := *t
	changed.Scenario, changed.staged, changed.outcomes, changed.least = s, slices.Clone(t.staged), make([][]Outcome, len(t.outcomes)), slices.Clone(t.least)
	var anew []int // lenses
	if floor || s.Catalogue != t.Scenario.Catalogue {
		changed.Camera, changed.glass, changed.rigs = cameraOf(s, t.Camera), slices.Clone(t.glass), new(rigs)
		for j, g := range t.glass {
			if lens, _ := s.Catalogue.Lenses.Lookup(g.lens.Name.Value); floor || lens != g.lens {
				changed.glass[j] = fit(s, lens, changed.Camera, t.filters)
				anew = append(anew, j)
			}
		}
	}
	for i, shot := range s.Shots {
		if floor || anew != nil || shot != t.Scenario.Shots[i] {
			changed.least[i] = new(leastBads)
		}
		if floor || shot != t.Scenario.Shots[i] {
			changed.staged[i] = stage(s, changed.Camera, shot)
			changed.outcomes[i] = changed.judgeShot(changed.staged[i], changed.glass)
			continue
		}
		if changed.outcomes[i] = t.outcomes[i]; anew != nil {
			changed.outcomes[i] = slices.Clone(t.outcomes[i])
		}
		for _, j := range anew {
			changed.outcomes[i][j] = changed.judgeShot(changed.staged[i], changed.glass[j:j+1])[0]
		}
	}
	return &changed
}

// Follow gives the table of a scenario that differs from that of t in its shots and its expectations at the most: from says
// for each shot of s which shot of t says the same, or is below 0. Only those that none does are judged. It
// fails with the error of the context when that ends.
func (t *Table) Follow(ctx context.Context, s *brief.Scenario, from []int) (*Table, error) {
	changed := *t
	changed.Scenario, changed.staged, changed.outcomes, changed.least = s, make([]*staged, len(s.Shots)), make([][]Outcome, len(s.Shots)), make([]*leastBads, len(s.Shots))
	for i, shot := range s.Shots {
		if from[i] >= 0 {
			changed.staged[i], changed.outcomes[i], changed.least[i] = t.staged[from[i]], t.outcomes[from[i]], t.least[from[i]]
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		changed.staged[i], changed.least[i] = stage(s, t.Camera, shot), new(leastBads)
		changed.outcomes[i] = t.judgeShot(changed.staged[i], t.glass)
	}
	return &changed, nil
}

// WithShot gives the table with another shot in the place of one.
func (t *Table) WithShot(i int, shot *brief.Shot) *Table {
	shots := slices.Clone(t.Scenario.Shots)
	shots[i] = shot
	return t.With(shots)
}

// Weighing gives the table with another weight of a shot, which changes no judgement.
func (t *Table) Weighing(i int, weight float64) *Table {
	s, changed, shot := *t.Scenario, *t, *t.Scenario.Shots[i]
	shot.Weight = weight
	s.Shots = slices.Clone(s.Shots)
	s.Shots[i] = &shot
	changed.Scenario = &s
	return &changed
}

// WithoutShot gives the table without one shot.
func (t *Table) WithoutShot(i int) *Table {
	s, changed := *t.Scenario, *t
	s.Shots = slices.Delete(slices.Clone(s.Shots), i, i+1)
	changed.Scenario = &s
	changed.staged, changed.outcomes = slices.Delete(slices.Clone(t.staged), i, i+1), slices.Delete(slices.Clone(t.outcomes), i, i+1)
	changed.least = slices.Delete(slices.Clone(t.least), i, i+1)
	return &changed
}

// WithLens gives the table with a lens in the place of the one of the same name, which must
// be in it. Only that lens is judged anew.
func (t *Table) WithLens(lens *catalog.Lens) *Table {
	s := *t.Scenario
	s.Catalogue = s.Catalogue.With(lens)
	return t.of(&s, false)
}

// WithScores gives the table with other scores of the lenses that may be brought, shots first, with
// their set-ups held.
func (t *Table) WithScores(scores [][]float64) *Table {
	changed := *t
	changed.outcomes = make([][]Outcome, len(t.outcomes))
	for i, row := range t.outcomes {
		changed.outcomes[i] = slices.Clone(row)
		for j := range row {
			if row[j].Acceptable() {
				changed.outcomes[i][j].Score = scores[i][j]
			}
		}
	}
	return &changed
}

// WithPrices gives the table of the scenario with other prices of minutes and money.
func (t *Table) WithPrices(p brief.Prices) *Table {
	s, changed := *t.Scenario, *t
	s.Prices = p
	changed.Scenario = &s
	return &changed
}

// WithLimits gives the table of the scenario with other limits of the kit.
func (t *Table) WithLimits(l brief.Limits) *Table {
	s, changed := *t.Scenario, *t
	s.Limits = l
	changed.Scenario = &s
	return &changed
}

// Eligible gives the table without the lenses that cannot come whatever the shots say: those
// that do not fit the camera, and those that a limit keeps out. When no lens can come, the
// table stays as it is.
func (t *Table) Eligible() *Table {
	may := make([]bool, len(t.glass))
	for j, g := range t.glass {
		must := slices.Contains(t.Scenario.Limits.Bring, g.lens.Name.Value)
		unfit := g.refusal != "" && !slices.ContainsFunc(t.outcomes, func(row []Outcome) bool { return row[j].Acceptable() })
		may[j] = must || !unfit && (t.KeptOut(j).By == "" || t.mayBeLight(j))
	}
	if !slices.Contains(may, true) {
		return t
	}
	return t.Only(may)
}

// mayBeLight reports whether a lens is kept out as too heavy for the bag, and would not be at the low end
// of what its mass may be.
func (t *Table) mayBeLight(lens int) bool {
	if bar := t.KeptOut(lens); bar.By != "bag" || bar.Lacks != "" {
		return false
	}
	of := t.glass[lens].lens
	for _, i := range t.Scenario.AssumedAbout(brief.OfLens, of.Name.Value) {
		if a := &t.Scenario.Assumed[i]; a.Keyword == "mass" && a.Low+t.glass[lens].fitting.Mass <= t.Scenario.Limits.BagMass {
			return true
		}
	}
	return false
}

// Foremost gives the table with some lenses and those that score best beside them, as many as
// most; the table itself when it holds no more.
func (t *Table) Foremost(lenses []string, most int) *Table {
	if len(t.glass) <= most {
		return t
	}
	order, worth := make([]int, len(t.glass)), make([]float64, len(t.glass))
	for j, g := range t.glass {
		order[j] = j
		for i, shot := range t.Scenario.Shots {
			worth[j] += shot.Weight * acceptable(t.outcomes[i][j])
		}
		if slices.Contains(lenses, g.lens.Name.Value) {
			worth[j] = math.Inf(1)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(worth[b], worth[a]) })
	few := make([]bool, len(t.glass))
	for _, j := range order[:most] {
		few[j] = true
	}
	return t.Only(few)
}

// Only gives the table with some of its lenses.
func (t *Table) Only(lenses []bool) *Table {
	some := *t
	some.glass, some.outcomes = nil, make([][]Outcome, len(t.outcomes))
	for j, keep := range lenses {
		if !keep {
			continue
		}
		some.glass = append(some.glass, t.glass[j])
		for i := range some.outcomes {
			some.outcomes[i] = append(some.outcomes[i], t.outcomes[i][j])
		}
	}
	some.keepFitted()
	return &some
}
