// Package merge joins two versions of a file of the language that come from a third one.
//
// It merges by blocks and statements: a file is cut into units ([cut]), each a statement with
// the comments that belong to it, or a remark that stands alone. Units of two versions are
// matched by what they are ([match]), their order is merged ([order]), and each unit is merged
// for itself, a block by its own units. What only one side changes is taken from that side as
// it stands; what both change to the same is taken once. Where they contradict each other, both
// stand in the text between marks. A file that cannot be read is merged by lines.
package merge
