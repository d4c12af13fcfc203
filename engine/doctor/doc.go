// Package doctor looks after a catalogue: what is not known of its lenses, whether that
// matters, and what is not in order.
//
// [Examine] says of each lens which figures are unknown, which criteria cannot be judged
// without them, and whether the kit of a scenario could change if they were known. That
// last claim is made by trying: the least and the most favourable figure that is plausible
// is put in the place of the unknown one, and the kit is chosen anew. [Upkeep] finds what
// needs no scenario: items that are there twice, lenses that go onto no camera, threads
// without filters.
package doctor
