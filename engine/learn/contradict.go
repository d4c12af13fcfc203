package learn

import (
	"math/bits"
	"slices"
)

// A Contradiction is a set of choices that no weights explain together, though they explain any part of
// it: whatever the weights, as long as none is negative, a lens that was not taken is worth as much as the
// one that was, in one of the choices.
type Contradiction struct {
	Choices []int // by their places, in order
	Least   bool  // no set of fewer choices contradicts itself
}

// explained is the least margin, of differences that reach 1 in one criterion, by which weights explain
// choices. Rounding stays far below.
const explained = 1e-9

// mostSets is how many sets of choices are looked at on the way to the smallest, mostAtOnce how many choices one
// search can hold, and mostFound how many contradictions of several choices are looked for.
const (
	mostSets   = 500
	mostAtOnce = 64
	mostFound  = 3
)

// Contradict finds sets of choices that contradict themselves, none of which shares a choice with another: first
// every choice that no weights explain by itself, then the smallest sets one after another, a few of them. more
// says that what is left contradicts itself too.
func Contradict(choices []Choice) (all []Contradiction, more bool) {
	s := &search{rows: make([][][]float64, len(choices))}
	var left []int
	for i := range choices {
		s.rows[i] = differences(&choices[i])
		if s.explains([]int{i}) {
			left = append(left, i)
		} else {
			all = append(all, Contradiction{[]int{i}, true})
		}
	}
	for range mostFound {
		if s.explains(left) {
			return all, false
		}
		found := s.smallest(left)
		all = append(all, found)
		left = slices.DeleteFunc(left, func(i int) bool { return slices.Contains(found.Choices, i) })
	}
	return all, !s.explains(left)
}

// differences gives by how much each criterion speaks for the lens that was taken, against each other one.
// A lens that no criterion tells from it is no row: no weights could.
func differences(c *Choice) (rows [][]float64) {
	taken := c.Shot.Logs[c.Lens]
	c.others(func(lens int) {
		row, differs := make([]float64, len(taken)), false
		for k, x := range c.Shot.Logs[lens] {
			row[k] = taken[k] - x
			differs = differs || row[k] != 0
		}
		if differs {
			rows = append(rows, row)
		}
	})
	return rows
}

type search struct {
	rows [][][]float64 // of each choice
}

// explains reports whether some weights explain all of some choices.
func (s *search) explains(choices []int) bool {
	var rows [][]float64
	for _, i := range choices {
		rows = append(rows, s.rows[i]...)
	}
	_, most, _ := margin(rows)
	return most > explained // a mixture proves the opposite
}

// smallest finds a smallest set among choices that no weights explain. Each set that contradicts itself
// meets the rest of every set that can be explained. So a smallest set that meets all rests which are known
// is the answer if it contradicts itself; else it is filled up until nothing more can be explained with it,
// and what is left is a new rest ("Smallest MUS extraction with minimal hitting set dualization", 2015).
func (s *search) smallest(choices []int) Contradiction {
	if len(choices) > mostAtOnce {
		choices = s.shrink(choices)
	}
	if len(choices) > mostAtOnce {
		return Contradiction{Choices: choices}
	}
	var rests []uint64
	for range mostSets {
		hit := hitting(rests)
		var set []int
		for k, i := range choices {
			if hit>>k&1 == 1 {
				set = append(set, i)
			}
		}
		if !s.explains(set) {
			return Contradiction{Choices: set, Least: true}
		}
		rest := uint64(0)
		for k, i := range choices {
			if hit>>k&1 == 1 {
				continue
			}
			if with := append(slices.Clone(set), i); s.explains(with) {
				set = with
			} else {
				rest |= 1 << k
			}
		}
		rests = append(rests, rest)
	}
	return Contradiction{Choices: s.shrink(choices)}
}

// shrink takes choices out, the last first, as long as the rest contradicts itself.
func (s *search) shrink(choices []int) []int {
	set := slices.Clone(choices)
	for k := len(set) - 1; k >= 0; k-- {
		if less := slices.Delete(slices.Clone(set), k, k+1); !s.explains(less) {
			set = less
		}
	}
	return set
}

// hitting gives a smallest set that meets each of some sets, none of which is empty.
func hitting(sets []uint64) uint64 {
	best, size := uint64(0), len(sets)+1
	var walk func(set uint64, depth int)
	walk = func(set uint64, depth int) {
		open, apart, taken := uint64(0), 0, uint64(0) // at least as many more are needed as there are sets apart
		for _, other := range sets {
			if other&set != 0 {
				continue
			}
			if open == 0 || bits.OnesCount64(other) < bits.OnesCount64(open) {
				open = other
			}
			if other&taken == 0 {
				apart, taken = apart+1, taken|other
			}
		}
		if open == 0 {
			if depth < size {
				best, size = set, depth
			}
			return
		}
		if depth+apart >= size {
			return
		}
		for rest := open; rest != 0; rest &= rest - 1 {
			walk(set|rest&-rest, depth+1)
		}
	}
	walk(0, 0)
	return best
}
