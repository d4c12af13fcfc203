package engine

import (
	"cmp"
	"context"
	"math"

	"glassbrief/catalog"
)

// A Candidate is the best kit on one camera.
type Candidate struct {
	Camera *catalog.Camera
	Table  *Table
	Choice
	Uses []*Judgement // for each shot the lens of the kit, without the reasons; nil for an uncovered one
}

// Candidates gives the best kit on each camera of the scenario, in the order of the
// scenario, and which of them is the best of all. On the camera of the table nothing is
// judged anew. It fails as [Recommend] does.
func (t *Table) Candidates(ctx context.Context, o Options) (all []Candidate, best int, err error) {
	o.Runners = 0
	s := t.Scenario
	for i, camera := range s.Cameras {
		on := t
		if camera != t.Camera {
			o.Camera = camera.Name.Value
			if on, err = s.Judge(ctx, o); err != nil {
				return nil, 0, err
			}
		}
		choice, err := on.Choose(s.Limits, o)
		if err != nil {
			return nil, 0, err
		}
		c := Candidate{Camera: camera, Table: on, Choice: *choice, Uses: make([]*Judgement, len(s.Shots))}
		for shot, name := range choice.Kit.Uses {
			if name != "" {
				use := on.measured(shot, on.place(name))
				c.Uses[shot] = &use
			}
		}
		if all = append(all, c); compareKits(&c.Kit, &all[best].Kit) < 0 {
			best = i
		}
	}
	return all, best, nil
}

// compareKits orders kits as package kit does, the better one first, but by whole scores
// and not by their last bits.
func compareKits(a, b *Kit) int {
	const scores = 1e9
	return cmp.Or(
		cmp.Compare(a.Left, b.Left),
		cmp.Compare(math.Round(b.Mean*scores), math.Round(a.Mean*scores)),
		cmp.Compare(a.Swaps, b.Swaps),
		cmp.Compare(a.Mass, b.Mass),
		cmp.Compare(a.Cost, b.Cost),
	)
}
