package compare

import (
	"context"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/merge"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// A Review says what two changed briefs that come from one do together.
type Review struct {
	Base, Ours, Theirs *engine.Recommendation
	// Merged is what the brief with the changes of both recommends. Where they contradict each other it
	// is as base has it. It is nil where the brief with both cannot be read, and Faults say why.
	Merged   *engine.Recommendation
	Faults   lang.Diagnostics
	Warnings lang.Diagnostics // of all three
	ByOurs   []Edit
	ByTheirs []Edit
	Meetings []Meeting
	Shots    []Sides
}

// A Meeting is a pair of changes of the same.
type Meeting struct {
	Ours, Theirs int // places in the lists of changes
	Outcome      Outcome
}

// An Outcome says how two changes of the same go together.
type Outcome uint8

const (
	Alike         Outcome = iota + 1 // both change it to the same
	Joined                           // lists and orders that hold what both change
	Contradiction                    // only one can hold
)

// String names the outcome.
func (o Outcome) String() string {
	return [...]string{"invalid", "alike", "joined", "contradiction"}[o]
}

// Sides is a shot in all versions; those are nil that do not have it.
type Sides struct {
	Base, Ours, Theirs, Merged *engine.ShotAnswer
}

// Contradicted reports whether both sides change something to what cannot hold together.
func (r *Review) Contradicted() bool {
	return slices.ContainsFunc(r.Meetings, func(m Meeting) bool { return m.Outcome == Contradiction })
}

// LikeOurs reports whether the merged brief makes the plan that our side makes.
func (r *Review) LikeOurs() bool { return samePlan(r.Merged, r.Ours) }

// LikeTheirs reports whether the merged brief makes the plan that their side makes.
func (r *Review) LikeTheirs() bool { return samePlan(r.Merged, r.Theirs) }

// samePlan reports whether people would see no difference between two plans; either may be nil.
func samePlan(a, b *engine.Recommendation) bool {
	if a == nil || b == nil {
		return a == b
	}
	kit := func(r *engine.Recommendation) []string { return slices.Sorted(slices.Values(r.Kit.Lenses)) }
	setup := func(use *engine.Judgement) string {
		if use == nil {
			return ""
		}
		return setupText(use)
	}
	return a.Camera.Name.Value == b.Camera.Name.Value && slices.Equal(kit(a), kit(b)) &&
		slices.EqualFunc(a.Shots, b.Shots, func(x, y engine.ShotAnswer) bool {
			return x.Shot.ID == y.Shot.ID && setup(x.Use) == setup(y.Use)
		})
}

// ReviewSides works out two briefs that come from one, and the brief with the changes of both. It fails
// with [lang.Diagnostics] when one of the three cannot be read or leaves nothing to bring, and with the
// context's error.
func ReviewSides(ctx context.Context, base, ours, theirs Side, o engine.Options) (*Review, error) {
	briefs, answers, warnings, err := workOut(ctx, []Side{base, ours, theirs}, o)
	if err != nil {
		return nil, err
	}
	r := &Review{Base: answers[0], Ours: answers[1], Theirs: answers[2], Warnings: warnings}
	j := joiner{ours: pair(briefs[0], briefs[1]), theirs: pair(briefs[0], briefs[2])}
	r.ByOurs, r.ByTheirs = j.ours.changes(), j.theirs.changes()
	merged := briefs[0].with(j.join(r))
	scenario, found := merged.load()
	if found.HasErrors() {
		for i := range found {
			found[i].Span, found[i].Related = lang.Span{}, nil // of a text that nobody has
		}
		r.Faults = found
	} else {
		answer, err := engine.Recommend(ctx, scenario, o)
		if err != nil {
			return nil, err
		}
		r.Merged = answer
	}
	r.Shots = j.shots(r, briefs[0], merged)
	return r, ctx.Err()
}

// A joiner puts the changes of both sides together.
type joiner struct{ ours, theirs *pairing }

// join finds what both sides change, and gives the changes that make the merged brief: orders first,
// since new shots go in by what stands beside them.
func (j *joiner) join(r *Review) []Edit {
	at := map[target]int{}
	inside := map[*block][]int{} // the places of changes in a block
	removedByTheirs := map[*block]int{}
	for k, e := range r.ByTheirs {
		at[e.at] = k
		inside[e.at.block] = append(inside[e.at.block], k)
		if e.takesOut() {
			removedByTheirs[e.at.block] = k
		}
	}
	left := map[int]bool{} // of theirs: alike, joined or contradicting
	var orders, others []Edit
	add := func(e Edit) {
		if e.Kind == Reordered {
			orders = append(orders, e)
		} else {
			others = append(others, e)
		}
	}
	for i, e := range r.ByOurs {
		meet := func(k int, outcome Outcome) {
			r.Meetings = append(r.Meetings, Meeting{i, k, outcome})
			left[k] = true
		}
		var against []int // changes in a block that this takes out, or the one that takes out the block that this is in
		if k, ok := removedByTheirs[e.at.block]; ok && e.at.field != "" {
			against = append(against, k)
		}
		if e.takesOut() {
			for _, k := range inside[e.at.block] {
				if r.ByTheirs[k].at.field != "" {
					against = append(against, k)
				}
			}
		}
		for _, k := range against {
			meet(k, Contradiction)
		}
		if against != nil {
			continue
		}
		k, ok := at[e.at]
		if !ok {
			add(e)
			continue
		}
		outcome, joined := j.both(&e, &r.ByTheirs[k])
		meet(k, outcome)
		if outcome != Contradiction {
			add(joined)
		}
	}
	for k, e := range r.ByTheirs {
		if !left[k] {
			add(e)
		}
	}
	return append(orders, others...)
}

// takesOut reports whether a change removes a whole block.
func (e *Edit) takesOut() bool { return e.Kind == Removed && e.at.field == "" }

// both joins two changes of the same.
func (j *joiner) both(ours, theirs *Edit) (Outcome, Edit) {
	if ours.means == theirs.means && ours.Kind == theirs.Kind {
		return Alike, *ours
	}
	joined := *ours
	switch {
	case ours.Kind == Reordered:
		order, ok := j.order()
		if !ok {
			return Contradiction, Edit{}
		}
		joined.apply = func(to *content) { to.sortShots(order) }
	case ours.at.block == nil:
		b := joinedBlock(ours.at.part, "", j.ours.new.called(ours.at).written(), j.theirs.new.called(theirs.at).written())
		if b == nil {
			return Contradiction, Edit{}
		}
		// It goes in where our side has it.
		put := ours.apply
		joined.apply = func(to *content) {
			put(to)
			for i, other := range to.blocks {
				if other.part == ours.at.part && other.id == ours.at.id {
					b.origin = other.origin
					to.blocks[i] = b
				}
			}
		}
	case ours.at.field == "head":
		return Contradiction, Edit{}
	default:
		old, keyword := ours.at.block, ours.at.field
		only := func(b *block) string { return b.withOnly(keyword, old.head) }
		b := joinedBlock(old.part, only(old), only(j.ours.successor[old]), only(j.theirs.successor[old]))
		if b == nil {
			return Contradiction, Edit{}
		}
		joined.apply = func(to *content) { to.of(old).set(keyword, b.field(keyword)) }
	}
	return Joined, joined
}

// joinedBlock merges texts of one block; nil where they contradict each other.
func joinedBlock(of part, base, ours, theirs string) *block {
	shape := [...]func() lang.Shape{ofScenario: brief.Shape, ofCatalogue: catalog.Shape, ofRules: rules.Shape}[of]()
	m := merge.Merge(merge.Version{Text: base}, merge.Version{Text: ours}, merge.Version{Text: theirs}, merge.Options{Shape: shape})
	if len(m.Conflicts) > 0 || m.Unread != nil {
		return nil
	}
	src, found := lang.NewSource("", []byte(m.Text))
	if found.HasErrors() {
		return nil
	}
	if file := parse(src); len(file.Statements) == 1 {
		return newBlock(of, file.Statements[0])
	}
	return nil
}

// withOnly writes a block with one of its fields, under a head: what it is called is not merged with that.
func (b *block) withOnly(keyword, head string) string {
	alone := *b
	alone.head, alone.fields = head, nil
	if f := b.field(keyword); f != nil {
		alone.fields = []field{*f}
	}
	return alone.written()
}

func (b *block) written() string {
	var text strings.Builder
	b.write(&text)
	return text.String()
}

// called gives the block that a change adds.
func (b *content) called(at target) *block {
	return b.blocks[slices.IndexFunc(b.blocks, func(other *block) bool { return other.part == at.part && other.id == at.id })]
}

// order merges the orders of the shots that all three have; ok is false where they contradict each other.
func (j *joiner) order() (order map[*block]int, ok bool) {
	number := map[*block]int{}
	for _, b := range j.ours.old.blocks {
		if b.isShot() && j.ours.successor[b] != nil && j.theirs.successor[b] != nil {
			number[b] = len(number)
		}
	}
	ordered := func(p *pairing) (list []int) {
		for _, b := range p.new.blocks {
			if n, ok := number[p.partner[b]]; ok {
				list = append(list, n)
			}
		}
		return list
	}
	merged, ok := merge.Order(ordered(j.ours), ordered(j.theirs))
	if !ok {
		return nil, false
	}
	place := make([]int, len(merged))
	for i, n := range merged {
		place[n] = i
	}
	order = make(map[*block]int, len(number))
	for b, n := range number {
		order[b] = place[n]
	}
	return order, true
}

// shots lists the shots of all versions: those of the merged brief in its order, then those that it does
// not have.
func (j *joiner) shots(r *Review, base, merged *content) []Sides {
	var list []Sides
	type name struct {
		old *block // of the base
		id  string // of a new one, by each side of its own
	}
	row := map[name]int{}
	old := make(map[*block]bool, len(base.blocks))
	for _, b := range base.blocks {
		old[b] = true
	}
	nameOf := func(origin *block) name {
		if old[origin] {
			return name{old: origin}
		}
		return name{id: origin.id}
	}
	fill := func(c *content, answer *engine.Recommendation, origin func(*block) *block, set func(*Sides, *engine.ShotAnswer)) {
		i := 0
		for _, b := range c.blocks {
			if !b.isShot() || answer == nil {
				continue
			}
			key := nameOf(origin(b))
			if _, known := row[key]; !known {
				row[key] = len(list)
				list = append(list, Sides{})
			}
			set(&list[row[key]], &answer.Shots[i])
			i++
		}
	}
	fill(merged, r.Merged, func(b *block) *block { return b.origin }, func(s *Sides, a *engine.ShotAnswer) { s.Merged = a })
	fill(j.ours.new, r.Ours, j.ours.originOf, func(s *Sides, a *engine.ShotAnswer) { s.Ours = a })
	fill(j.theirs.new, r.Theirs, j.theirs.originOf, func(s *Sides, a *engine.ShotAnswer) { s.Theirs = a })
	fill(base, r.Base, func(b *block) *block { return b }, func(s *Sides, a *engine.ShotAnswer) { s.Base = a })
	return list
}
