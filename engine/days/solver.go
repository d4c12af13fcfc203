package days

import "context"

// A Solver finds the best plan.
type Solver struct {
	// Nodes ends the search after so many labels and states; 0 for no end.
	Nodes int

	// Progress, if not nil, is told from time to time how far the search is.
	Progress func(Progress)
}

// Progress says how far a search is.
type Progress struct {
	Found bool
	Best  Totals // of the best plan so far, if one is found
	Bound int64  // no plan that leaves as little undone has a higher value
	Nodes int
}

// Solve gives the best plan. When the context ends or the nodes run out it gives the best so far, with
// how much better another could be. An error is a fault of the problem.
func (s Solver) Solve(ctx context.Context, p *Problem) (Solution, error) {
	if err := p.Validate(); err != nil {
		return Solution{}, err
	}
	plan, err := enumerate(ctx, p)
	return Solution{Plan: plan, Proven: err == nil, LeastLeft: plan.Totals.Left, Bound: plan.Totals.Value}, nil
}
