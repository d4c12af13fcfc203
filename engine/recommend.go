package engine

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/facts"
	"glassbrief/engine/kit"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// Options are what a caller may choose beside the scenario. The zero value is ready for
// use.
type Options struct {
	Camera  string       // one of the scenario's candidates; "" for the first
	Printer lang.Printer // how reasons write quantities
	Solver  kit.Solver   // nil for the exact standard one
	Runners int          // kits to report behind the best
	Workers int          // 0 for one for each processor
}

// A Recommendation is the answer: the kit, and how every lens does in every shot.
type Recommendation struct {
	Scenario *Scenario
	Camera   *catalog.Camera
	Kit      Kit
	Runners  []Kit
	Proven   bool // no kit within the limits is better
	Shots    []ShotAnswer
}

// A Kit is a choice of lenses.
type Kit struct {
	Lenses    []string
	Mean      float64  // weighted mean of each shot's best score, 0 for an uncovered shot
	Uncovered []string // shots without an acceptable lens
	Swaps     int      // lens changes through the day, in shooting order
	Mass      float64  // kg of the lenses; NaN when one is unknown
	Cost      float64  // money a day
	Uses      []string // the lens for each shot, "" for an uncovered one
}

// A ShotAnswer is the ranking of the lenses in one shot.
type ShotAnswer struct {
	Shot    *Shot
	Ranking []Judgement // best first, then the undecided, then the excluded
	Use     *Judgement  // the lens of the kit, nil when none is acceptable
}

// A Judgement is one lens in one shot.
type Judgement struct {
	Lens     string
	Fitting  catalog.Fitting
	Refusal  string  // why the lens does not fit the camera; "" when it does
	Score    float64 // 0..1, of what is known
	Standing Standing
	Known    float64  // share of the weight of the criteria that is known
	Missing  []string // fields of the lens that the catalogue does not give
	Criteria []rules.Finding
	Facts    facts.Record
}

// Vetoes gives the vetoes of all criteria.
func (j *Judgement) Vetoes() []rules.Raised {
	var all []rules.Raised
	for _, finding := range j.Criteria {
		all = append(all, finding.Raised...)
	}
	return all
}

// Fact gives the value of a fact, NaN when it is unknown.
func (j *Judgement) Fact(id facts.ID) float64 { return j.Facts.Value[id] }

// Recommend judges every lens in every shot and chooses the kit. It fails with a
// [kit.LimitError] when the limits leave no kit, and with the context's error when the
// context ends.
func Recommend(ctx context.Context, s *Scenario, o Options) (*Recommendation, error) {
	camera, err := s.camera(o.Camera)
	if err != nil {
		return nil, err
	}
	b := s.bench(camera)
	cells, err := judgeAll(ctx, s.Shots, b.inputs, b.glass, o.Workers)
	if err != nil {
		return nil, err
	}
	solver := o.Solver
	if solver == nil {
		solver = kit.Exhaustive{}
	}
	solution, err := solver.Solve(s.problem(b, cells), o.Runners)
	if err != nil {
		return nil, err
	}
	if len(solution.Sets) == 0 {
		return nil, errors.New("no set of lenses keeps within the limits")
	}
	answer := &Recommendation{Scenario: s, Camera: camera, Proven: solution.Proven}
	for i := range solution.Sets {
		k := b.kit(s, &solution.Sets[i])
		if i == 0 {
			answer.Kit = k
		} else {
			answer.Runners = append(answer.Runners, k)
		}
	}
	for i, shot := range s.Shots {
		answer.Shots = append(answer.Shots, b.answer(i, shot, cells[i], answer.Kit.Uses[i], o.Printer))
	}
	return answer, nil
}

func (s *Scenario) camera(name string) (*catalog.Camera, error) {
	if name == "" {
		return s.Cameras[0], nil
	}
	var names []string
	for _, camera := range s.Cameras {
		if camera.Name.Value == name {
			return camera, nil
		}
		names = append(names, camera.Name.Value)
	}
	return nil, fmt.Errorf("the scenario has no camera %q; its candidates are %s", name, lang.Quoted(names))
}

// bench is a scenario on one camera, ready to be judged.
type bench struct {
	glass  []*glass
	inputs []facts.ShotInput
}

func (s *Scenario) bench(camera *catalog.Camera) *bench {
	b := &bench{glass: s.glassOf(camera), inputs: make([]facts.ShotInput, len(s.Shots))}
	for i, shot := range s.Shots {
		b.inputs[i] = s.input(shot, camera)
	}
	return b
}

// problem turns the cells into a choice of a kit.
func (s *Scenario) problem(b *bench, cells [][]cell) *kit.Problem {
	n := len(b.glass)
	p := &kit.Problem{
		Scores: make([][]float64, n), Size: s.Limits.Carry,
		Mass: make([]float64, n), Cost: make([]float64, n), Barred: make([]bool, n),
		MaxMass: s.Limits.BagMass, MaxCost: s.Limits.Rent,
	}
	for _, shot := range s.Shots {
		p.Weights = append(p.Weights, shot.Weight)
	}
	for j, g := range b.glass {
		name := g.lens.Name.Value
		p.Mass[j], p.Cost[j] = g.input.Mass, g.input.DayRate
		p.Barred[j] = slices.Contains(s.Limits.Leave, name) || s.Limits.OwnedOnly && g.input.Hired
		if slices.Contains(s.Limits.Bring, name) {
			p.Must = append(p.Must, j)
		}
		p.Scores[j] = make([]float64, len(s.Shots))
		for i := range s.Shots {
			if c := cells[i][j]; c.standing == Judged {
				p.Scores[j][i] = c.score
			}
		}
	}
	return p
}

func (b *bench) kit(s *Scenario, set *kit.Set) Kit {
	k := Kit{Mean: set.Mean, Swaps: set.Swaps, Cost: set.Cost}
	for _, j := range set.Lenses {
		k.Lenses = append(k.Lenses, b.glass[j].lens.Name.Value)
		k.Mass += b.glass[j].input.Mass
	}
	for i, j := range set.Best {
		if j < 0 {
			k.Uncovered = append(k.Uncovered, s.Shots[i].ID)
			k.Uses = append(k.Uses, "")
			continue
		}
		k.Uses = append(k.Uses, b.glass[j].lens.Name.Value)
	}
	return k
}

// answer ranks the lenses of one shot and explains each.
func (b *bench) answer(i int, shot *Shot, row []cell, use string, printer lang.Printer) ShotAnswer {
	answer := ShotAnswer{Shot: shot}
	var ofShot facts.Record
	facts.FillShot(&ofShot, &b.inputs[i])
	for j, g := range b.glass {
		answer.Ranking = append(answer.Ranking, explain(g, shot, row[j], &ofShot, printer))
	}
	slices.SortStableFunc(answer.Ranking, compareJudgements)
	for j := range answer.Ranking {
		if answer.Ranking[j].Lens == use && use != "" {
			answer.Use = &answer.Ranking[j]
		}
	}
	return answer
}

// compareJudgements orders the better lens first, equals by name, so that the ranking
// does not depend on the order of the catalogue.
func compareJudgements(a, b Judgement) int {
	return cmp.Or(
		cmp.Compare(a.Standing, b.Standing),
		cmp.Compare(math.Round(b.Score*1e9), math.Round(a.Score*1e9)),
		cmp.Compare(len(a.Vetoes()), len(b.Vetoes())),
		cmp.Compare(a.Lens, b.Lens),
	)
}

func explain(g *glass, shot *Shot, c cell, ofShot *facts.Record, printer lang.Printer) Judgement {
	j := Judgement{Lens: g.lens.Name.Value, Fitting: g.fitting, Refusal: g.refusal, Score: c.score, Standing: c.standing, Missing: g.missing()}
	fillAt(&j.Facts, g, ofShot, c.focal, &facts.Every)
	explained := shot.Rules.Explain(&j.Facts, printer)
	j.Criteria, j.Known = explained.Criteria, explained.Known
	return j
}
