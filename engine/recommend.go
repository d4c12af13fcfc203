package engine

import (
	"context"
	"math"
	"slices"
	"sync"

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
	Hold    int    // how many lenses of each ranking to hold beside those of the kit; 0 for all, or [KitAlone]
	// Progress is told, by one worker or another, how many judgements of how many are made;
	// nil for nobody.
	Progress func(done, total int)
}

// KitAlone as [Options.Hold] holds the lenses of the kit alone, and the first of the ranking of a shot
// that none of them does.
const KitAlone = -1

// A Recommendation is the answer: the kit, and how every lens does in every shot.
type Recommendation struct {
	Scenario *brief.Scenario
	Camera   *catalog.Camera
	Choice
	Shots   []ShotAnswer
	LeftOut []LeftOut // in the order of the catalogue
	Table   *Table    // of all judgements, for questions around the answer

	others func() *Worlds[*Recommendation] // nil of one that stands in a world itself
}

// A Kit is a choice of lenses.
type Kit struct {
	Lenses    []string
	Mean      float64  // weighted mean of what the lenses put on score, 0 for an uncovered shot
	Value     float64  // Mean less what changes and money weigh: what kits are compared by
	Uncovered []string // shots without an acceptable lens
	Left      float64  // weight of those
	Swaps     int      // lens changes through the day, in shooting order
	Minutes   float64  // that all changes of set-up take
	Mass      float64  // kg of the lenses; NaN when one is unknown
	Cost      float64  // money a day; NaN when one is unknown
	Uses      []string // the lens put on for each shot, "" for an uncovered one
}

// A ShotAnswer is the ranking of the lenses in one shot.
type ShotAnswer struct {
	// Shot is that of the scenario; where the place to stand is free, with the camera where
	// it stands with the lens of the kit, or with the first of the ranking.
	Shot *brief.Shot
	// Ranking has the best first, then the undecided, then the excluded, those first that come
	// nearest to doing the shot. It holds as many as the options ask for, and behind them those of
	// the kit; [ShotAnswer.All] goes through the rest too.
	Ranking []Judgement
	Total   int        // lenses of the whole ranking
	Able    int        // those that are judged
	Use     *Judgement // the lens of the kit, nil when none is acceptable
	whole   *ranking
}

// Place gives the place of the shot in a scenario that has it: in a free place, Shot is another
// than the scenario's own.
func (a *ShotAnswer) Place(s *brief.Scenario) int {
	return slices.IndexFunc(s.Shots, func(shot *brief.Shot) bool { return shot.ID == a.Shot.ID })
}

// A Judgement is one lens in one shot.
type Judgement struct {
	Lens     string
	Rank     int // in the ranking, from 1; 0 for an excluded lens whose rank was not looked for
	Fitting  catalog.Fitting
	Refusal  string  // why the lens does not fit the camera; "" when it does
	Score    float64 // 0..1, of what is known
	Standing Standing
	Known    float64  // share of the weight of the criteria that is known
	Missing  []string // fields of the lens that the catalogue does not give and that nothing stands in for
	KeptOut  Bar      // by which the lens cannot come even alone
	InKit    bool     // it is a lens of the kit
	Rests    bool     // on figures that are assumed
	lens     int      // its place in the table
	worlds   *Worlds[*Judgement]
	spread   func() ScoreSpread // nil without worlds
	moves    func() bool        // likewise
	// All are nil where the reasons were not asked for.
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
	s := t.Scenario
	answer := &Recommendation{Scenario: s, Camera: t.Camera, Choice: *choice, Table: t, LeftOut: t.leftOut(), Shots: make([]ShotAnswer, len(s.Shots))}
	if err := parallel.For(ctx, len(s.Shots), o.Workers, func(i int) { answer.Shots[i] = t.answer(i, choice, o.Hold) }); err != nil {
		return nil, err
	}
	answer.others = sync.OnceValue(func() *Worlds[*Recommendation] {
		if len(s.Assumed) == 0 {
			return nil
		}
		few := answer.few()
		return NewWorlds(s, few.Assumed(), func(values brief.Values) *Recommendation { return answer.under(few, values) })
	})
	return answer, nil
}

// Hold works out the answer about one shot anew, by its place, to hold so many lenses of its ranking,
// as [Options.Hold] says. So one shot can be shown in full and the others not.
func (r *Recommendation) Hold(shot, hold int) { r.Shots[shot] = r.Table.answer(shot, &r.Choice, hold) }

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
