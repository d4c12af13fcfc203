// Package report writes what the engine answers as one HTML file to look at: with
// drawings, for a screen and for paper, without script and without anything from outside
// the file.
//
// Every drawing is computed from the facts that the judgement was made from; a length in
// it is a length in the answer. A drawing is a struct with its places worked out, which a
// part of the template writes as SVG.
//
// # The look
//
// All pages and cards draw from look/base.css; what pages and cards have of their own stands beside it.
//
//   - Type: the system's own face, and no other. Numerals are bold and words are not: weight says what
//     is dialled, size how soon it is read. 13 px for labels, 16 for text, 18 for sums, 20 for the figures
//     of a shot, 28 for its number, 40 to 88 for the names of the kit, which never break. Nothing is under
//     13 px on a screen or 6 pt on paper.
//   - Space: steps of 4 px, 16 px at the sides, 80 rem at most. A rule of 3 px opens a section and one of
//     1 px a shot. No boxes, shadows, round corners.
//   - Hues: two. Sea holds, ember does not; all else is ink on the ground. A hue never says alone what it
//     says: there is a height, an edge or a pattern too. In forced colours all is the ink of the system.
//   - Plates: a lens of the kit is a plate, the first filled, the second outlined, the third filled with a
//     line inside, the fourth dotted. Nothing else looks like one.
//   - Marks: the height of a bar is its verdict, full good, two thirds fair, a third poor; hatched does
//     not hold; washed or dotted with an edge is sharp; dashed was before. A gap is never widened: one
//     too short to be seen is pointed at. Each cause that puts a lens out has a shape of its own in
//     parts/marks.html.
//   - Drawings are as wide as a small phone shows unscaled, so that their labels stay as large as they
//     are. Left is the camera in a plan, the start of a way, and far on a ring; nothing is written across
//     a line.
package report
