package engine

import "sync"

// leastBads are the least bad set-ups of the lenses that a shot excludes, as far as they were asked for,
// and at most as many as [Table.Nearest] looks at. Each takes a search, and who asks about a shot asks
// again: how near a lens comes, and then why it is out. Tables share those of a shot that is the same
// in both, with the same lenses.
type leastBads struct {
	mu    sync.Mutex
	found map[*glass]leastBad
}

type leastBad struct {
	outcome Outcome
	near    float64
}

// leastBad is [judge.leastBad] by the places of shot and lens.
func (t *Table) leastBad(shot, lens int) (o Outcome, near float64) {
	of, key := t.least[shot], t.glass[lens]
	of.mu.Lock()
	known, ok := of.found[key]
	of.mu.Unlock()
	if ok {
		return known.outcome, known.near
	}
	j := judges.Get().(*judge)
	o, near = j.leastBad(t.at(lens), t.staged[shot])
	judges.Put(j)
	of.mu.Lock()
	defer of.mu.Unlock()
	if of.found == nil {
		of.found = map[*glass]leastBad{}
	}
	if len(of.found) < mostLooked {
		of.found[key] = leastBad{o, near}
	}
	return o, near
}

// shown gives the outcome of a lens in a shot with the set-up that is shown of it: of an excluded one
// the least bad.
func (t *Table) shown(shot, lens int) Outcome {
	o := t.outcomes[shot][lens]
	if o.Standing == Excluded {
		o, _ = t.leastBad(shot, lens)
	}
	return o
}

// shown judges a lens in a shot, and gives the outcome with the set-up that is shown of it.
func (j *judge) shown(g *glass, st *staged) Outcome {
	o := j.judge(g, st)
	if o.Standing == Excluded {
		o, _ = j.leastBad(g, st)
	}
	return o
}
