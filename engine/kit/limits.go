package kit

import (
	"fmt"
	"slices"
)

// LimitError says which limits contradict each other, so that there is nothing to bring.
type LimitError struct {
	Reason string
	Lenses []int // those that must come and cannot, ascending; nil when it is about all
}

// Error gives the reason.
func (e *LimitError) Error() string { return e.Reason }

// choices sorts the lenses into those that must come and those that may, and says which
// limits contradict each other when that leaves nothing.
func (t *table) choices(p *Problem) error {
	t.must = slices.Clone(p.Must)
	slices.Sort(t.must)
	t.must = slices.Compact(t.must)
	t.base = t.loadOf(t.must)
	for _, lens := range t.must {
		t.isMust[lens] = true
	}
	if err := t.mustFit(p); err != nil {
		return err
	}
	var open []int
	for lens := range t.scores {
		if !t.isMust[lens] && (p.Barred == nil || !p.Barred[lens]) {
			open = append(open, lens)
		}
	}
	for _, lens := range open {
		if len(t.must) < t.size && t.base.plus(t.loads[lens]).within(t.limit) {
			t.free = append(t.free, lens)
		}
	}
	if len(t.must) == 0 && len(t.free) == 0 {
		return &LimitError{Reason: t.nothingFits(open)}
	}
	t.size = min(t.size, len(t.must)+len(t.free))
	return nil
}

// mustFit says when the lenses that must come break a limit by themselves.
func (t *table) mustFit(p *Problem) error {
	var barred []int
	for _, lens := range t.must {
		if p.Barred != nil && p.Barred[lens] {
			barred = append(barred, lens)
		}
	}
	var reason string
	about := t.must
	switch {
	case len(barred) > 0:
		about = barred
		reason = fmt.Sprintf("%s must come and may not come", count(len(barred)))
	case len(t.must) > t.size:
		reason = fmt.Sprintf("%s must come, and only %d may be carried", count(len(t.must)), max(0, t.size))
	case t.base[onMass] > t.limit[onMass]:
		reason = fmt.Sprintf("the lenses that must come weigh %s, and the bag may hold %s",
			kilograms(t.base[onMass]), kilograms(t.limit[onMass]))
	case t.base[onCost] > t.limit[onCost]:
		reason = fmt.Sprintf("the lenses that must come cost %s a day, and %s may be spent",
			money(t.base[onCost]), money(t.limit[onCost]))
	default:
		return nil
	}
	return &LimitError{Reason: reason, Lenses: about}
}

// nothingFits says why none of the lenses that may come can: the lightest is too heavy,
// the cheapest too dear, or those light enough too dear.
func (t *table) nothingFits(open []int) string {
	switch {
	case len(t.scores) == 0:
		return "there is no lens to choose from"
	case t.size < 1:
		return "no lens may be carried"
	case len(open) == 0:
		return "every lens is among those that may not come"
	}
	least := func(axis int, lenses []int) int64 {
		low := int64(noLimit)
		for _, lens := range lenses {
			low = min(low, t.loads[lens][axis])
		}
		return low
	}
	light := slices.DeleteFunc(slices.Clone(open), func(lens int) bool { return t.loads[lens][onMass] > t.limit[onMass] })
	switch {
	case len(light) == 0:
		return fmt.Sprintf("the lightest lens that may come weighs %s, and the bag may hold %s",
			kilograms(least(onMass, open)), kilograms(t.limit[onMass]))
	case t.limit[onMass] == noLimit || least(onCost, open) > t.limit[onCost]:
		return fmt.Sprintf("the cheapest lens that may come costs %s a day, and %s may be spent",
			money(least(onCost, open)), money(t.limit[onCost]))
	default:
		return fmt.Sprintf("the bag may hold %s, and the cheapest lens within that costs %s a day, where %s may be spent",
			kilograms(t.limit[onMass]), money(least(onCost, light)), money(t.limit[onCost]))
	}
}

func count(lenses int) string {
	if lenses == 1 {
		return "1 lens"
	}
	return fmt.Sprintf("%d lenses", lenses)
}

func kilograms(mass int64) string { return fmt.Sprintf("%.4g kg", float64(mass)/massUnits) }

func money(cost int64) string { return fmt.Sprintf("%.2f", float64(cost)/costUnits) }
