package kit

import (
	"fmt"
	"slices"
)

// Exhaustive looks at every set. It is the plain form that any other solver must agree
// with, and the fastest for a few dozen lenses.
type Exhaustive struct{}

// Solve gives the best set and runners more.
func (Exhaustive) Solve(p *Problem, runners int) (Solution, error) {
	t, err := p.table()
	if err != nil {
		return Solution{}, err
	}
	if err := p.checkMust(); err != nil {
		return Solution{}, err
	}
	free := p.free()
	var best []candidate
	nodes := 0
	var visit func(from int, lenses []int)
	visit = func(from int, lenses []int) {
		nodes++
		if p.allowed(lenses) {
			c := candidate{lenses: slices.Sorted(slices.Values(lenses)), value: t.valueOf(lenses)}
			if len(best) <= runners || c.value >= best[len(best)-1].value {
				p.complete(t, &c)
				best = keep(best, c, runners+1)
			}
		}
		if len(lenses) == p.Size {
			return
		}
		for i := from; i < len(free); i++ {
			visit(i+1, append(lenses[:len(lenses):len(lenses)], free[i]))
		}
	}
	visit(0, p.Must)
	return p.solution(t, best, nodes), nil
}

// keep inserts a candidate into a list of at most most, best first.
func keep(best []candidate, c candidate, most int) []candidate {
	at, _ := slices.BinarySearchFunc(best, c, func(a, b candidate) int { return compare(&a, &b) })
	if at == most {
		return best
	}
	best = slices.Insert(best, at, c)
	return best[:min(len(best), most)]
}

func (p *Problem) solution(t *table, best []candidate, nodes int) Solution {
	s := Solution{Proven: true, Nodes: nodes}
	for i := range best {
		s.Sets = append(s.Sets, p.set(t, &best[i]))
	}
	return s
}

// free lists the lenses that may come and need not.
func (p *Problem) free() []int {
	var free []int
	for lens := range p.Scores {
		if !slices.Contains(p.Must, lens) && (p.Barred == nil || !p.Barred[lens]) {
			free = append(free, lens)
		}
	}
	return free
}

// checkMust says when the lenses that must come break a limit by themselves.
func (p *Problem) checkMust() error {
	if len(p.Must) > p.Size {
		return &LimitError{fmt.Sprintf("%d lenses must come, and only %d may be carried", len(p.Must), p.Size)}
	}
	mass, cost := p.load(p.Must)
	switch {
	case p.MaxMass > 0 && mass > p.MaxMass+limitSlack:
		return &LimitError{fmt.Sprintf("the lenses that must come weigh %.3g kg, and the bag may hold %.3g kg", mass, p.MaxMass)}
	case p.MaxCost >= 0 && cost > p.MaxCost+limitSlack:
		return &LimitError{fmt.Sprintf("the lenses that must come cost %.2f a day, and %.2f may be spent", cost, p.MaxCost)}
	}
	return nil
}
