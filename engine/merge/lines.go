package merge

import (
	"slices"

	"glassbrief/engine/textdiff"
)

// A stretch is a piece of three versions of a list of lines: one that no side changed, or one that
// a side did, or both.
type stretch struct{ base, ours, theirs []string }

// stretches cuts three versions of lines into pieces, at the lines that all have in common.
func stretches(base, ours, theirs []string) []stretch {
	inOurs, inTheirs := textdiff.Align(base, ours), textdiff.Align(base, theirs)
	var list []stretch
	i, j, k := 0, 0, 0
	for i < len(base) || j < len(ours) || k < len(theirs) {
		n := i // the next line that all have
		for n < len(base) && (inOurs[n] < 0 || inTheirs[n] < 0) {
			n++
		}
		endOurs, endTheirs := len(ours), len(theirs)
		if n < len(base) {
			endOurs, endTheirs = inOurs[n], inTheirs[n]
		}
		if n > i || endOurs > j || endTheirs > k {
			list = append(list, stretch{base[i:n], ours[j:endOurs], theirs[k:endTheirs]})
		}
		i, j, k = n, endOurs, endTheirs
		for n < len(base) && inOurs[n] == endOurs+n-i && inTheirs[n] == endTheirs+n-i {
			n++
		}
		same := base[i:n]
		if len(same) > 0 {
			list = append(list, stretch{same, same, same})
		}
		j, k = j+n-i, k+n-i
		i = n
	}
	return list
}

// settle gives the lines of a piece that do not contradict each other; ok is false for one where
// both sides change the same.
func (s stretch) settle() (lines []string, ok bool) {
	switch {
	case slices.Equal(s.ours, s.base), slices.Equal(s.ours, s.theirs):
		return s.theirs, true
	case slices.Equal(s.theirs, s.base):
		return s.ours, true
	}
	return nil, false
}

// common gives how many lines at the beginning and at the end both sides have alike.
func (s stretch) common() (start, end int) {
	most := min(len(s.ours), len(s.theirs))
	for start < most && s.ours[start] == s.theirs[start] {
		start++
	}
	for end < most-start && s.ours[len(s.ours)-1-end] == s.theirs[len(s.theirs)-1-end] {
		end++
	}
	return start, end
}
