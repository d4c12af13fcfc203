package compare

import (
	"slices"
	"testing"
)

// A shot that only one of the plans does has not moved, wherever it stands in the other.
func TestMovedShotsAreDoneInBoth(t *testing.T) {
	at := func(shots ...int) []done {
		var all []done
		for _, shot := range shots {
			all = append(all, done{shot: shot})
		}
		return all
	}
	for _, c := range []struct{ old, new, want []int }{
		{[]int{1, 2}, []int{0, 1, 2}, nil},
		{[]int{0, 1, 2}, []int{0, 2}, nil},
		{[]int{0, 1, 2}, []int{1, 2, 0}, []int{0}},
		{[]int{1, 2}, []int{2, 1, 0}, []int{1}},
	} {
		if got := moved(at(c.old...), at(c.new...)); !slices.Equal(got, c.want) {
			t.Errorf("%v, then %v: moved %v, want %v", c.old, c.new, got, c.want)
		}
	}
}
