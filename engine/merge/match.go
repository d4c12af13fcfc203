package merge

import (
	"glassbrief/engine/textdiff"
	"glassbrief/lang"
)

// A key tells which units of two versions can be the same one.
type key struct {
	keyword, name string
	repeats       bool // several units have the key, and only what they say tells them apart
}

func keyOf(shape lang.Shape, u *unit) key {
	switch standing := shape[u.keyword]; {
	case u.keyword == "": // a remark
		return key{repeats: true}
	case standing.Named, u.keyword == "amend":
		return key{keyword: u.keyword, name: u.name}
	default: // of a keyword that the language does not have, one is as good as allowed
		return key{keyword: u.keyword, repeats: standing.Repeats}
	}
}

// match gives for each unit of a list its place in another version of the list, or -1. Statements
// are known by their keywords, blocks by their names, too, and what may be repeated by what it says.
// What is left of the latter is the same unit where it stands between the same ones, and a block is
// the same under another name where its title or most of what it says is the same.
func match(shape lang.Shape, a, b []*unit) []int {
	at := matchKeys(shape, a, b, true)
	matchRenamed(a, b, at)
	return at
}

// matchKeys is match for names that stay; changed says whether what may be repeated and stands
// between the same is the same unit, too.
func matchKeys(shape lang.Shape, a, b []*unit, changed bool) []int {
	at := make([]int, len(a))
	for i := range at {
		at[i] = -1
	}
	inB := make(map[key][]int, len(b))
	for i, u := range b {
		k := keyOf(shape, u)
		inB[k] = append(inB[k], i)
	}
	inA := make(map[key][]int, len(a))
	var keys []key
	for i, u := range a {
		k := keyOf(shape, u)
		if inA[k] == nil {
			keys = append(keys, k)
		}
		inA[k] = append(inA[k], i)
	}
	for _, k := range keys {
		if k.repeats {
			matchRepeated(a, b, inA[k], inB[k], at, changed)
			continue
		}
		for n := range min(len(inA[k]), len(inB[k])) {
			at[inA[k][n]] = inB[k][n]
		}
	}
	return at
}

// matchRepeated matches units of one keyword: equal ones in their order, then equal ones in another
// order, then those that stand between the same ones, which are changed.
func matchRepeated(a, b []*unit, inA, inB []int, at []int, changed bool) {
	said := func(list []*unit, in []int) []string {
		out := make([]string, len(in))
		for i, n := range in {
			out[i] = list[n].spelling()
		}
		return out
	}
	saidA, saidB := said(a, inA), said(b, inB)
	equal := textdiff.Align(saidA, saidB)
	taken := make([]bool, len(inB))
	open := map[string][]int{} // places in inB that nothing is matched with
	for _, n := range equal {
		if n >= 0 {
			taken[n] = true
		}
	}
	for n, text := range saidB {
		if !taken[n] {
			open[text] = append(open[text], n)
		}
	}
	moved := make([]int, len(inA)) // places in inB of those that stand elsewhere there, or -1
	for i, text := range saidA {
		moved[i] = -1
		if left := open[text]; equal[i] < 0 && len(left) > 0 {
			moved[i], open[text] = left[0], left[1:]
			taken[left[0]] = true
		}
	}
	ends := make([]int, len(inA)) // place in inB of the next one matched in order
	for i, end := len(inA)-1, len(inB); i >= 0; i-- {
		if equal[i] >= 0 {
			end = equal[i]
		}
		ends[i] = end
	}
	next := 0 // in inB, behind the last one matched in order
	for i := range inA {
		switch {
		case equal[i] >= 0:
			at[inA[i]] = inB[equal[i]]
			next = equal[i] + 1
		case moved[i] >= 0:
			at[inA[i]] = inB[moved[i]]
		case changed:
			for next < ends[i] && taken[next] {
				next++
			}
			if next < ends[i] {
				at[inA[i]] = inB[next]
				taken[next] = true
				next++
			}
		}
	}
}

const (
	// alike is the share of what both say that makes a block the same one under another name; one
	// title for both makes up for half of it.
	alike      = 0.75
	titleCount = 0.5
	// mostRenamed bounds the pairs of blocks that are compared for that.
	mostRenamed = 40_000
)

// matchRenamed matches blocks that are left on both sides and go by another name.
func matchRenamed(a, b []*unit, at []int) {
	taken := make([]bool, len(b))
	for _, n := range at {
		if n >= 0 {
			taken[n] = true
		}
	}
	var leftA, leftB []int
	for n, u := range a {
		if at[n] < 0 && u.opens && u.name != "" {
			leftA = append(leftA, n)
		}
	}
	for n, u := range b {
		if !taken[n] && u.opens && u.name != "" {
			leftB = append(leftB, n)
		}
	}
	if len(leftA)*len(leftB) > mostRenamed {
		return
	}
	for _, i := range leftA {
		best, most := -1, 0.0
		for _, n := range leftB {
			if taken[n] || b[n].keyword != a[i].keyword {
				continue
			}
			if share := shared(a[i], b[n]); share > most {
				best, most = n, share
			}
		}
		if most >= alike {
			at[i], taken[best] = best, true
		}
	}
}

// shared gives the share of what two blocks say that both say.
func shared(a, b *unit) float64 {
	left := map[string]int{}
	for _, u := range a.inner {
		left[u.spelling()]++
	}
	both := 0
	for _, u := range b.inner {
		if left[u.spelling()] > 0 {
			left[u.spelling()]--
			both++
		}
	}
	const fewest = 3 // statements below which two blocks may be alike by chance
	longest := max(len(a.inner), len(b.inner))
	share := float64(both) / float64(max(longest, fewest))
	if both == longest && both > 0 {
		share = 1
	}
	if a.title != "" && a.title == b.title {
		share += titleCount
	}
	return share
}
