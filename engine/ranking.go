package engine

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"glassbrief/engine/facts"
)

// A ranking is the order of all lenses in a shot. What is behind a place is worked out when it is
// asked for: an answer shows a few of what may be thousands.
type ranking struct {
	table   *Table
	shot    int
	choice  *Choice // nil under other values of the assumed figures
	order   []int   // places of the lenses in the table
	settled int     // ranks that are final; behind them are the excluded, by their names
}

// answer ranks the lenses of one shot, and explains those that the answer holds.
func (t *Table) answer(i int, c *Choice, hold int) ShotAnswer {
	shot, use := t.Scenario.Shots[i], c.Kit.Uses[i]
	whole := &ranking{table: t, shot: i, choice: c, order: t.Ranked(i)}
	able := whole.count(Judged)
	whole.settled = able + whole.count(Undecided)
	switch {
	case hold == 0:
		hold = len(whole.order)
	case hold < 0 && use == "":
		hold = 1
	}
	if hold = min(hold, len(whole.order)); hold > 0 && whole.settled < max(hold, ranged) {
		whole = whole.settle()
	}
	answer := ShotAnswer{Shot: shot, Total: len(whole.order), Able: able, whole: whole}
	for rank, lens := range whole.order {
		if rank < hold || slices.Contains(c.Kit.Lenses, t.name(lens)) {
			answer.Ranking = append(answer.Ranking, whole.judgement(rank))
		}
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

func (t *Table) name(lens int) string { return t.glass[lens].lens.Name.Value }

// count gives how many lenses have a standing in the shot.
func (w *ranking) count(standing Standing) int {
	n := 0
	for _, o := range w.table.outcomes[w.shot] {
		if o.Standing == standing {
			n++
		}
	}
	return n
}

// judgement explains the lens of a rank, counted from 0.
func (w *ranking) judgement(rank int) Judgement {
	lens := w.order[rank]
	j := w.table.explained(w.shot, lens)
	if w.choice == nil {
		return j
	}
	if rank < w.settled {
		j.Rank = rank + 1
	}
	j.InKit = slices.Contains(w.choice.Kit.Lenses, j.Lens)
	w.table.assume(&j, w.shot, rank < ranged || w.choice.uses(w.shot, j.Lens) || j.InKit)
	return j
}

// settle gives the ranking with the excluded lenses in the order in which they come near to doing
// the shot.
func (w *ranking) settle() *ranking {
	if w.settled == len(w.order) {
		return w
	}
	settled := *w
	settled.order, settled.settled = slices.Clone(w.order), len(w.order)
	of := judges.Get().(*judge)
	nearestFirst(settled.order[w.settled:], func(lens int) float64 { return w.table.nearness(of, w.shot, lens) })
	judges.Put(of)
	return &settled
}

// nearness says how near an excluded lens comes to doing a shot. Those of which too little is known
// come behind the others, and so do those that the house does not send, since [Table.Nearest] speaks of none
// of them; those that do not go on the camera come last.
func (t *Table) nearness(of *judge, shot, lens int) float64 {
	if t.glass[lens].refusal != "" {
		return math.Inf(-1)
	}
	g, st := t.at(lens), t.staged[shot]
	o, near := t.leastBad(shot, lens)
	if st.recordWith(&of.record, g, o); st.of(g).shot.Rules.Judge(&of.record).Known < EnoughKnown {
		near--
	}
	if !t.Lends(lens) {
		near -= 2 // behind the least known of the house
	}
	return near
}

// Ranked gives the places of the lenses in the order of their ranking in a shot; the excluded are in
// the order of their names.
func (t *Table) Ranked(shot int) []int {
	order, outcomes := make([]int, len(t.glass)), t.outcomes[shot]
	for j := range order {
		order[j] = j
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(compareOutcomes(&outcomes[a], &outcomes[b]), cmp.Compare(t.name(a), t.name(b)))
	})
	return order
}

// compareOutcomes orders the better outcome first. Scores that differ by less than
// rounding are equal, so that the ranking does not depend on the order of the catalogue.
func compareOutcomes(a, b *Outcome) int {
	return cmp.Or(
		cmp.Compare(a.Standing, b.Standing),
		cmp.Compare(math.Round(b.Score*1e9), math.Round(a.Score*1e9)),
	)
}

// recordWith writes the facts of the shot with a lens in a set-up.
func (st *staged) recordWith(r *facts.Record, g *glass, o Outcome) {
	st.recordAt(r, o.At)
	fillAt(r, g.in(st.shot), o)
}

// Held goes through what the answer holds of the ranking.
func (a *ShotAnswer) Held() iter.Seq[*Judgement] {
	return func(yield func(*Judgement) bool) {
		for i := range a.Ranking {
			if !yield(&a.Ranking[i]) {
				return
			}
		}
	}
}

// All goes through the whole ranking, the best first. What the answer does not hold is explained when
// its turn comes, and not kept.
func (a *ShotAnswer) All() iter.Seq[*Judgement] {
	return func(yield func(*Judgement) bool) {
		if len(a.Ranking) == a.Total {
			a.Held()(yield)
			return
		}
		held := map[int]*Judgement{}
		for i := range a.Ranking {
			held[a.Ranking[i].lens] = &a.Ranking[i]
		}
		whole := a.whole.settle()
		for rank, lens := range whole.order {
			j := held[lens]
			if j == nil {
				of := whole.judgement(rank)
				j = &of
			}
			if !yield(j) {
				return
			}
		}
	}
}

// Doing gives the lenses that can do the shot, the best first.
func (a *ShotAnswer) Doing() []string {
	lenses := make([]string, 0, a.Able)
	for _, lens := range a.whole.order {
		if t := a.whole.table; t.outcomes[a.whole.shot][lens].Standing == Judged {
			lenses = append(lenses, t.name(lens))
		}
	}
	return lenses
}

// Shown gives the lenses to set side by side in all shots: all when there are no more than most, or
// else those that the rankings hold. It counts those that it leaves out.
func (r *Recommendation) Shown(most int) (lenses map[string]bool, more int) {
	lenses = map[string]bool{}
	if len(r.Table.glass) <= most {
		for _, g := range r.Table.glass {
			lenses[g.lens.Name.Value] = true
		}
		return lenses, 0
	}
	for i := range r.Shots {
		for j := range r.Shots[i].Held() {
			lenses[j.Lens] = true
		}
	}
	return lenses, len(r.Table.glass) - len(lenses)
}

// Foremost gives the lens of the kit, or the best when none of the kit does the shot, and so
// many of those next in rank, as far as the answer holds them.
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

// Find gives the judgement of a lens, nil when there is no such lens. One that the answer does not
// hold is explained anew each time.
func (a *ShotAnswer) Find(lens string) *Judgement {
	if i := a.heldAt(lens); i >= 0 {
		return &a.Ranking[i]
	}
	rank := a.rank(lens)
	if rank < 0 {
		return nil
	}
	j := a.whole.judgement(rank)
	return &j
}

// heldAt gives the place of a lens in what the answer holds, -1 of one that it does not.
func (a *ShotAnswer) heldAt(lens string) int {
	for i := range a.Ranking {
		if a.Ranking[i].Lens == lens {
			return i
		}
	}
	return -1
}

// rank gives the place of a lens in the whole ranking, -1 of one that is not in it.
func (a *ShotAnswer) rank(lens string) int {
	return slices.Index(a.whole.order, a.whole.table.Place(lens))
}

// ranks gives the places of the lenses of a smaller table in the order of the ranking.
func (a *ShotAnswer) ranks(few *Table) []int {
	type ranked struct{ place, rank int }
	var all []ranked
	for place := range few.glass {
		if rank := a.rank(few.name(place)); rank >= 0 {
			all = append(all, ranked{place, rank})
		}
	}
	slices.SortFunc(all, func(a, b ranked) int { return cmp.Compare(a.rank, b.rank) })
	places := make([]int, len(all))
	for i := range all {
		places[i] = all[i].place
	}
	return places
}
