package days

import (
	"context"
	"errors"
	"slices"
)

// A Solver finds the best plan. It works on one processor, and where nothing stops it the plan is the same on
// every machine.
type Solver struct {
	// Nodes ends the search after so many labels and states; 0 for no end.
	Nodes int

	// Progress, if not nil, is told from time to time how far the search is.
	Progress func(Progress)
}

// Progress says how far a search is.
type Progress struct {
	Found bool
	Best  Totals // of the best plan so far, if one is found; no mass
	Bound int64  // value that no plan with the bags that are looked at has more of
	Nodes int
}

// Solve gives the best plan. When the context ends or the nodes run out it gives the best so far, with
// how much better another could be. An error is a fault of the problem.
func (s Solver) Solve(ctx context.Context, p *Problem) (Solution, error) {
	if err := p.Validate(); err != nil {
		return Solution{}, err
	}
	e := &search{g: newGround(p), m: &meter{ctx: ctx, limit: s.Nodes}, known: map[string]value{}, done: map[string]bool{}}
	e.cuts = newCuts(e.g, e.m)
	e.best.value = nothing
	for i := range p.Shots {
		e.total += p.Shots[i].Weight
	}
	if s.Progress != nil {
		e.m.tell = func() { s.Progress(e.progress()) }
	}
	for _, phase := range []func() error{e.whole, e.partial} {
		if err := phase(); err != nil {
			return Solution{}, err
		}
	}
	return e.solution(), nil
}

// ErrBags is returned when no bags can be packed: the lenses that must come do not fit, or cost more
// than all may cost.
var ErrBags = errors.New("the lenses that must come do not fit in the bags, or cost more than there is for all days")

// A search is a run of a [Solver].
type search struct {
	g     *ground
	m     *meter
	cuts  *cuts
	best  candidate
	total int64            // weight of all shots
	least int64            // weight that is lost whatever the bags
	first *kit             // good at first sight; nil for none
	free  *shoot           // with whatever bags
	stuck bool             // it cannot do all that there is a lens for
	known map[string]value // what the kits that were tried can be worth if they leave out nothing, [nothing] for no better plan
	done  map[string]bool  // those that need not be tried again
	turn  int              // nodes that a kit gets; 0 for all
	bound int64            // worth of the kit that is being tried
	open  bool             // of some kit it is not known what it can be worth at best: it has too many ways to fill a day
	far   bool             // an equal plan nearer to the order as written may have been missed
}

// beats reports whether bags with a bound could be as good as the best plan.
func (e *search) beats(lost, worth int64) bool {
	return !e.best.value.clearly(e.limit(lost, worth))
}

func (e *search) limit(lost, worth int64) value {
	return value{weight: e.total - max(lost, e.least), worth: worth}
}

// whole looks for plans that do all that the lenses of the bags can do, which is as a rule all there is
// to do. A kit that is good at first sight gives a plan that few others come near.
func (e *search) whole() error {
	free := &candidate{value: nothing}
	e.free = newFreeShoot(e.g, e.m, e.cuts, true, set{})
	e.free.solve(free, &kit{})
	e.stuck = free.value.weight < 0 && !e.m.ended
	e.m.resume(e.m.limit) // bags may leave fewer ways to fill a day
	first := greedy(e.g)
	e.first = first
	if first != nil {
		if err := e.all([]kit{*first}, e.tryWhole); err != nil {
			return err
		}
	}
	kits := pack(e.g, e.m, e.beats)
	switch {
	case len(kits) == 0 && e.best.value.weight < 0 && !e.m.ended:
		return ErrBags
	case e.best.value.weight < 0 && first != nil:
		few := min(fewKits, len(kits))
		if err := e.all(kits[:few], e.tryWhole); err != nil {
			return err
		}
		if e.best.value.weight < 0 && !e.m.ended {
			if err := e.anything(first); err != nil {
				return err
			}
		}
	}
	// A kit that takes long waits until the others have had their turn, so that the gap is small early.
	e.turn = kitNodes
	if err := e.all(kits, e.tryWhole); err != nil {
		return err
	}
	e.turn = 0
	return e.all(kits, e.tryWhole)
}

// anything looks for some plan with a kit, so that there is one when the search is ended soon.
func (e *search) anything(k *kit) error {
	for most := e.lightest(); e.best.value.weight < 0 && most < 2*e.total && !e.m.ended; most *= 2 {
		s, err := e.leaving(k)(set{})
		if err != nil || !s.any(&e.best, k, most) {
			return err
		}
	}
	return nil
}

const (
	fewKits  = 20        // that are tried before a plan is sought that leaves something out
	kitNodes = 1_000_000 // that a kit gets at first
)

// leaving makes shoots with the bags of a kit that may leave something out.
func (e *search) leaving(k *kit) func(givenUp set) (*shoot, error) {
	return func(givenUp set) (*shoot, error) {
		return newShoot(e.g, e.m, e.cuts, k.bags, false, givenUp)
	}
}

// partial looks for plans that leave out something for lack of room, with bags that could do more than is
// done so far. It asks for plans that leave out little, and for more while there is none.
func (e *search) partial() error {
	more := func(lost, worth int64) bool { return lost < e.left() && e.beats(lost, worth) }
	if e.m.ended || len(pack(e.g, e.m, more)) == 0 {
		return nil
	}
	if e.stuck {
		free := &candidate{value: nothing}
		for most := e.free.lost + e.lightest(); !e.m.ended; most = min(2*most, e.total) {
			_, err := e.given(func(givenUp set) (*shoot, error) {
				return newFreeShoot(e.g, e.m, e.cuts, false, givenUp), nil
			}, free, &kit{}, most)
			if err != nil {
				return err
			}
			if left := e.total - max(0, free.value.weight); left <= most && !e.m.ended {
				e.least = left
				break
			}
		}
	}
	for most := max(e.least, e.lightest()); !e.m.ended; most = min(2*most, e.total) {
		most = min(most, e.left())
		kits := pack(e.g, e.m, func(lost, worth int64) bool { return lost <= most && more(lost, worth) })
		err := e.all(kits, func(k *kit) error {
			limit, err := e.given(e.leaving(k), &e.best, k, most)
			e.far = e.far || !e.best.value.clearly(limit)
			return err
		})
		if err != nil || e.left() <= most {
			return err
		}
	}
	return nil
}

// left gives the weight that the best plan leaves out.
func (e *search) left() int64 { return e.total - max(0, e.best.value.weight) }

// lightest gives the least weight of a shot.
func (e *search) lightest() int64 {
	least := e.total
	for i := range e.g.p.Shots {
		least = min(least, e.g.p.Shots[i].Weight)
	}
	return max(1, least)
}

// all tries kits, the best bound first, until the search ends.
func (e *search) all(kits []kit, try func(*kit) error) error {
	for k := range kits {
		kit := &kits[k]
		if e.m.ended {
			return nil
		}
		if !e.beats(kit.lost, kit.worth) {
			continue
		}
		e.bound = kit.worth
		if err := try(kit); err != nil {
			return err
		}
	}
	return nil
}

// tryWhole looks for plans of a kit that do all that its lenses can do.
func (e *search) tryWhole(k *kit) error {
	key := k.key()
	if limit, tried := e.known[key]; tried && (e.done[key] || !limit.better(e.best.value)) {
		return nil
	}
	s, err := newShoot(e.g, e.m, e.cuts, k.bags, true, set{})
	if err != nil {
		return err
	}
	if e.stuck && e.free.possible.within(s.possible) {
		e.known[key] = nothing // no bags can do as much
		return nil
	}
	most := e.m.limit
	if e.turn > 0 {
		e.m.lower(e.turn)
	}
	e.known[key] = s.solve(&e.best, k)
	e.done[key] = !e.m.ended
	e.open = e.m.ended && e.turn == 0 || e.open
	e.m.resume(most)
	e.far = e.far || !s.near && !e.best.value.clearly(s.top)
	return nil
}

// given looks for plans of a kit that leave out no more than most. It tries all sets of shots that could be
// given up beforehand, of those that come after shots of other blocks and of those shots. All others of
// these are done, so that what comes after what is known.
func (e *search) given(make func(givenUp set) (*shoot, error), best *candidate, k *kit, most int64) (limit value, err error) {
	s, err := make(set{})
	if err != nil {
		return nothing, err
	}
	limit = nothing
	linked := s.must
	var tries func(from int, givenUp set) error
	tries = func(from int, givenUp set) error {
		s, err := make(givenUp)
		if err != nil || e.m.ended || s.lost > most || e.total-s.lost < best.value.weight {
			return err
		}
		s.spare = most - s.lost
		if l := s.solve(best, k); l.better(limit) {
			limit = l
		}
		for i := range linked.all {
			if i >= from {
				if err := tries(i+1, givenUp.with(i)); err != nil {
					return err
				}
			}
		}
		return nil
	}
	return limit, tries(0, set{})
}

func (e *search) progress() Progress {
	p := Progress{Found: e.best.value.weight >= 0, Nodes: e.m.nodes, Bound: e.bound}
	if v := e.best.value; p.Found {
		p.Best = Totals{Left: e.total - v.weight, Value: v.worth, Changes: int(v.ties / oneChange), Moved: int(v.ties % oneChange), Cost: v.cents}
	}
	return p
}

// solution gives the best plan, or the one that does nothing while none is found.
func (e *search) solution() Solution {
	if e.best.value.weight < 0 {
		e.best.kit = e.first
	}
	s := Solution{Plan: e.best.plan(e.g), Proven: true, Nodes: e.m.nodes}
	t := s.Plan.Totals
	s.LeastLeft, s.Bound = t.Left, t.Value
	if !e.m.ended && !e.open {
		s.Nearest = !e.far && !slices.ContainsFunc(s.Plan.Left, func(l Left) bool { return l.Why == NoRoom })
		return s
	}
	for _, k := range pack(e.g, &meter{ctx: context.Background()}, e.beats) {
		v := e.limit(k.lost, k.worth)
		switch limit, tried := e.known[k.key()]; {
		case tried && limit.weight >= 0:
			v = limit
		case tried && k.lost >= t.Left:
			continue // it does no more than the plan, and none of its plans is better
		case tried:
			v = e.limit(k.lost+e.lightest(), k.worth) // it cannot do all that it has lenses for
		}
		if v.clearly(e.best.value) {
			s.Proven = false
			s.LeastLeft = min(s.LeastLeft, e.total-v.weight)
			s.Bound = max(s.Bound, v.worth)
		}
	}
	return s
}
