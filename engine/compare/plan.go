package compare

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A plan is what a brief comes to, as texts that are equal when people would see no
// difference.
type plan struct {
	camera string
	kit    string
	shots  map[*block]shotPlan // by the block that the shot is of
}

type shotPlan struct {
	setup   string // the lens and what to dial in
	ranking string // the acceptable lenses, best first
}

// setupFacts are what is dialled in for a shot.
var setupFacts = []facts.ID{facts.FocalLength, facts.Stop, facts.FocusMark, facts.Following, facts.ISO, facts.ND}

// planOf works out a brief, or gives nil when it makes no plan. It explains nothing, so
// that many can be tried.
func planOf(ctx context.Context, b *content, o engine.Options) *plan {
	s, _ := b.load()
	if s == nil {
		return nil
	}
	table, err := engine.Judge(ctx, s, o)
	if err != nil {
		return nil
	}
	o.Runners = 0
	choice, err := table.Choose(s.Limits, o)
	if err != nil {
		return nil
	}
	p := &plan{
		camera: table.Camera.Name.Value, kit: strings.Join(slices.Sorted(slices.Values(choice.Kit.Lenses)), ", "),
		shots: map[*block]shotPlan{},
	}
	i := 0
	for _, block := range b.blocks {
		if !block.isShot() {
			continue
		}
		p.shots[block.origin] = shotPlan{setup: setupOf(table, i, choice.Kit.Uses[i]), ranking: rankingOf(table, i)}
		i++
	}
	return p
}

// setupOf writes the setup of a shot with a lens, "" without one.
func setupOf(table *engine.Table, shot int, use string) string {
	lens := table.Place(use)
	if lens < 0 {
		return ""
	}
	j := table.Explain(shot, lens)
	return setupText(&j)
}

func setupText(j *engine.Judgement) string {
	text, dialled := j.Lens, setupFacts
	if j.Fact(facts.PlaceFree) == 1 {
		dialled = append(slices.Clip(dialled), facts.SubjectNear, facts.SubjectFar)
	}
	for _, id := range dialled {
		text += " " + lang.Printer{}.Quantity(j.Fact(id), facts.Table()[id].Unit)
	}
	for _, filter := range j.Filtering.All() {
		text += " " + filter.Name.Value
	}
	return text
}

func rankingOf(table *engine.Table, shot int) string {
	lenses := table.Lenses()
	var names []string
	for _, j := range table.Ranked(shot) {
		if table.Outcome(shot, j).Acceptable() {
			names = append(names, lenses[j].Name.Value)
		}
	}
	return fmt.Sprint(names)
}
