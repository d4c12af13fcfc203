package compare

import (
	"context"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

// A Side is one version of a scenario.
type Side struct {
	Source *lang.Source
	Files  brief.Files
}

// workOut gives what each side holds and recommends, and the warnings about all of them. It fails as [Compare] does.
func workOut(ctx context.Context, sides []Side, o engine.Options) (briefs []*content, answers []*engine.Recommendation, warnings lang.Diagnostics, err error) {
	for _, side := range sides {
		scenario, found := brief.Load(side.Source, side.Files)
		if found.HasErrors() {
			return nil, nil, nil, found
		}
		warnings = append(warnings, found...)
		answer, err := engine.Recommend(ctx, scenario, o)
		if err != nil {
			return nil, nil, nil, err
		}
		briefs = append(briefs, contentOf(brief.PartsOf(side.Source, side.Files)))
		answers = append(answers, answer)
	}
	return briefs, answers, warnings, nil
}

// A Comparison says what a changed brief does to the plan.
type Comparison struct {
	Old, New *engine.Recommendation
	Figures  *sure.Figures    // how far the new kit hangs on assumed figures; nil where it rests on none
	Warnings lang.Diagnostics // of both sides
	Changes  []Edit
	Effects  []Effect
	Shots    []Shots
	Days     *Days // nil where neither version speaks of days and the order is the same
}

// Shots is a shot in both versions; one is nil when the shot is new or gone.
type Shots struct {
	Old, New *engine.ShotAnswer
}

// Of says what an effect is on.
type Of uint8

const (
	Camera  Of = iota + 1 // the camera that is planned with
	Kit                   // the lenses in the bag
	Setup                 // the lens of a shot, or what is dialled in for it
	Ranking               // the order of the lenses that can do a shot, or which these are
)

// String names what the effect is on.
func (o Of) String() string { return [...]string{"invalid", "camera", "kit", "setup", "ranking"}[o] }

// An Effect is one thing that the changes do to the plan.
type Effect struct {
	Of   Of
	Shot int // place in the report's shots; -1 for camera and kit
	// Because holds the places of the changes that bring it about: the smallest set of one
	// or two, else one of which none can be left out. It is nil when none was found.
	Because []int
}

// SamePlan reports whether both briefs come to the same: camera, kit, the shots, and the
// setup of each, and where days are planned, when and by whom it is done. Rankings behind the kit may differ.
func (r *Comparison) SamePlan() bool {
	for _, effect := range r.Effects {
		if effect.Of != Ranking {
			return false
		}
	}
	for _, shot := range r.Shots {
		if shot.Old == nil || shot.New == nil {
			return false
		}
	}
	return r.Days == nil || !r.Days.said || len(r.Days.Moved) == 0
}

// Idle lists the places of the changes that have a part in no effect.
func (r *Comparison) Idle() []int {
	used := map[int]bool{}
	for _, effect := range r.Effects {
		for _, at := range effect.Because {
			used[at] = true
		}
	}
	var idle []int
	for at := range r.Changes {
		if !used[at] {
			idle = append(idle, at)
		}
	}
	return idle
}

// Compare works out both sides and what is between them. It fails with [lang.Diagnostics]
// when a side cannot be read or leaves nothing to bring, and with the context's error.
func Compare(ctx context.Context, old, new Side, o engine.Options) (*Comparison, error) {
	briefs, answers, warnings, err := workOut(ctx, []Side{old, new}, o)
	if err != nil {
		return nil, err
	}
	r := &Comparison{Old: answers[0], New: answers[1], Warnings: warnings}
	p := pair(briefs[0], briefs[1])
	r.Changes = p.changes()
	blocks := r.pairShots(p)
	s := &search{ctx: ctx, options: o, old: briefs[0], changes: r.Changes, tried: map[string]*plan{}}
	if !r.effects(s, blocks) && ctx.Err() == nil {
		return nil, lang.Diagnostics{{
			Severity: lang.Error, Code: lang.InternalFault, Span: lang.Span{Source: new.Source},
			Summary: "the changes cannot be put together again", Detail: "Please report it with both versions.",
		}}
	}
	r.Days = r.days(ctx, o)
	if err := ctx.Err(); err != nil || len(r.New.Scenario.Assumed) == 0 {
		return r, err
	}
	r.Figures, err = sure.HowFar(ctx, r.New.Table, &r.New.Kit, engine.Options{})
	return r, err
}

// pairShots lists the shots of both sides in the order of the new one, those that are
// gone behind; it gives the block by which each is known.
func (r *Comparison) pairShots(p *pairing) []*block {
	var blocks []*block
	olds := map[*block]*engine.ShotAnswer{}
	i := 0
	for _, b := range p.old.blocks {
		if b.isShot() {
			olds[b] = &r.Old.Shots[i]
			i++
		}
	}
	i = 0
	for _, b := range p.new.blocks {
		if b.isShot() {
			r.Shots = append(r.Shots, Shots{Old: olds[p.partner[b]], New: &r.New.Shots[i]})
			blocks = append(blocks, p.originOf(b))
			i++
		}
	}
	for _, b := range p.old.blocks {
		if b.isShot() && p.successor[b] == nil {
			r.Shots = append(r.Shots, Shots{Old: olds[b]})
			blocks = append(blocks, b)
		}
	}
	return blocks
}

// effects finds what differs between the plans, and the cause of each. It reports
// whether both plans could be worked out from their parts.
func (r *Comparison) effects(s *search, blocks []*block) bool {
	all := make([]int, len(s.changes))
	for i := range all {
		all[i] = i
	}
	before, after := s.with(nil), s.with(all)
	if before == nil || after == nil {
		return false
	}
	add := func(of Of, shot int, value func(*plan) string) {
		if want := value(after); value(before) != want {
			r.Effects = append(r.Effects, Effect{Of: of, Shot: shot, Because: s.cause(all, want, value)})
		}
	}
	add(Camera, -1, func(p *plan) string { return p.camera })
	add(Kit, -1, func(p *plan) string { return p.kit })
	for i, b := range blocks {
		if r.Shots[i].Old == nil || r.Shots[i].New == nil {
			continue
		}
		add(Setup, i, func(p *plan) string { return p.shots[b].setup })
		add(Ranking, i, func(p *plan) string { return p.shots[b].ranking })
	}
	return true
}
