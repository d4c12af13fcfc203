package kit

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
)

// A Series gives the best set of one problem after another that differ in their scores alone, as
// [Search.Solve] does: a lens does the same shots in all of them. What does not hang on scores is
// worked out once: the least that the changes of a set can take. And sets that were best before are
// good ones to begin with, so that little is left to look at. It is for one goroutine.
type Series struct {
	*table
	search  Search
	lenses  []int   // that may come
	before  [][]int // best sets so far, the latest first
	covered int64   // the weight that each best set covers
	branch  *branch
	prices  prices
	list    []priced
	toll    toll
	bonus   int32 // for a covered shot, where not all can be covered
	pays    map[string]int64
	key     []byte
	depths  []depth // by how many lenses a set has
}

// A depth is memory for the sets of as many lenses.
type depth struct {
	list []priced
	row  []int32
}

const (
	begun       = 3 // of the sets that were best before so many are tried at first
	seriesSteps = 4 // towards better prices
	mostUsed    = 6 // of more lenses there are too many ways to have used some
)

// Series begins a series. It fails as [Search.Solve] does.
func (s Search) Series(p *Problem) (*Series, error) {
	t, err := newTable(p)
	if err != nil {
		return nil, err
	}
	return &Series{table: t, search: s, lenses: t.free, pays: map[string]int64{}}, nil
}

// Best gives the lenses of the best set with other scores, lenses first, ascending, and whether it is
// proven.
func (s *Series) Best(scores [][]float64) (lenses []int, proven bool) {
	for lens, row := range scores {
		for shot, score := range row {
			s.scores[lens][shot] = scoreOf(score)
		}
	}
	var best candidate
	if s.before == nil {
		good, w := s.swap(s.greedy())
		best, proven = s.prove(good, w)
		s.begin(&best)
	} else {
		best, proven = s.next()
	}
	at := slices.IndexFunc(s.before, func(set []int) bool { return slices.Equal(set, best.lenses) })
	if at < 0 {
		if at = len(s.before); at < begun {
			s.before = append(s.before, nil)
		} else {
			at--
		}
	}
	copy(s.before[1:at+1], s.before[:at])
	s.before[0] = best.lenses
	return best.lenses, proven
}

// begin notes what holds for all problems of the series.
func (s *Series) begin(best *candidate) {
	s.branch, s.covered = newBranch(s.table, 0), best.worth.covered
	s.toll = s.table.toll(nil)
	if best.worth.covered < s.branch.reach {
		s.bonus = coverBonus * scoreUnits
	} else {
		s.toll = s.table.toll(s.branch.reached())
	}
	s.branch.toll, s.branch.most = s.toll, scoreUnits+s.bonus
	s.prices.shot = s.rowOf(best.lenses)
	for range s.size {
		s.depths = append(s.depths, depth{make([]priced, len(s.lenses)), make([]int32, len(s.weights))})
	}
	if s.priced() {
		s.tighter = func(lenses []int, bound worth) worth {
			bound.score += s.toll.of(lenses) - s.pay(lenses)
			return bound
		}
	}
}

// next looks for the best set where others were before.
func (s *Series) next() (best candidate, proven bool) {
	found := podium{places: 1}
	s.offer(&found, s.must)
	for _, set := range s.before {
		s.offer(&found, set)
	}
	if found.best[0].worth.covered < s.covered { // each holds a lens that adds nothing now
		s.offer(&found, s.withoutIdle(slices.Clone(s.before[0])))
	}
	if len(s.lenses) == 0 { // those that must come are all
		return found.best[0], true
	}
	b := s.branch
	if b.values = s.scores; s.bonus > 0 {
		b.values = s.withBonus(s.bonus)
	}
	s.list = s.list[:0]
	for _, lens := range s.lenses {
		s.list = append(s.list, priced{lens: lens})
	}
	row := rowIn(b.values, s.must, len(s.weights))
	list, open := b.improve(&s.prices, row, s.size-len(s.must), s.limit.minus(s.base), s.list, seriesSteps, s.floor(&found)+s.toll.of(s.must))
	if !open {
		return found.best[0], true
	}
	few := make([]int, len(list))
	for i, l := range list {
		few[i] = l.lens
	}
	s.free = few
	defer func() { s.free = s.lenses }()
	if s.sizes() > plainSets {
		slices.Sort(few)
		return s.prove(found.best[0].lenses, s.worthOf(s.rowOf(found.best[0].lenses)))
	}
	sum := s.branch.worthOf(row).score - s.toll.of(s.must)
	s.descend(&found, append(make([]int, 0, s.size), s.must...), row, sum, s.limit.minus(s.base), list)
	return found.best[0], true
}

// offer tries a set.
func (s *Series) offer(found *podium, lenses []int) {
	bound := s.worthOf(s.rowOf(lenses))
	bound.score -= s.toll.of(lenses)
	found.try(s.table, lenses, bound)
}

// floor gives the value from which a set can get the place of the best.
func (s *Series) floor(found *podium) int64 {
	w := found.best[0].worth
	return w.score + int64(s.bonus)*w.covered
}

// descend tries the sets of some lenses with others of a list. What two lenses bring to a set is no more
// than what each brings alone, so that many need no look.
func (s *Series) descend(found *podium, lenses []int, row []int32, sum int64, left load, list []priced) {
	room := s.size - len(lenses)
	if len(list) == 0 || room == 0 {
		return
	}
	depth := s.depths[len(lenses)]
	rest := depth.list[:0]
	for _, l := range list {
		if s.loads[l.lens].within(left) {
			rest = append(rest, priced{l.lens, excess(row, s.branch.values[l.lens], s.weights) - s.toll.on(l.lens)})
		}
	}
	if room > 1 {
		slices.SortFunc(rest, func(a, b priced) int {
			return cmp.Or(cmp.Compare(b.above, a.above), cmp.Compare(a.lens, b.lens))
		})
	}
	for i, l := range rest {
		if room > 1 && most(rest[i:], sum, room) < s.floor(found) {
			return
		}
		with := append(lenses, l.lens)
		if sum+l.above >= s.floor(found) {
			s.offer(found, with)
		}
		if room > 1 {
			copy(depth.row, row)
			raise(depth.row, s.branch.values[l.lens])
			s.descend(found, with, depth.row, sum+l.above, left.minus(s.loads[l.lens]), rest[i+1:])
		}
	}
}

// prove gives the best set, from a good one.
func (s *Series) prove(good []int, w worth) (candidate, bool) {
	best, solution := s.table.prove(good, w, s.search.NodeLimit)
	return best, solution.Proven
}

// pay gives the least that a set pays for changes and money while each lens that need not come is used.
func (s *Series) pay(lenses []int) int64 {
	s.key = s.key[:0]
	for _, lens := range lenses {
		s.key = binary.AppendUvarint(s.key, uint64(lens))
	}
	pays, known := s.pays[string(s.key)]
	if !known {
		pays = s.each*int64(s.leastTakes(lenses)) + s.money(lenses)
		s.pays[string(s.key)] = pays
	}
	return pays
}

// leastTakes gives the least that the changes of a set take while each lens that need not come is used: a
// shortest path over the shots, the lenses that are on, and those that were.
func (s *Series) leastTakes(lenses []int) int {
	if len(lenses) == 0 || len(lenses) > mostUsed {
		return 0
	}
	s.changes.Kit(lenses)
	width, wanted := len(lenses), 0
	for i, lens := range lenses {
		if !s.isMust[lens] {
			wanted |= 1 << i
		}
	}
	const none = math.MaxInt / 2
	now, next := make([]int, width<<width), make([]int, width<<width) // by those used, and the one that is on
	last := -1
	for shot := range s.weights {
		if !slices.ContainsFunc(lenses, func(lens int) bool { return s.scores[lens][shot] > 0 }) {
			continue
		}
		for i := range next {
			next[i] = none
		}
		for i, lens := range lenses {
			switch {
			case s.scores[lens][shot] == 0:
			case last < 0:
				next[1<<i*width+i] = 0
			default:
				for used := range 1 << width {
					for j := range lenses {
						if before := now[used*width+j]; before < none {
							to := &next[(used|1<<i)*width+i]
							*to = min(*to, before+s.changes.Between(last, j, shot, i))
						}
					}
				}
			}
		}
		now, next, last = next, now, shot
	}
	least := none
	for used := range 1 << width {
		if used&wanted == wanted {
			least = min(least, slices.Min(now[used*width:(used+1)*width]))
		}
	}
	if last < 0 || least == none {
		return 0
	}
	return least
}
