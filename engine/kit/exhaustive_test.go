package kit

// exhaustive looks at every set, whatever their number: what [Search] must agree with.
type exhaustive struct{}

func (exhaustive) Solve(p *Problem, runners int) (Solution, error) {
	t, err := newTable(p)
	if err != nil {
		return Solution{}, err
	}
	return t.everySet(p, runners), nil
}

type solver interface {
	Solve(p *Problem, runners int) (Solution, error)
}
