package engine

import (
	"cmp"
	"context"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/parallel"
	"glassbrief/engine/rules"
)

// Options are what a caller may choose beside the scenario. The zero value is ready for
// use.
type Options struct {
	Camera  string // one of the scenario's candidates; "" for the first
	Runners int    // kits to report behind the best
	Workers int    // 0 for one for each processor
	Explain int    // how many lenses of each ranking to explain beside those of the kits; 0 for all, or [KitsAlone]
	// Progress is told, by one worker or another, how many judgements of how many are made;
	// nil for nobody.
	Progress func(done, total int)
}

// KitsAlone as [Options.Explain] explains the lenses of the kits alone.
const KitsAlone = -1

// A Recommendation is the answer: the kit, and how every lens does in every shot.
type Recommendation struct {
	Scenario *brief.Scenario
	Camera   *catalog.Camera
	Choice
	Shots   []ShotAnswer
	LeftOut []LeftOut // in the order of the catalogue
	Table   *Table    // of all judgements, for questions around the answer
}

// A Kit is a choice of lenses.
type Kit struct {
	Lenses    []string
	Mean      float64  // weighted mean of each shot's best score, 0 for an uncovered shot
	Uncovered []string // shots without an acceptable lens
	Left      float64  // weight of those
	Swaps     int      // lens changes through the day, in shooting order
	Mass      float64  // kg of the lenses; NaN when one is unknown
	Cost      float64  // money a day; NaN when one is unknown
	Uses      []string // the lens for each shot, "" for an uncovered one
}

// A ShotAnswer is the ranking of the lenses in one shot.
type ShotAnswer struct {
	// Shot is that of the scenario; where the place to stand is free, with the camera where
	// it stands with the lens of the kit, or with the first of the ranking.
	Shot *brief.Shot
	// Ranking has the best first, then the undecided, then the excluded: where all are
	// explained, those first that come nearest to doing the shot.
	Ranking []Judgement
	Use     *Judgement // the lens of the kit, nil when none is acceptable
}

// Place gives the place of the shot in a scenario that has it: in a free place, Shot is another
// than the scenario's own.
func (a *ShotAnswer) Place(s *brief.Scenario) int {
	return slices.IndexFunc(s.Shots, func(shot *brief.Shot) bool { return shot.ID == a.Shot.ID })
}

// A Judgement is one lens in one shot.
type Judgement struct {
	Lens     string
	Fitting  catalog.Fitting
	Refusal  string  // why the lens does not fit the camera; "" when it does
	Score    float64 // 0..1, of what is known
	Standing Standing
	Known    float64  // share of the weight of the criteria that is known
	Missing  []string // fields of the lens that the catalogue does not give and that nothing stands in for
	KeptOut  Bar      // by which the lens cannot come even alone
	Rests    bool     // on figures that are assumed
	lens     int      // its place in the table
	near     float64  // of an excluded lens, how near it comes to doing the shot
	worlds   *Worlds[*Judgement]
	spread   func() ScoreSpread // nil without worlds
	moves    func() bool        // likewise
	// All are nil for a lens that is ranked without being explained.
	Criteria []rules.Finding
	Facts    *facts.Record
	Shot     *brief.Shot // in a free place, with the camera where it stands with this lens
	// Filtering is what takes light away in the set-up, nil with the facts.
	Filtering *Filtering
}

// Vetoes gives the vetoes of all criteria.
func (j *Judgement) Vetoes() []rules.Raised {
	var all []rules.Raised
	for _, finding := range j.Criteria {
		all = append(all, finding.Raised...)
	}
	return all
}

// Fact gives the value of a fact, NaN when it is unknown. All facts of a lens that is not
// explained are unknown.
func (j *Judgement) Fact(id facts.ID) float64 {
	if j.Facts == nil {
		return math.NaN()
	}
	return j.Facts.Value[id]
}

// Field gives the width and height, in metres, of what the picture shows at the nearest
// subject.
func (j *Judgement) Field() (width, height float64) {
	height = j.Fact(facts.FieldNear)
	return height * j.Fact(facts.SpreadWidth) / j.Fact(facts.SpreadHeight), height
}

// Recommend judges every lens in every shot and chooses the kit. It fails with
// [lang.Diagnostics] when the camera is no candidate or the limits leave nothing to bring,
// and with the context's error when the context ends.
func Recommend(ctx context.Context, s *brief.Scenario, o Options) (*Recommendation, error) {
	t, err := Judge(ctx, s, o)
	if err != nil {
		return nil, err
	}
	choice, err := t.Choose(s.Limits, o)
	if err != nil {
		return nil, err
	}
	return t.Answer(ctx, choice, o)
}

// Answer gives the recommendation of a choice made from the table. It fails with the
// context's error when the context ends.
func (t *Table) Answer(ctx context.Context, choice *Choice, o Options) (*Recommendation, error) {
	s, keptOut := t.Scenario, make([]Bar, len(t.glass))
	for j := range keptOut {
		keptOut[j] = t.KeptOut(j)
	}
	answer := &Recommendation{Scenario: s, Camera: t.Camera, Choice: *choice, Table: t, LeftOut: t.leftOut(), Shots: make([]ShotAnswer, len(s.Shots))}
	if err := parallel.For(ctx, len(s.Shots), o.Workers, func(i int) { answer.Shots[i] = t.answer(i, choice, keptOut, o) }); err != nil {
		return nil, err
	}
	return answer, nil
}

// answer ranks the lenses of one shot. It explains the first of them, as many as the
// options ask for, and those of the kits; all when none of the kit does the shot.
func (t *Table) answer(i int, c *Choice, keptOut []Bar, o Options) ShotAnswer {
	shot, outcomes, order := t.Scenario.Shots[i], t.outcomes[i], t.Ranked(i)
	answer := ShotAnswer{Shot: shot, Ranking: make([]Judgement, len(order))}
	for place, j := range order {
		g := t.glass[j]
		if o.Explain == 0 || place < o.Explain || c.Kit.Uses[i] == "" || c.uses(i, g.lens.Name.Value) {
			answer.Ranking[place] = explain(g, t.staged[i], outcomes[j])
		} else {
			answer.Ranking[place] = judgementOf(g, outcomes[j])
		}
		answer.Ranking[place].KeptOut = keptOut[j]
		answer.Ranking[place].lens = j
	}
	use := c.Kit.Uses[i]
	if o.Explain == 0 || use == "" { // all are explained
		slices.SortStableFunc(answer.Ranking, compareNear)
	}
	for place := range answer.Ranking {
		j := &answer.Ranking[place]
		t.assume(j, i, place < ranged || c.uses(i, j.Lens) || slices.Contains(c.Kit.Lenses, j.Lens))
	}
	if use != "" {
		answer.Use = answer.Find(use)
		answer.Use.worlds.Drawn(t.Scenario, draws)
	}
	if shot.Room != nil {
		stands := answer.Use
		if stands == nil {
			stands = &answer.Ranking[0]
		}
		answer.Shot = stands.Shot
	}
	return answer
}

// compareNear orders excluded lenses behind all others, and of them first the one that comes
// nearest to doing the shot.
func compareNear(a, b Judgement) int {
	if a.Standing != Excluded || b.Standing != Excluded {
		return cmp.Compare(a.Standing, b.Standing)
	}
	return cmp.Compare(b.nearness(), a.nearness())
}

// nearness is near, but for a lens that does not go on the camera, and behind all that are
// known for one of which too little is known.
func (j *Judgement) nearness() float64 {
	switch {
	case j.Refusal != "":
		return -2
	case j.Known < EnoughKnown:
		return j.near - 1
	}
	return j.near
}

// Ranked gives the places of the lenses in the order of their ranking in a shot.
func (t *Table) Ranked(shot int) []int {
	order, outcomes := make([]int, len(t.glass)), t.outcomes[shot]
	for j := range order {
		order[j] = j
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(
			compareOutcomes(outcomes[a], outcomes[b]),
			cmp.Compare(t.glass[a].lens.Name.Value, t.glass[b].lens.Name.Value),
		)
	})
	return order
}

// compareOutcomes orders the better outcome first. Scores that differ by less than
// rounding are equal, so that the ranking does not depend on the order of the catalogue.
func compareOutcomes(a, b Outcome) int {
	return cmp.Or(
		cmp.Compare(a.Standing, b.Standing),
		cmp.Compare(math.Round(b.Score*1e9), math.Round(a.Score*1e9)),
	)
}

// uses reports whether a lens does the shot in the kit or in one behind it.
func (c *Choice) uses(shot int, lens string) bool {
	if c.Kit.Uses[shot] == lens {
		return true
	}
	return slices.ContainsFunc(c.Runners, func(k Kit) bool { return k.Uses[shot] == lens })
}

// Behind says where one lens loses most against another in the same shot: the criterion
// whose weighted score and limits cost it most, with the findings on both. It reports false
// when no criterion that is known for both sets it back.
func Behind(loser, winner *Judgement) (lost, won rules.Finding, ok bool) {
	const least = 1e-6 // of what is 0
	worst, weight := 0.0, 0.0
	for i := range loser.Criteria {
		if f := &loser.Criteria[i]; !math.IsNaN(f.Score) {
			weight += f.Weight
		}
	}
	for i := range loser.Criteria {
		a := &loser.Criteria[i]
		for j := range winner.Criteria {
			b := &winner.Criteria[j]
			if a.Name != b.Name {
				continue
			}
			cost := weight * math.Log(max(b.Leaves(), least)/max(a.Leaves(), least))
			if !math.IsNaN(a.Score) && !math.IsNaN(b.Score) {
				cost += a.Weight * math.Log(max(b.Score, least)/max(a.Score, least))
			}
			if cost > worst {
				worst, lost, won, ok = cost, *a, *b, true
			}
		}
	}
	return lost, won, ok
}

// Foremost gives the lens of the kit, or the best when none of the kit does the shot, and so
// many of those next in rank.
func (a *ShotAnswer) Foremost(behind int) []*Judgement {
	var all []*Judgement
	if a.Use != nil {
		all = append(all, a.Use)
	}
	for i := range a.Ranking {
		if j := &a.Ranking[i]; j != a.Use && len(all) <= behind {
			all = append(all, j)
		}
	}
	return all
}

// Find gives the judgement of a lens, or nil.
func (a *ShotAnswer) Find(lens string) *Judgement {
	for i := range a.Ranking {
		if a.Ranking[i].Lens == lens {
			return &a.Ranking[i]
		}
	}
	return nil
}
