package sure

import (
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/rig"
)

// changes bound what changes of set-up and money weigh against the scores of kits, whatever the
// assumed figures are: plates, post and stage may take anything then, and so may filters of lenses
// on which a figure bears.
type changes struct {
	table  *engine.Table
	price  float64   // of half a minute, in the score of a shot of weight 1; 0 where changes are free
	charge []float64 // of a day with each lens, likewise
	free   []bool    // the lenses that need not come
	all    float64   // by which two ways through the day can differ at most
}

func changesOf(t *engine.Table) changes {
	prices := t.Scenario.Prices
	c := changes{table: t, price: prices.Change * rig.Minutes(1).Value()}
	for _, lens := range t.Lenses() {
		day := 0.0
		if lens.Have.Kind == catalog.Hired {
			day = lens.Have.DayRate.Or(0)
		}
		c.charge = append(c.charge, prices.Money()*day)
		c.free = append(c.free, !slices.Contains(t.Scenario.Limits.Bring, lens.Name.Value))
	}
	shots := t.Scenario.Shots
	for i := 1; i < len(shots); i++ {
		c.all += c.price * float64(rig.Most(shots[i-1], shots[i], true, true)-rig.Least(shots[i-1], shots[i], false))
	}
	return c
}

// money gives what the hire of a kit weighs.
func (c *changes) money(kit []int) float64 {
	sum := 0.0
	for _, j := range kit {
		sum += c.charge[j]
	}
	return sum
}

// most gives the most that a kit can pay in the shots that it does, each with any lens that may do it.
func (c *changes) most(kit, shots []int, ranges [][]interval) float64 {
	ways := make([]float64, len(kit)) // half minutes so far, by the lens that is on
	for n, to := range shots {
		next := make([]float64, len(kit))
		for k, lens := range kit {
			if next[k] = math.Inf(-1); ranges[to][lens].high == 0 {
				continue
			}
			if n == 0 {
				next[k] = 0
				continue
			}
			for b := range kit {
				takes := rig.Most(c.shot(shots[n-1]), c.shot(to), b != k, b == k && c.filters(shots[n-1], to, lens))
				next[k] = max(next[k], ways[b]+float64(takes))
			}
		}
		ways = next
	}
	return c.price*max(0, slices.Max(append(ways, 0))) + c.money(kit)
}

// along gives the most that changes can weigh in some shots with a lens for each.
func (c *changes) along(shots, uses []int) float64 {
	takes := rig.Minutes(0)
	for n := 1; n < len(shots); n++ {
		from, to := shots[n-1], shots[n]
		other := uses[from] != uses[to]
		takes += rig.Most(c.shot(from), c.shot(to), other, !other && c.filters(from, to, uses[to]))
	}
	return c.price * float64(takes)
}

// least gives the least that a kit can pay in some shots: it is none without a use for each lens that
// need not come.
func (c *changes) least(kit, shots []int) float64 {
	base, change := rig.Minutes(0), rig.Minutes(math.MaxInt32)
	for n := 1; n < len(shots); n++ {
		from, to := c.shot(shots[n-1]), c.shot(shots[n])
		same := rig.Least(from, to, false)
		base, change = base+same, min(change, rig.Least(from, to, true)-same)
	}
	used := 0
	for _, j := range kit {
		if c.free[j] {
			used++
		}
	}
	if used > 1 && len(shots) > 1 {
		base += change * rig.Minutes(used-1)
	}
	return c.price*float64(base) + c.money(kit)
}

func (c *changes) shot(i int) *brief.Shot { return c.table.Scenario.Shots[i] }

// filters reports whether a lens may have other filters in one shot than in another.
func (c *changes) filters(from, to, lens int) bool {
	return c.table.RestsOn(from, lens) || c.table.RestsOn(to, lens) ||
		c.table.Outcome(from, lens).Filter != c.table.Outcome(to, lens).Filter
}
