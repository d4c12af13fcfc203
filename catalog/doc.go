// Package catalog holds equipment: lenses, cameras, rigs, mounts, adapters and filters,
// read from ".catalog" files, checked, looked up by name and fitted to each other.
//
// Each type is a block of the file; each field's comment is its entry in the language
// reference. Quantities are in SI units, as package lang holds them. What a file does
// not say is unknown, which is a state of its own: it is never taken as zero, and
// whoever needs the figure must ask whether it is known.
package catalog
