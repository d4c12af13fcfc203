// Package editor speaks the Language Server Protocol, so that any editor that does can
// show faults as one types and correct them, lay a file out, explain what stands under the cursor,
// offer what may be written there, find and rename what files name, and say in the margin of each shot
// with which lens and in which set-up it is done.
//
// [Serve] runs one session over a pair of streams. A [server] holds all that is known at one moment, and of that
// nothing changes: each change of a text makes another. So questions are answered beside each other, those of one
// document in their order, and findings are worked out beside both; what is under way for an older state is
// given up. Each text is read anew at a change, with the same code as on the command line; of a scenario only
// the shots are judged that the state before did not have. Nothing is kept between sessions.
package editor
