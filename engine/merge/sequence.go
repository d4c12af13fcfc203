package merge

import (
	"slices"
	"strings"

	"glassbrief/lang"
)

// An entity is a unit in the versions that have it; the others are nil.
type entity struct{ base, ours, theirs *unit }

// list merges the units of a block.
func (m *merger) list(shape lang.Shape, base, ours, theirs []*unit) {
	sides := [2][]*unit{ours, theirs}
	var entities [2][]*entity // of each unit of a side
	known := make([]*entity, len(base))
	for i, b := range base {
		known[i] = &entity{base: b}
	}
	for s, side := range sides {
		entities[s] = make([]*entity, len(side))
		for i, n := range match(shape, base, side) {
			if n >= 0 {
				entities[s][n] = known[i]
			}
		}
	}
	// What both add can be the same.
	var added [2][]*unit
	var places [2][]int
	for s, side := range sides {
		for n, u := range side {
			if entities[s][n] == nil {
				added[s], places[s] = append(added[s], u), append(places[s], n)
			}
		}
	}
	for i, n := range matchKeys(shape, added[0], added[1], false) {
		e := &entity{}
		entities[0][places[0][i]] = e
		if n >= 0 {
			entities[1][places[1][n]] = e
		}
	}
	for _, n := range places[1] {
		if entities[1][n] == nil {
			entities[1][n] = &entity{}
		}
	}
	for n, e := range entities[0] {
		e.ours = ours[n]
	}
	for n, e := range entities[1] {
		e.theirs = theirs[n]
	}
	m.sequence(shape, known, entities[0], entities[1])
}

// A sequence is entities on their way into the merged order: those that all versions have, and behind each
// what stands there beside, as one side or the other has it.
type sequence struct {
	*merger
	shape  lang.Shape
	number map[*entity]int // of those that all versions have: their places in all
	all    []*entity
	order  ordering // of all
	apart  []bool   // of all, what the sides put in different places
	loose  []bool   // of those, what has an order that says nothing, so that our side places it
	slots  []slot   // at the beginning, and behind each of all
}

// A slot is what stands beside those that all versions have, at one place.
type slot struct{ ours, theirs []*entity }

// sequence writes entities in their merged order, what was added at one place by our side and then by theirs.
func (m *merger) sequence(shape lang.Shape, base, ours, theirs []*entity) {
	s := &sequence{merger: m, shape: shape, number: map[*entity]int{}}
	for _, e := range base {
		if e.ours != nil && e.theirs != nil {
			s.number[e] = len(s.all)
			s.all = append(s.all, e)
		}
	}
	s.order = order(s.places(ours), s.places(theirs))
	s.apart, s.loose, s.slots = make([]bool, len(s.all)), make([]bool, len(s.all)), make([]slot, len(s.all)+1)
	for _, n := range s.order.apart {
		s.apart[n] = true
		s.loose[n] = !hasOrder(shape, s.all[n].ours)
	}
	s.fill(ours, s.order.byTheirs, true)
	s.fill(theirs, s.order.byOurs, false)
	s.flush(s.slots[0])
	for _, n := range s.order.merged {
		m.entity(shape, s.all[n])
		s.flush(s.slots[n+1])
	}
}

// places gives the order in which a side has those that all versions have.
func (s *sequence) places(side []*entity) (order []int) {
	for _, e := range side {
		if n, common := s.number[e]; common {
			order = append(order, n)
		}
	}
	return order
}

// fill puts what a side has beside those that all versions have into the slot behind the last one that the
// other side did not move.
func (s *sequence) fill(side []*entity, movedByOther []bool, ofOurs bool) {
	behind := 0
	for _, e := range side {
		n, common := s.number[e]
		if common && !s.apart[n] {
			if !movedByOther[n] {
				behind = n + 1
			}
			continue
		}
		at := &s.slots[behind]
		switch {
		case ofOurs:
			at.ours = append(at.ours, e)
		case common && s.loose[n], !common && e.ours != nil: // our side has placed it
		default:
			at.theirs = append(at.theirs, e)
		}
	}
}

// flush writes a slot: first what is settled, then between marks what the sides put in different places.
func (s *sequence) flush(of slot) {
	isEdition := func(e *entity) bool { return e.theirs != nil && e.theirs.keyword == lang.EditionKeyword }
	if n := slices.IndexFunc(of.theirs, isEdition) + 1; n > 0 { // which stands before all else
		of.ours, of.theirs = slices.Concat(of.theirs[:n], of.ours), of.theirs[n:]
	}
	ours := s.settled(of.ours)
	s.moved(s.shape, ours, s.settled(of.theirs))
}

// settled writes the entities whose place is settled, and gives the others.
func (s *sequence) settled(side []*entity) (left []*entity) {
	for _, e := range side {
		if n, common := s.number[e]; common && s.apart[n] && !s.loose[n] {
			left = append(left, e)
		} else {
			s.entity(s.shape, e)
		}
	}
	return left
}

// hasOrder reports whether the order says something in which units of this kind stand: that of shots is
// the order of shooting, upper catalogues hold, and the first mode of a camera is the one that is used.
func hasOrder(shape lang.Shape, u *unit) bool {
	standing := shape[u.keyword]
	return standing.Repeats && !standing.Free
}

// moved writes what both sides put elsewhere, at a place where one or both have it.
func (m *merger) moved(shape lang.Shape, ours, theirs []*entity) {
	for len(ours) > 0 && len(theirs) > 0 && ours[0] == theirs[0] {
		m.entity(shape, ours[0])
		ours, theirs = ours[1:], theirs[1:]
	}
	if len(ours)+len(theirs) == 0 {
		return
	}
	text := func(list []*entity, of func(*entity) *unit) string {
		var b strings.Builder
		for _, e := range list {
			alone := &merger{Options: m.Options}
			alone.entity(shape, e)
			u := of(e)
			text := alone.out.String()
			if len(alone.conflicts) > 0 {
				text = u.gap + u.raw
			}
			b.WriteString(text)
		}
		return b.String()
	}
	u := slices.Concat(ours, theirs)[0].ours
	m.hunk(u.block(m.block), "order", text(ours, func(e *entity) *unit { return e.ours }), text(theirs, func(e *entity) *unit { return e.theirs }))
}
