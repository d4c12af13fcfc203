package facts

import "math"

// An ID is the place of a fact in a [Record].
type ID uint8

// Capacity is the number of facts a record can hold: the built-in ones, and behind
// them those that a rules file defines.
const Capacity = 256

// A Record holds the value of every fact for one shot, camera and lens at one focal
// length: numbers in SI units, truths as 0 and 1. A fact that is not known is marked in
// Unknown and its value is NaN; a known fact is never NaN, but may be infinite.
type Record struct {
	Value   Values
	Unknown Set
}

// Values are the values of all facts, by their IDs.
type Values [Capacity]float64

// Set stores a known value, or marks the fact as unknown when value is NaN.
func (r *Record) Set(id ID, value float64) {
	r.Value[id] = value
	if math.IsNaN(value) {
		r.Unknown.Add(id)
	} else {
		r.Unknown.Remove(id)
	}
}

// SetTruth stores a truth as 0 or 1.
func (r *Record) SetTruth(id ID, value bool) { r.Set(id, truth(value)) }

func truth(value bool) float64 {
	if value {
		return 1
	}
	return 0
}

// Get gives a value and whether it is known.
func (r *Record) Get(id ID) (value float64, known bool) {
	return r.Value[id], !r.Unknown.Has(id)
}

// A Set is a set of facts.
type Set [Capacity / 64]uint64

// Add puts id into the set.
func (s *Set) Add(id ID) { s[id/64] |= 1 << (id % 64) }

// Remove takes id out of the set.
func (s *Set) Remove(id ID) { s[id/64] &^= 1 << (id % 64) }

// Has reports whether id is in the set.
func (s *Set) Has(id ID) bool { return s[id/64]&(1<<(id%64)) != 0 }

// Meets reports whether the two sets share a fact.
func (s *Set) Meets(o *Set) bool {
	return s[0]&o[0] != 0 || s[1]&o[1] != 0 || s[2]&o[2] != 0 || s[3]&o[3] != 0
}

func setOf(ids ...ID) (s Set) {
	for _, id := range ids {
		s.Add(id)
	}
	return s
}

func (s Set) and(o Set) Set { return Set{s[0] & o[0], s[1] & o[1], s[2] & o[2], s[3] & o[3]} }
func (s Set) or(o Set) Set  { return Set{s[0] | o[0], s[1] | o[1], s[2] | o[2], s[3] | o[3]} }
func (s Set) not() Set      { return Set{^s[0], ^s[1], ^s[2], ^s[3]} }

// And gives the facts that both sets hold.
func (s Set) And(o Set) Set { return s.and(o) }

// IDs gives the members, in order.
func (s Set) IDs() []ID { return s.ids() }

func (s Set) ids() (ids []ID) {
	for i := range Capacity {
		if id := ID(i); s.Has(id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// SetOf gives the set of some facts.
func SetOf(ids ...ID) Set { return setOf(ids...) }

// Or gives the facts of both sets.
func (s Set) Or(o Set) Set { return s.or(o) }

// Without gives the facts that the other set does not hold.
func (s Set) Without(o Set) Set { return s.and(o.not()) }

// Empty reports whether the set holds nothing.
func (s Set) Empty() bool { return s == Set{} }

// OfScope gives the facts of a scope.
func OfScope(s Scope) Set { return table().scope[s] }
