// Package rules judges a lens in a shot by criteria over its facts.
//
// [Load] reads criteria from .rules files into a [Set]; [Set.With] adds what one shot
// asks for. [Set.Judge] is the hot path: it says whether a record of facts is excluded
// and how good it is, without allocating. [Set.Explain] says the same in full: for each
// criterion what it scored, what was unknown, and the reasons in words.
//
// Expressions become Go closures over the checked tree ([CompileNumber], [CompileTruth]),
// fused where one side is a constant or a bare fact. The few kinds of node that the
// closures leave out run on expr's virtual machine; both give the same bits.
//
// # The unknown
//
// What reads an unknown fact, or comes out as NaN, is unknown: an unknown veto does not
// exclude, an unknown score does not count, and an unknown condition of a criterion
// leaves all of it out. Every such case is reported by name.
package rules
