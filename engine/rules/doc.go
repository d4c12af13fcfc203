// Package rules judges a lens in a shot by criteria over its facts.
//
// [Load] reads criteria from .rules files into a [Set]; [Set.With] adds what one shot
// asks for. [Set.Judge] is the hot path: it says whether a record of facts is excluded
// and how good it is, without allocating. [Set.Explain] says the same in full: for each
// criterion what it scored, what was unknown, and the reasons in words.
//
// Expressions become Go closures over the checked tree, with forms of their own where a fact
// stands beside a constant. Tests hold them to expr's virtual machine, bit for bit.
//
// # The unknown
//
// What reads an unknown fact, or comes out as NaN, is unknown: an unknown veto does not
// exclude, an unknown score does not count, and an unknown condition of a criterion
// leaves all of it out. Every such case is reported by name.
package rules
