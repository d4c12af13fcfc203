package days

// kept reports whether shot i, which is written before shot j, must come before it in a run.
func (p *Problem) kept(i, j int) bool {
	a, b := &p.Shots[i], &p.Shots[j]
	free := min(a.Free, b.Free)
	switch {
	case a.Free == Everywhere || b.Free == Everywhere:
		return false
	case a.Scene == b.Scene && free >= InScene:
		return false
	case a.Place == b.Place && free >= InPlace:
		return false
	}
	return true
}
