package engine

import (
	"cmp"
	"context"
	"math"
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

// Weights gives the weights of the shots.
func (t *Table) Weights() []float64 {
	weights := make([]float64, len(t.Scenario.Shots))
	for i, shot := range t.Scenario.Shots {
		weights[i] = shot.Weight
	}
	return weights
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
