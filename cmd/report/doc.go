// Package report writes what the engine answers as one HTML file to look at: with
// drawings, for a screen and for paper, without script and without anything from outside
// the file.
//
// Every drawing is computed from the facts that the judgement was made from; a length in
// it is a length in the answer. A drawing is a struct with its places worked out, which a
// part of the template writes as SVG.
package report
