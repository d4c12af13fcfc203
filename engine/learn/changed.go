package learn

import "slices"

// A Change is what two files of choices say otherwise of one shot: a choice that only one of them has,
// or one that the newer states in another way.
type Change struct {
	Scenario string // its path from the folder of the files
	Shot     string
	Old, New *Said // nil where the file has none
}

// Changed lists what a newer file of choices says otherwise than an older one, in the order of the newer,
// then what is gone. In a shot a choice changed into one of the same lens, or else into the next one.
func Changed(old, new []Group) []Change {
	left := flat(old)
	var fresh []Change
	for _, c := range flat(new) {
		at := slices.IndexFunc(left, func(was Change) bool {
			return was.Scenario == c.Scenario && was.New.String() == c.New.String()
		})
		if at < 0 {
			fresh = append(fresh, c)
		} else {
			left = slices.Delete(left, at, at+1)
		}
	}
	for _, alike := range []func(a, b *Said) bool{
		func(a, b *Said) bool { return a.Lens.Value == b.Lens.Value },
		func(*Said, *Said) bool { return true },
	} {
		for i := range fresh {
			c := &fresh[i]
			at := slices.IndexFunc(left, func(was Change) bool {
				return c.Old == nil && was.Scenario == c.Scenario && was.Shot == c.Shot && alike(was.New, c.New)
			})
			if at >= 0 {
				c.Old = left[at].New
				left = slices.Delete(left, at, at+1)
			}
		}
	}
	for _, gone := range left {
		fresh = append(fresh, Change{Scenario: gone.Scenario, Shot: gone.Shot, Old: gone.New})
	}
	return fresh
}

// flat lists all choices of a file as new ones.
func flat(groups []Group) (all []Change) {
	for _, g := range groups {
		for i := range g.Said {
			all = append(all, Change{Scenario: g.Path, Shot: g.Said[i].Shot.Value, New: &g.Said[i]})
		}
	}
	return all
}
