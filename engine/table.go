package engine

import (
	"context"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/facts"
	"glassbrief/engine/kit"
	"glassbrief/lang"
)

// A Table is the judgement of every lens in every shot on one camera: what kits are
// chosen from. It is not changed once made.
type Table struct {
	Scenario *Scenario
	Camera   *catalog.Camera

	glass    []*glass
	inputs   []facts.ShotInput
	outcomes [][]Outcome // shots first
}

// Judge judges every lens of the catalogue in every shot, on the camera and with the
// workers of the options. It fails when the camera is no candidate, and with the
// context's error when the context ends.
func (s *Scenario) Judge(ctx context.Context, o Options) (*Table, error) {
	camera, err := s.camera(o.Camera)
	if err != nil {
		return nil, err
	}
	t := &Table{Scenario: s, Camera: camera, inputs: make([]facts.ShotInput, len(s.Shots))}
	if t.glass, err = s.glassOf(ctx, camera, o.Workers); err != nil {
		return nil, err
	}
	for i, shot := range s.Shots {
		t.inputs[i] = s.input(shot, camera)
	}
	t.outcomes, err = judgeAll(ctx, s.Shots, t.inputs, t.glass, o)
	if err != nil {
		return nil, err
	}
	return t, nil
}

// place gives the place of a lens, which must be in the table.
func (t *Table) place(lens string) int {
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

// KeptOut says by which limit of the scenario a lens cannot come even alone, or gives "".
func (t *Table) KeptOut(lens int, printer lang.Printer) string {
	return t.Scenario.Limits.keepsOut(t.glass[lens], printer)
}

// Eligible gives the table without the lenses that cannot come whatever the shots say,
// for they do not fit the camera or a limit keeps them out; with all when none can.
func (t *Table) Eligible() *Table {
	eligible := &Table{Scenario: t.Scenario, Camera: t.Camera, inputs: t.inputs, outcomes: make([][]Outcome, len(t.outcomes))}
	for j, g := range t.glass {
		must := slices.Contains(t.Scenario.Limits.Bring, g.lens.Name.Value)
		unfit := g.refusal != "" && !slices.ContainsFunc(t.outcomes, func(row []Outcome) bool { return row[j].Acceptable() })
		if !must && (unfit || t.KeptOut(j, lang.Printer{}) != "") {
			continue
		}
		eligible.glass = append(eligible.glass, g)
		for i, row := range t.outcomes {
			eligible.outcomes[i] = append(eligible.outcomes[i], row[j])
		}
	}
	if eligible.glass == nil {
		return t
	}
	return eligible
}

// With gives the table of the scenario with other shots, as many as it has; only those
// that are other ones are judged anew.
func (t *Table) With(shots []*Shot) *Table {
	s := *t.Scenario
	s.Shots = shots
	changed := &Table{Scenario: &s, Camera: t.Camera, glass: t.glass, inputs: slices.Clone(t.inputs), outcomes: slices.Clone(t.outcomes)}
	for i, shot := range shots {
		if shot != t.Scenario.Shots[i] {
			changed.inputs[i] = s.input(shot, t.Camera)
			changed.outcomes[i] = judgeShot(shot, &changed.inputs[i], t.glass)
		}
	}
	return changed
}

// WithShot gives the table with another shot in the place of one.
func (t *Table) WithShot(i int, shot *Shot) *Table {
	shots := slices.Clone(t.Scenario.Shots)
	shots[i] = shot
	return t.With(shots)
}

// WithoutShot gives the table without one shot.
func (t *Table) WithoutShot(i int) *Table {
	s := *t.Scenario
	s.Shots = slices.Delete(slices.Clone(s.Shots), i, i+1)
	return &Table{
		Scenario: &s, Camera: t.Camera, glass: t.glass,
		inputs: slices.Delete(slices.Clone(t.inputs), i, i+1), outcomes: slices.Delete(slices.Clone(t.outcomes), i, i+1),
	}
}

// A Choice is the kit chosen from a table, with the kits behind it.
type Choice struct {
	Kit     Kit
	Runners []Kit
	Proven  bool // no kit within the limits is better

	// When the search was cut short, another kit might leave less uncovered, by CoverGap
	// in weight, or have a higher mean, by Gap.
	Gap, CoverGap float64
	// Neighbours says that the kits behind are the best of those that differ from the
	// first by one lens, rather than the next best of all.
	Neighbours bool
}

// nodeLimit ends a search for a kit that takes seconds; the answer then says that it is
// not proven, and by how much a better one could exceed it.
const nodeLimit = 2_000_000

// Choose chooses the kit within limits, which may be other than those of the scenario.
// When they leave nothing to bring, it fails with [lang.Diagnostics] that say which of
// them contradict each other.
func (t *Table) Choose(limits Limits, o Options) (*Choice, error) {
	solution, err := kit.Search{NodeLimit: nodeLimit}.Solve(t.problem(&limits), o.Runners)
	if err != nil {
		return nil, t.contradiction(&limits, err)
	}
	choice := &Choice{
		Proven: solution.Proven, Gap: solution.Gap, CoverGap: solution.CoverGap, Neighbours: solution.Neighbours,
	}
	for i := range solution.Sets {
		switch k := t.kit(&solution.Sets[i]); {
		case i == 0:
			choice.Kit = k
		case len(k.Lenses) > 0: // an empty bag is no kit to compare with
			choice.Runners = append(choice.Runners, k)
		}
	}
	return choice, nil
}

// problem turns the outcomes into a choice of a kit.
func (t *Table) problem(limits *Limits) *kit.Problem {
	n, shots := len(t.glass), t.Scenario.Shots
	p := &kit.Problem{
		Scores: make([][]float64, n), Size: limits.Carry,
		Mass: make([]float64, n), Cost: make([]float64, n), Barred: make([]bool, n),
		MaxMass: limits.BagMass, MaxCost: limits.Rent,
	}
	for _, shot := range shots {
		p.Weights = append(p.Weights, shot.Weight)
	}
	for j, g := range t.glass {
		p.Mass[j], p.Cost[j] = g.input.Mass, g.input.DayRate
		p.Barred[j] = limits.Bars(g.lens)
		if slices.Contains(limits.Bring, g.lens.Name.Value) {
			p.Must = append(p.Must, j)
		} else if limits.BagMass > 0 && math.IsNaN(g.input.Mass) {
			p.Barred[j] = true // nobody knows whether it keeps within the bag
		}
		p.Scores[j] = make([]float64, len(shots))
		for i := range shots {
			if o := t.outcomes[i][j]; o.Acceptable() {
				p.Scores[j][i] = o.Score
			}
		}
	}
	return p
}

func (t *Table) kit(set *kit.Set) Kit {
	k := Kit{Left: set.Uncovered, Mean: set.Mean, Swaps: set.Swaps, Cost: set.Cost}
	for _, j := range set.Lenses {
		k.Lenses = append(k.Lenses, t.glass[j].lens.Name.Value)
		k.Mass += t.glass[j].input.Mass
	}
	for i, j := range set.Best {
		if j < 0 {
			k.Uncovered = append(k.Uncovered, t.Scenario.Shots[i].ID)
			k.Uses = append(k.Uses, "")
			continue
		}
		k.Uses = append(k.Uses, t.glass[j].lens.Name.Value)
	}
	return k
}

// measured gives the judgement of a lens in a shot with its facts and without the reasons,
// by their places.
func (t *Table) measured(shot, lens int) Judgement {
	var ofShot facts.Record
	facts.FillShot(&ofShot, &t.inputs[shot])
	return measured(t.glass[lens], t.outcomes[shot][lens], &ofShot)
}

func measured(g *glass, o Outcome, ofShot *facts.Record) Judgement {
	j := judgementOf(g, o)
	r := *ofShot
	fillAt(&r, g, o.Focal)
	j.Facts = &r
	return j
}

// explain gives the judgement behind an outcome in full.
func explain(g *glass, shot *Shot, o Outcome, ofShot *facts.Record, printer lang.Printer) Judgement {
	j := measured(g, o, ofShot)
	explained := shot.Rules.Explain(j.Facts, printer)
	j.Criteria, j.Known = explained.Criteria, explained.Known
	return j
}

// judgementOf gives the judgement behind an outcome without the reasons.
func judgementOf(g *glass, o Outcome) Judgement {
	return Judgement{Lens: g.lens.Name.Value, Fitting: g.fitting, Refusal: g.refusal, Score: o.Score, Standing: o.Standing, Missing: g.lacks}
}
