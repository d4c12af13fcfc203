package audit

// A Specification is one lens to look for: a window that does one shot or several.
type Specification struct {
	Window
	Shots []int // places of the shots, ascending
	// Hire lists the lenses for hire that do all of these shots, the cheapest first.
	Hire []Offer
}

// An Offer is a lens for hire.
type Offer struct {
	Lens    string
	DayRate float64 // NaN when unknown
}

// exactUpTo bounds the windows that are merged exactly; more are merged one by one.
const exactUpTo = 12

// need is a window that fails to be met, and the bench that can try lenses for it.
type need struct {
	shot   int
	window Window
	bench  *bench
}

// merge gives the fewest specifications that serve all needs: exactly for a dozen, and
// for more by adding each to the first that it fits.
func merge(needs []need) []Specification {
	if len(needs) > exactUpTo {
		return mergeOneByOne(needs)
	}
	joint := make([]*Specification, 1<<len(needs))
	for set := range joint {
		joint[set] = join(needs, set)
	}
	// fewest[set] is the last specification of the best cover of a set of needs.
	fewest := make([]int, len(joint))
	count := make([]int, len(joint))
	for set := 1; set < len(joint); set++ {
		count[set] = len(needs) + 1
		for part := set; part > 0; part = (part - 1) & set {
			if joint[part] != nil && count[set&^part]+1 < count[set] {
				count[set], fewest[set] = count[set&^part]+1, part
			}
		}
	}
	var specifications []Specification
	for set := len(joint) - 1; set > 0; set &^= fewest[set] {
		specifications = append(specifications, *joint[fewest[set]])
	}
	return specifications
}

// join gives the specification that serves a set of needs, nil when there is none or the
// set is empty.
func join(needs []need, set int) *Specification {
	var s *Specification
	for i := range needs {
		if set>>i&1 == 0 {
			continue
		}
		if s == nil {
			s = &Specification{Window: needs[i].window, Shots: []int{needs[i].shot}}
			continue
		}
		both, ok := s.meet(&needs[i].window)
		if !ok {
			return nil
		}
		s.Window, s.Shots = both, append(s.Shots, needs[i].shot)
	}
	if s != nil && len(s.Shots) > 1 && !serves(needs, s) {
		return nil
	}
	return s
}

// serves reports whether the lens in the middle of a specification does all its shots.
func serves(needs []need, s *Specification) bool {
	for i := range needs {
		for _, shot := range s.Shots {
			if needs[i].shot == shot && !needs[i].bench.passes(&s.Middle) {
				return false
			}
		}
	}
	return true
}

func mergeOneByOne(needs []need) []Specification {
	var all []Specification
next:
	for i := range needs {
		for k := range all {
			if both, ok := all[k].meet(&needs[i].window); ok {
				joined := Specification{Window: both, Shots: append(append([]int(nil), all[k].Shots...), needs[i].shot)}
				if serves(needs, &joined) {
					all[k] = joined
					continue next
				}
			}
		}
		all = append(all, Specification{Window: needs[i].window, Shots: []int{needs[i].shot}})
	}
	return all
}
