package sure

import (
	"cmp"
	"context"
	"slices"
	"sync/atomic"

	"glassbrief/engine"
	"glassbrief/engine/parallel"
)

// A Hurt is what a cause takes from a kit when nothing else turns out otherwise, over all that it may be.
type Hurt struct {
	Cause
	Undone float64 // the share of its places at which the kit leaves undone what it does in the brief itself
	Loss   float64 // what the kit is worth less than the best kit of each place, in the mean
}

// places is how many places of what a cause may be are tried: the middles of so many equal parts.
const places = 10

// Hurts tells what each cause alone takes from the kit of a table: those that take something, the one
// first that leaves a shot undone most often, and of those alike the one that costs most. Progress is told how
// many causes of how many are done. It fails with the context's error when the context ends.
func Hurts(ctx context.Context, t *engine.Table, kit *engine.Kit, o engine.Options) ([]Hurt, error) {
	t = t.Eligible()
	o.Runners = 0
	causes := causesOf(t)
	all := make([]Hurt, len(causes))
	var done atomic.Int64
	err := parallel.For(ctx, len(causes), o.Workers, func(k int) {
		h, undone := Hurt{Cause: causes[k]}, 0
		for n := range places {
			tried := tryKit(h.alone(t, float64(2*n+1)/places-1), kit, o)
			if h.Loss += tried.loss() / places; !tried.covers(kit) {
				undone++
			}
		}
		h.Undone = float64(undone) / places
		all[k] = h
		if n := int(done.Add(1)); o.Progress != nil {
			o.Progress(n, len(causes))
		}
	})
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(h Hurt) bool { return h.Undone == 0 && h.Loss == 0 })
	slices.SortStableFunc(all, func(a, b Hurt) int {
		return cmp.Or(cmp.Compare(b.Undone, a.Undone), cmp.Compare(b.Loss, a.Loss))
	})
	return all, nil
}
