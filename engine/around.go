package engine

import (
	"cmp"
	"context"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
)

// Sizes gives the best kits with one lens fewer, with as many as the limits carry, which is
// that of the recommendation, and with one more. A size for which the limits allow no kit is
// left out.
func (r *Recommendation) Sizes(o Options) (sizes []Sized) {
	o.Runners = 0
	with := func(carry int) {
		limits := r.Scenario.Limits
		if limits.Carry = carry; carry < 1 {
			return
		}
		if choice, err := r.Table.Choose(limits, o); err == nil {
			sizes = append(sizes, Sized{carry, choice.Kit})
		}
	}
	carry := r.Scenario.Limits.Carry
	with(carry - 1)
	sizes = append(sizes, Sized{carry, r.Kit})
	with(carry + 1)
	return sizes
}

// Sized is the best kit when so many lenses may be carried.
type Sized struct {
	Carry int
	Kit   Kit
}

// A Second is the lens of a kit that is missed least, and what it is there for.
type Second struct {
	Lens    string
	Loss    float64  // of the kit's mean without it
	Without Kit      // what is left of the kit then
	Shots   []string // that are better for it, or done at all; those that lose most first
	// Decider is the shot that decides: without it the best kit is Instead, which does not hold
	// the lens. It is "" when the lens comes with any one shot less.
	Decider string
	Instead Kit
}

// deciders bounds how many shots are tried as the decider, those that lose most first.
const deciders = 12

// Second finds the lens of a kit that is missed least, and the one shot that decides it.
// It gives nil for a kit of fewer than two lenses, and fails with the context's error when
// the context ends.
func (t *Table) Second(ctx context.Context, k *Kit, o Options) (*Second, error) {
	if len(k.Lenses) < 2 {
		return nil, nil
	}
	var second *Second
	var losses []float64
	least := 0.0
	for _, lens := range k.Lenses {
		rest := t.Kit(slices.DeleteFunc(slices.Clone(k.Lenses), func(name string) bool { return name == lens }))
		if loss := k.Value - rest.Value; second == nil || loss < least {
			second, losses, least = &Second{Lens: lens, Loss: k.Mean - rest.Mean, Without: rest}, t.gains(k, &rest), loss
		}
	}
	var shots []int
	for i, loss := range losses {
		if loss > 0 {
			shots = append(shots, i)
		}
	}
	slices.SortStableFunc(shots, func(a, b int) int { return cmp.Compare(losses[b], losses[a]) })
	o.Runners = 0
	for n, i := range shots {
		second.Shots = append(second.Shots, t.Scenario.Shots[i].ID)
		if second.Decider != "" || n >= deciders || len(t.Scenario.Shots) == 1 {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		choice, err := t.WithoutShot(i).Choose(t.Scenario.Limits, o)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(choice.Kit.Lenses, second.Lens) {
			second.Decider, second.Instead = t.Scenario.Shots[i].ID, choice.Kit
		}
	}
	return second, nil
}

// gains gives how much better each shot is done with a kit than with what is left of it, by its
// weight.
func (t *Table) gains(k, rest *Kit) []float64 {
	gains := make([]float64, len(t.Scenario.Shots))
	for i, shot := range t.Scenario.Shots {
		gains[i] = shot.Weight * (t.scoreOf(i, k.Uses[i]) - t.scoreOf(i, rest.Uses[i]))
	}
	return gains
}

// scoreOf gives what a lens scores in a shot, 0 for none.
func (t *Table) scoreOf(shot int, lens string) float64 {
	if lens == "" {
		return 0
	}
	return acceptable(t.outcomes[shot][t.Place(lens)])
}

// A Candidate is the best kit on one camera.
type Candidate struct {
	Camera *catalog.Camera
	Choice
	Uses []*Judgement // for each shot the lens of the kit, without the reasons; nil for an uncovered one
}

// Candidate gives the camera of the recommendation with its kit.
func (r *Recommendation) Candidate() Candidate {
	choice := r.Choice
	choice.Runners, choice.Neighbours = nil, false
	return r.Table.candidate(&choice)
}

// CandidateOn judges on a camera of the scenario, and gives it with the best kit there. It fails as
// [Recommend] does.
func CandidateOn(ctx context.Context, s *brief.Scenario, camera *catalog.Camera, o Options) (c Candidate, err error) {
	t, err := prepare(ctx, s, camera, newFilterSets(s.Catalogue, camera), o)
	if err != nil {
		return c, err
	}
	if err := t.judge(ctx, o, t.mayCome); err != nil {
		return c, err
	}
	o.Runners = 0
	choice, err := t.Choose(s.Limits, o)
	if err != nil {
		return c, err
	}
	return t.candidate(choice), nil
}

func (t *Table) candidate(choice *Choice) Candidate {
	c := Candidate{Camera: t.Camera, Choice: *choice, Uses: make([]*Judgement, len(t.Scenario.Shots))}
	for shot, name := range choice.Kit.Uses {
		if name == "" {
			continue
		}
		use := t.measured(shot, t.Place(name))
		use.lens = t.Place(name)
		t.assume(&use, shot, true)
		c.Uses[shot] = &use
	}
	return c
}

// BestCandidate gives the place of the camera with the best kit, the first of several.
func BestCandidate(all []Candidate) (best int) {
	for i := range all {
		if compareKits(&all[i].Kit, &all[best].Kit) < 0 {
			best = i
		}
	}
	return best
}

// compareKits orders kits as package kit does, the better one first, but by whole scores
// and not by their last bits.
func compareKits(a, b *Kit) int {
	const scores = 1e9
	return cmp.Or(
		cmp.Compare(a.Left, b.Left),
		cmp.Compare(math.Round(b.Value*scores), math.Round(a.Value*scores)),
		cmp.Compare(a.Swaps, b.Swaps),
		cmp.Compare(a.Mass, b.Mass),
		cmp.Compare(a.Cost, b.Cost),
	)
}
