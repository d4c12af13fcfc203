package wording

import (
	"fmt"
	"math"

	"glassbrief/engine"
)

// Purpose says what a lens of the kit is there for beside the others: the shots that none of them does,
// or the one in which the next best loses most; "" for a lens that comes alone.
func Purpose(r *engine.Recommendation, lens string) string {
	if len(r.Kit.Lenses) == 1 {
		return ""
	}
	var only []string
	var worst *engine.ShotAnswer
	var next *engine.Judgement
	shots, loss := 0, math.Inf(-1)
	for i := range r.Shots {
		shot := &r.Shots[i]
		if shot.Use == nil || shot.Use.Lens != lens {
			continue
		}
		shots++
		second := secondOf(r, shot)
		if second == nil {
			only = append(only, shot.Shot.ID)
			continue
		}
		if lost := (shot.Use.Score - second.Score) * shot.Shot.Weight; lost > loss {
			worst, next, loss = shot, second, lost
		}
	}
	switch {
	case shots == 0:
		return "no shot is better for it"
	case len(only) == shots && shots > 1:
		return "no other of the kit does any of them"
	case only != nil:
		return "no other of the kit does " + List(only, "and")
	}
	if loss < 0 {
		return "stays on, which saves changes"
	}
	now, then := hundredthsOf(worst.Use), hundredthsOf(next)
	if now == then {
		return fmt.Sprintf("a trace better than %s in %s", next.Lens, worst.Shot.ID)
	}
	return fmt.Sprintf("%s falls from %s to %s with %s", worst.Shot.ID, now, then, next.Lens)
}

// secondOf gives the best other lens of the kit that does a shot, nil for none.
func secondOf(r *engine.Recommendation, shot *engine.ShotAnswer) (second *engine.Judgement) {
	for _, name := range r.Kit.Lenses {
		j := shot.Find(name)
		if j != nil && j != shot.Use && j.Standing == engine.Judged && j.Score > 0 && (second == nil || j.Score > second.Score) {
			second = j
		}
	}
	return second
}
