package audit

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/engine/why"
)

// A FilterSpec is one ND filter to bring for some shots.
type FilterSpec struct {
	Thread, Stops float64
	Shots         []int    // places of the shots, ascending
	Lenses        []string // that it goes on, as they come in the shots
}

// fewestFilters gives the fewest filters that serve all shots that lack one: of one thread, a
// filter serves the shots whose ranges it lies in.
func fewestFilters(shots []ShotVerdict) []FilterSpec {
	var open []int
	for i := range shots {
		if shots[i].Filter != nil {
			open = append(open, i)
		}
	}
	want := func(i int) *why.FilterWant { return shots[i].Filter }
	slices.SortStableFunc(open, func(a, b int) int {
		return cmp.Or(cmp.Compare(want(a).Thread, want(b).Thread), cmp.Compare(want(a).Most, want(b).Most))
	})
	var all []FilterSpec
	for len(open) > 0 {
		// The strongest that the least demanding shot bears serves as many others as any.
		first := want(open[0])
		spec, low, sum := FilterSpec{Thread: first.Thread}, 0.0, 0.0
		open = slices.DeleteFunc(open, func(i int) bool {
			w := want(i)
			if math.Abs(w.Thread-first.Thread) > 0.1e-3 || w.Least > first.Most {
				return false
			}
			spec.Shots = append(spec.Shots, i)
			low, sum = max(low, w.Least), sum+w.Stops
			return true
		})
		spec.Stops = min(max(math.Round(sum/float64(len(spec.Shots))), low), first.Most)
		slices.Sort(spec.Shots)
		for _, i := range spec.Shots {
			if name := want(i).Lens; !slices.Contains(spec.Lenses, name) {
				spec.Lenses = append(spec.Lenses, name)
			}
		}
		all = append(all, spec)
	}
	return all
}
