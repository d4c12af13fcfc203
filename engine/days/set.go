package days

import "math/bits"

// A set holds numbers below [MostShots].
type set [2]uint64

func (s set) has(i int) bool   { return s[i>>6]>>(i&63)&1 == 1 }
func (s set) with(i int) set   { s[i>>6] |= 1 << (i & 63); return s }
func (s set) plus(t set) set   { return set{s[0] | t[0], s[1] | t[1]} }
func (s set) minus(t set) set  { return set{s[0] &^ t[0], s[1] &^ t[1]} }
func (s set) common(t set) set { return set{s[0] & t[0], s[1] & t[1]} }
func (s set) meets(t set) bool { return s[0]&t[0]|s[1]&t[1] != 0 }
func (s set) within(t set) bool {
	return s[0]&^t[0]|s[1]&^t[1] == 0
}
func (s set) empty() bool { return s[0]|s[1] == 0 }
func (s set) count() int  { return bits.OnesCount64(s[0]) + bits.OnesCount64(s[1]) }

// below counts the numbers that are less than another.
func (s set) below(i int) int {
	if i < 64 {
		return bits.OnesCount64(s[0] & (1<<i - 1))
	}
	return bits.OnesCount64(s[0]) + bits.OnesCount64(s[1]&(1<<(i-64)-1))
}

// all ranges over the numbers, ascending.
func (s set) all(yield func(int) bool) {
	for half, word := range s {
		for ; word != 0; word &= word - 1 {
			if !yield(half<<6 + bits.TrailingZeros64(word)) {
				return
			}
		}
	}
}
