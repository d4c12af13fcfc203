// Package lang is glassbrief's language: it turns text into syntax, syntax into Go
// structs, and both back into tidy text.
//
// The way in is [NewSource], then [Parse], then [Decode]. Every stage reports all it
// finds as [Diagnostics], which carry a stable code, a place, and a remedy, and which
// [Report] prints with the source line and a caret.
//
// Quantities always carry a unit. [ParseQuantity] reads one ("1.6m", "f/2.8",
// "5ft 10in") into SI with its [Dimension]; [Printer] writes one for people.
//
// The package knows nothing of lenses. The struct that a caller decodes into says what
// a keyword means.
package lang
