package audit

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/catalog"
)

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

func offerOf(lens *catalog.Lens) Offer { return Offer{lens.Name.Value, lens.Have.DayRate.OrNaN()} }

// cheaper orders the cheaper offer first, and last what is not known.
func cheaper(a, b Offer) int { return cmp.Compare(unknownLast(a.DayRate), unknownLast(b.DayRate)) }

func unknownLast(x float64) float64 {
	if math.IsNaN(x) {
		return math.Inf(1)
	}
	return x
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
// for more by adding each to the first that it fits. The window of several shots is
// solved anew for all of them together, for the edges of one axis may depend on another.
func merge(needs []need) []Specification {
	specifications := fewest(needs)
	for i := range specifications {
		if s := &specifications[i]; len(s.Shots) > 1 {
			s.Window = allOf(needs, s.Shots).window(s.Middle)
			for _, n := range needs {
				if slices.Contains(s.Shots, n.shot) {
					s.Thread = max(s.Thread, n.bench.needsThread(s.Middle))
				}
			}
		}
	}
	return specifications
}

// allOf checks a lens in all of some shots.
func allOf(needs []need, shots []int) check {
	var benches []*bench
	for _, n := range needs {
		if slices.Contains(shots, n.shot) {
			benches = append(benches, n.bench)
		}
	}
	return func(t *Trial) bool {
		for _, b := range benches {
			if !b.passes(t) {
				return false
			}
		}
		return true
	}
}

// fewest covers the needs with as few specifications as can be.
func fewest(needs []need) []Specification {
	if len(needs) > exactUpTo {
		return oneByOne(needs)
	}
	joint := make([]*Specification, 1<<len(needs))
	for set := range joint {
		joint[set] = join(needs, set)
	}
	// last[set] is the last specification of the best cover of a set of needs.
	last, count := make([]int, len(joint)), make([]int, len(joint))
	for set := 1; set < len(joint); set++ {
		count[set] = len(needs) + 1
		for part := set; part > 0; part = (part - 1) & set {
			if joint[part] != nil && count[set&^part]+1 < count[set] {
				count[set], last[set] = count[set&^part]+1, part
			}
		}
	}
	var specifications []Specification
	for set := len(joint) - 1; set > 0; set &^= last[set] {
		specifications = append(specifications, *joint[last[set]])
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
		} else if s = s.with(needs, i); s == nil {
			return nil
		}
	}
	return s
}

// with gives the specification that serves one need more, nil when no lens does.
func (s *Specification) with(needs []need, i int) *Specification {
	both, ok := s.meet(&needs[i].window)
	if !ok {
		return nil
	}
	joined := &Specification{Window: both, Shots: append(slices.Clone(s.Shots), needs[i].shot)}
	if !allOf(needs, joined.Shots)(&joined.Middle) {
		return nil
	}
	return joined
}

func oneByOne(needs []need) []Specification {
	var all []Specification
next:
	for i := range needs {
		for k := range all {
			if joined := all[k].with(needs, i); joined != nil {
				all[k] = *joined
				continue next
			}
		}
		all = append(all, Specification{Window: needs[i].window, Shots: []int{needs[i].shot}})
	}
	return all
}
