// Package framelist reads and writes the open Framing Decision List, version 2.0.1 of
// 28 February 2026, and places a framing intent in a canvas by its rule.
//
// Sizes and places are in pixels of the canvas as it is recorded, which a squeezed canvas is
// horizontally; the origin is at the top left and y runs down. Millimetres are metres here, as
// everywhere inside.
//
// Source: "ASC Framing Decision List", specification 2.0.1, and its JSON schema.
package framelist
