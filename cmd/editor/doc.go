// Package editor speaks the Language Server Protocol, so that any editor that does can
// show faults as one types, lay a file out, explain what stands under the cursor, and
// offer what may be written there.
//
// [Serve] runs one session over a pair of streams. It holds whole texts, since scenarios
// are small, and works each out anew at every change with the same code as the command
// line. Nothing is kept between sessions.
package editor
