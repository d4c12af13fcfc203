package days

import "context"

// Contradictions gives sets of shots that cannot all be done, whatever the bags and if no change took any
// time: their days, hours, order, places and what they come after leave no way. Each set is as small as can
// be, so that all is well between any part of it, and no shot is in two of them. A shot without an option is
// in none. No more than most sets are looked for. Each question whether some shots can all be done may take so
// many nodes; one that takes more, or that the context ends, counts as one that they can.
func Contradictions(ctx context.Context, p *Problem, most, nodes int) ([][]int, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	g := newGround(p)
	m := &meter{ctx: ctx}
	c := newCuts(g, m)
	var all, stands set
	for k := range g.options {
		all = all.with(g.options[k].shot)
	}
	for _, s := range g.stands {
		stands = stands.plus(s)
	}
	var found [][]int
	for i := range all.minus(stands).all {
		found = append(found, []int{i})
	}
	everything := set{^uint64(0), ^uint64(0)}
	possible := func(shots set) (bool, set) {
		s := &shoot{g: g, m: m, cuts: c, whole: true, free: true}
		for u := range p.Units {
			s.rigs = append(s.rigs, newFreeRig(g, u))
		}
		s.prepare(everything.minus(shots))
		m.lower(nodes)
		defer m.resume(0)
		plan := &candidate{value: nothing}
		s.solve(plan, &kit{})
		return plan.value.weight >= 0 || m.ended, s.possible
	}
	for shots := all.common(stands); len(found) < most; {
		ok, left := possible(shots)
		if ok {
			break
		}
		least := left
		for i := len(p.Shots) - 1; i >= 0; i-- {
			if !least.has(i) { // perhaps because it came after one that was taken out
				continue
			}
			if ok, rest := possible(least.minus(set{}.with(i))); !ok {
				least = rest
			}
		}
		if m.ended { // the set may not be the smallest
			break
		}
		var set []int
		for i := range least.all {
			set = append(set, i)
		}
		found = append(found, set)
		shots = left.minus(least)
	}
	return found, nil
}
