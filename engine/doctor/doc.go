// Package doctor looks after a catalogue: what is not known of it, whether that matters, and
// what is not in order.
//
// [Examine] says which figures are unknown of the shots, the camera, the rig, the mounts, the
// adapters, the filters and the lenses, which criteria they bear on, and whether the kit of a
// scenario could change if they were known. That last claim is made by trying: the ends of
// what is plausible are put in the place of the unknown figure, as its owner would write them,
// and the kit is chosen anew. [Upkeep] finds what needs no scenario: items that are there
// twice, lenses that go onto no camera, threads without filters.
package doctor
