// Package answer is the whole answer to a brief: a recommendation with what stands beside
// it. What other choices would give, which shot decides, how sure the kit is.
package answer

import (
	"context"
	"errors"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/floor"
	"glassbrief/engine/parallel"
	"glassbrief/engine/sure"
	"glassbrief/engine/taste"
	"glassbrief/engine/why"
)

// How much an answer holds unless more is asked for: kits behind the best, and lenses of each ranking
// beside those of the kit.
const (
	Runners = 2
	Ranked  = 10
)

// An Answer is a recommendation with what stands beside it.
type Answer struct {
	*engine.Recommendation
	Sizes   []engine.Sized     // best kits by their number of lenses
	Second  *engine.Second     // nil for a kit of one lens
	Changes floor.SetupChanges // through the day
	Free    *engine.Kit        // the best if changes had no price; nil where they have none
	Cameras []engine.Candidate // nil for a brief of one camera
	Best    int                // of the cameras
	Nearby  *sure.Nearby       // nil until [Answer.HowSure]
	Hurts   []sure.Hurt        // what hurts the kit by itself, the worst first; nil until [Answer.WhatHurts]
	Flip    *sure.Flip         // nil when no figure alone changes the kit
	Tastes  *taste.Shares      // nil until [Answer.ForWhom]
	Figures *sure.Figures      // nil where no assumed figure bears on the kit
	Rescues []*why.Rescue      // by the shots; nil for one that a lens of the house does, or a hired one that it asks for
}

// Rescue gives what there is to do about a shot that no lens of the house does; nil of another.
func (a *Answer) Rescue(shot *engine.ShotAnswer) *why.Rescue {
	return a.Rescues[shot.Place(a.Scenario)]
}

// Of recommends, and works out what stands beside the recommendation. It fails as [engine.Recommend] does.
func Of(ctx context.Context, s *brief.Scenario, o engine.Options) (*Answer, error) {
	camera, err := s.Camera(o.Camera)
	if err != nil {
		return nil, err
	}
	cameras := begin(ctx, s, camera)
	t, err := engine.Judge(ctx, s, o)
	if err != nil {
		return nil, err
	}
	choice, err := t.Choose(s.Limits, o)
	if err != nil {
		return nil, err
	}
	figures := howFar(ctx, t, &choice.Kit)
	r, err := t.Answer(ctx, choice, o)
	if err != nil {
		return nil, err
	}
	return around(ctx, r, cameras, figures)
}

// Around works out what stands beside a recommendation. It fails with the context's error
// when the context ends.
func Around(ctx context.Context, r *engine.Recommendation) (*Answer, error) {
	return around(ctx, r, begin(ctx, r.Scenario, r.Camera), howFar(ctx, r.Table, &r.Kit))
}

// begin begins to judge on the other cameras of a scenario than the one given, for which there is nil.
func begin(ctx context.Context, s *brief.Scenario, own *catalog.Camera) []func() (engine.Candidate, error) {
	begun := make([]func() (engine.Candidate, error), len(s.Cameras))
	for i, camera := range s.Cameras {
		if camera != own {
			begun[i] = parallel.Ahead(func() (engine.Candidate, error) { return engine.CandidateOn(ctx, s, camera, engine.Options{}) })
		}
	}
	return begun
}

// howFar begins to work out how far a kit hangs on assumed figures.
func howFar(ctx context.Context, t *engine.Table, kit *engine.Kit) func() (*sure.Figures, error) {
	if len(t.Scenario.Assumed) == 0 {
		return func() (*sure.Figures, error) { return nil, nil }
	}
	return parallel.Ahead(func() (*sure.Figures, error) { return sure.HowFar(ctx, t, kit, engine.Options{}) })
}

// around waits for what is begun last, so that it is worked on beside the rest.
func around(ctx context.Context, r *engine.Recommendation, cameras []func() (engine.Candidate, error), figures func() (*sure.Figures, error)) (*Answer, error) {
	a := &Answer{Recommendation: r, Rescues: make([]*why.Rescue, len(r.Shots))}
	parts := []func() error{
		func() (err error) {
			a.Second, err = r.Table.Second(ctx, &r.Kit, engine.Options{})
			return err
		},
		func() error {
			a.Sizes, a.Changes = r.Sizes(engine.Options{}), floor.ChangesOf(r)
			if r.Scenario.Prices.Change == 0 {
				return nil
			}
			free, err := r.Table.WithPrices(brief.Prices{}).Choose(r.Scenario.Limits, engine.Options{})
			if err == nil {
				a.Free = &free.Kit
			}
			return err
		},
		func() error {
			return parallel.For(ctx, len(r.Shots), 0, func(i int) { a.Rescues[i] = why.RescueOf(r.Table, i) })
		},
	}
	faults := make([]error, len(parts))
	if err := parallel.For(ctx, len(parts), 0, func(i int) { faults[i] = parts[i]() }); err != nil {
		return nil, err
	}
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	if err := a.compareCameras(cameras); err != nil {
		return nil, err
	}
	var err error
	if a.Figures, err = figures(); err != nil {
		return nil, err
	}
	return a, nil
}

// compareCameras takes the other cameras in as they were begun, nothing for a brief of one.
func (a *Answer) compareCameras(begun []func() (engine.Candidate, error)) error {
	if len(begun) < 2 {
		return nil
	}
	a.Cameras = make([]engine.Candidate, len(begun))
	for i, wait := range begun {
		if wait == nil {
			a.Cameras[i] = a.Candidate()
			continue
		}
		var err error
		if a.Cameras[i], err = wait(); err != nil {
			return err
		}
	}
	a.Best = engine.BestCandidate(a.Cameras)
	return nil
}

// HowSure works out how the kit does in so many nearby briefs. Progress is told how many
// are done. It fails with the context's error when the context ends.
func (a *Answer) HowSure(ctx context.Context, briefs int, progress func(done, total int)) (err error) {
	a.Nearby, err = sure.Draw(ctx, a.Table, &a.Kit, briefs, engine.Options{Progress: progress})
	return err
}

// WhatHurts works out what hurts the kit when it alone turns out otherwise. Progress is told how many of all
// that may do so is done. It fails with the context's error when the context ends.
func (a *Answer) WhatHurts(ctx context.Context, progress func(done, total int)) (err error) {
	a.Hurts, err = sure.Hurts(ctx, a.Table, &a.Kit, engine.Options{Progress: progress})
	return err
}

// WhatFirst works out which figure alone changes the kit first. Progress is told how many
// shots are done. It fails with the context's error when the context ends.
func (a *Answer) WhatFirst(ctx context.Context, progress func(done, total int)) (err error) {
	a.Flip, err = sure.First(ctx, a.Table, &a.Kit, engine.Options{Progress: progress})
	return err
}

// rivals is how many kits that other tastes make the best are put behind the best.
const rivals = 2

// ForWhom works out for which tastes the kit is the best, and puts those that are it for most others among
// the kits behind it. Progress is told how many tastes are tried. It fails with the context's error when
// the context ends.
func (a *Answer) ForWhom(ctx context.Context, progress func(done, total int)) (err error) {
	if a.Tastes, err = taste.Draw(ctx, a.Table, &a.Kit, taste.Draws, engine.Options{Progress: progress}); err != nil {
		return err
	}
	for _, rival := range a.Tastes.Rivals(rivals) {
		if !slices.ContainsFunc(a.Runners, func(k engine.Kit) bool { return engine.SameLenses(k.Lenses, rival.Lenses) }) {
			a.Runners = append(a.Runners, a.Table.Kit(rival.Lenses))
		}
	}
	return nil
}
