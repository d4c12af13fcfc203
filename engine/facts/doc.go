// Package facts is the vocabulary that rules speak: every quantity computed for a shot,
// a camera and a lens at one focal length, with its name, dimension, formula and source.
//
// A [Record] is filled in three stages, so that what does not change is not computed
// again: [FillShot] once for a shot, [FillLens] once for a lens at a focal length on the
// camera, [FillPair] for the two together, from what the first two wrote. [Table] says
// what each fact means; rules, the facts verb and JSON all read that one table.
//
// The package joins the physics of optics, exposure and motion and adds none of its own
// but the set-up of a shot: the stop that holds focus, then ISO, then ND (see setup.go).
package facts
