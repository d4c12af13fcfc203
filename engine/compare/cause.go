package compare

import (
	"context"
	"fmt"
	"slices"

	"glassbrief/engine"
)

const (
	// pairsOf bounds the number of changes of which all pairs are tried.
	pairsOf = 16
	// maxTries and fewTries bound the plans that are worked out to find causes, of a brief
	// of some blocks and of one with a catalogue of very many. They are counts and no times,
	// so that one input has one answer.
	maxTries = 600
	fewTries = 20
)

// triesFor gives how many plans may be worked out for a brief of so many blocks.
func triesFor(blocks int) int { return max(fewTries, min(maxTries, 60_000/max(1, blocks))) }

// A search tries changes of a brief. It remembers what each set of them came to.
type search struct {
	ctx     context.Context
	options engine.Options
	old     *content
	changes []Edit
	tried   map[string]*plan
}

// with gives the plan of the old brief with some of the changes, by their places in
// order, or nil when they make no plan or no more are to be tried.
func (s *search) with(set []int) *plan {
	key := fmt.Sprint(set)
	if p, ok := s.tried[key]; ok {
		return p
	}
	if len(s.tried) >= triesFor(len(s.old.blocks)) || s.ctx.Err() != nil {
		return nil
	}
	made := make([]Edit, len(set))
	for i, at := range set {
		made[i] = s.changes[at]
	}
	p := planOf(s.ctx, s.old.with(made), s.options)
	s.tried[key] = p
	return p
}

// cause gives the smallest set of changes, out of all, that brings a value of the plan from
// what it was to what is wanted, which it is with all of them: one change, or two, when the plan tells; else a set
// of which none can be left out. It is nil when none was found.
func (s *search) cause(all []int, want string, value func(*plan) string) []int {
	holds := func(set []int) bool {
		p := s.with(set)
		return p != nil && value(p) == want
	}
	for i := range all {
		if holds(all[i : i+1]) {
			return []int{i}
		}
	}
	if len(all) <= pairsOf {
		for i := range all {
			for j := range all[:i] {
				if holds([]int{j, i}) {
					return []int{j, i}
				}
			}
		}
	}
	return shrink(all, holds)
}

// shrink takes changes out of a set that holds, in ever smaller pieces, as long as it
// still holds, so that in the end none can be left out.
func shrink(set []int, holds func([]int) bool) []int {
	for size := max(1, len(set)/2); ; size = max(1, size/2) {
		before := len(set)
		for start := 0; start < len(set); {
			end := min(start+size, len(set))
			if rest := slices.Delete(slices.Clone(set), start, end); len(rest) > 0 && holds(rest) {
				set = rest
				continue
			}
			start = end
		}
		if size == 1 && len(set) == before {
			return set
		}
	}
}
