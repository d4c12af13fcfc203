package engine

import (
	"context"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/kit"
	"glassbrief/engine/rules"
)

// A Table is the judgement of every lens in every shot on one camera: what kits are
// chosen from. It is not changed once made.
type Table struct {
	Scenario *brief.Scenario
	Camera   *catalog.Camera

	glass    []*glass
	filters  *filterSets
	staged   []*staged
	outcomes [][]Outcome  // shots first
	least    []*leastBads // by shot
	rigs     *rigs
}

// Judge judges every lens of the catalogue in every shot, on the camera and with the
// workers of the options. It fails when the camera is no candidate, and with the
// context's error when the context ends.
func Judge(ctx context.Context, s *brief.Scenario, o Options) (*Table, error) {
	camera, err := s.Camera(o.Camera)
	if err != nil {
		return nil, err
	}
	t, err := prepare(ctx, s, camera, newFilterSets(s.Catalogue, camera), o)
	if err != nil {
		return nil, err
	}
	return t, t.judge(ctx, o, func(int) bool { return true })
}

// prepare gives the table of [Judge] with nothing judged.
func prepare(ctx context.Context, s *brief.Scenario, camera *catalog.Camera, filters *filterSets, o Options) (t *Table, err error) {
	t = &Table{Scenario: s, Camera: camera, filters: filters, staged: make([]*staged, len(s.Shots)), least: make([]*leastBads, len(s.Shots)), rigs: new(rigs)}
	for i, shot := range s.Shots {
		t.staged[i], t.least[i] = stage(s, camera, shot), new(leastBads)
	}
	if t.glass, err = glassOf(ctx, s, camera, t.filters, o.Workers); err != nil { // last, so that who helps is awake to judge
		return nil, err
	}
	return t, nil
}

// judge judges those lenses in all shots that are to be.
func (t *Table) judge(ctx context.Context, o Options, judged func(lens int) bool) error {
	var places []int
	var some []*glass
	for j, g := range t.glass {
		if judged(j) {
			places, some = append(places, j), append(some, g)
		}
	}
	var err error
	if t.outcomes, err = t.judgeAll(ctx, some, o); err != nil || len(some) == len(t.glass) {
		return err
	}
	for i, row := range t.outcomes {
		t.outcomes[i] = make([]Outcome, len(t.glass))
		for k, j := range places {
			t.outcomes[i][j] = row[k]
		}
	}
	return nil
}

// mayCome reports whether a lens may come as far as the limits go: of the others no judgement tells
// anything of a kit.
func (t *Table) mayCome(lens int) bool { return t.KeptOut(lens).By == "" }

// Place gives the place of a lens, -1 of one that is not in the table.
func (t *Table) Place(lens string) int {
	return slices.IndexFunc(t.glass, func(g *glass) bool { return g.lens.Name.Value == lens })
}

// Lenses gives the lenses of the table, in the order of the catalogue.
func (t *Table) Lenses() []*catalog.Lens {
	lenses := make([]*catalog.Lens, len(t.glass))
	for j, g := range t.glass {
		lenses[j] = g.lens
	}
	return lenses
}

// Outcome gives the judgement of a lens in a shot, by their places.
func (t *Table) Outcome(shot, lens int) Outcome { return t.outcomes[shot][lens] }

// KeptOut gives the limit of the scenario by which a lens cannot come even alone.
func (t *Table) KeptOut(lens int) Bar { return keepsOut(&t.Scenario.Limits, t.glass[lens]) }

// Explain gives the judgement of a lens in a shot with the reasons, by their places.
func (t *Table) Explain(shot, lens int) Judgement {
	j := t.explained(shot, lens)
	t.assume(&j, shot, true)
	return j
}

// explained is Explain without what becomes of the judgement under other values of figures.
func (t *Table) explained(shot, lens int) Judgement {
	j := explain(t.at(lens), t.staged[shot], t.shown(shot, lens))
	j.lens, j.KeptOut = lens, t.KeptOut(lens)
	return j
}

// Unweighed gives what the rules of a shot say of a lens whatever they weigh, by their places, with
// the set-up of its outcome held. The lens must not be excluded, for then it has no set-up. The record
// is memory to work in.
func (t *Table) Unweighed(shot, lens int, r *facts.Record) rules.Unweighed {
	st := t.staged[shot].of(t.glass[lens])
	st.recordWith(r, t.at(lens), t.outcomes[shot][lens])
	return st.shot.Rules.Unweighed(r)
}

// measured gives the judgement of a lens in a shot with its facts and without the reasons,
// by their places.
func (t *Table) measured(shot, lens int) Judgement {
	return measured(t.at(lens), t.staged[shot], t.shown(shot, lens))
}

func measured(g *glass, st *staged, o Outcome) Judgement {
	j := judgementOf(g, o)
	if j.Shot = st.shot; j.Shot.Room != nil {
		stood := *st.shot
		stood.Stand(o.At)
		j.Shot = &stood
	}
	j.Facts = new(facts.Record)
	st.recordWith(j.Facts, g, o)
	j.Filtering = &g.in(st.shot).filters.list[o.Filter]
	return j
}

// explain gives the judgement behind an outcome in full, which is one that is shown.
func explain(g *glass, st *staged, o Outcome) Judgement {
	j := measured(g, st, o)
	explained := st.of(g).shot.Rules.Explain(j.Facts)
	j.Criteria, j.Known = explained.Criteria, explained.Known
	return j
}

// judgementOf gives the judgement behind an outcome without the reasons.
func judgementOf(g *glass, o Outcome) Judgement {
	return Judgement{Lens: g.lens.Name.Value, Fitting: g.fitting, Refusal: g.refusal, Score: o.Score, Standing: o.Standing, Missing: g.lacks}
}

// Kit gives the kit of some lenses, whatever the limits: which is put on for each shot, and what
// that is worth.
func (t *Table) Kit(lenses []string) Kit {
	keep := make([]bool, len(t.glass))
	for _, name := range lenses {
		keep[t.Place(name)] = true
	}
	few := t.Only(keep)
	all := make([]int, len(few.glass))
	for k := range all {
		all[k] = k
	}
	set := kit.Of(few.problem(&brief.Limits{Rent: -1}), all)
	return few.kit(&set)
}

// weight gives the weight of all shots.
func (t *Table) weight() float64 {
	sum := 0.0
	for _, shot := range t.Scenario.Shots {
		sum += shot.Weight
	}
	return sum
}

// Weights gives the weights of the shots.
func (t *Table) Weights() []float64 {
	weights := make([]float64, len(t.Scenario.Shots))
	for i, shot := range t.Scenario.Shots {
		weights[i] = shot.Weight
	}
	return weights
}

// Scores gives what each lens scores in each shot, shots first; 0 where it may not be brought.
func (t *Table) Scores() [][]float64 {
	scores := make([][]float64, len(t.outcomes))
	for i, row := range t.outcomes {
		scores[i] = make([]float64, len(row))
		for j := range row {
			scores[i][j] = acceptable(row[j])
		}
	}
	return scores
}

// Assumed lists the places of the scenario's assumptions that bear on the lenses of the table.
func (t *Table) Assumed() []int {
	bears := make([]bool, len(t.Scenario.Assumed))
	for i := range t.staged {
		for j := range t.glass {
			for _, a := range t.assumedOf(i, j) {
				bears[a] = true
			}
		}
	}
	var all []int
	for a, yes := range bears {
		if yes {
			all = append(all, a)
		}
	}
	return all
}
