// Package lenscorrection reads the open lens-correction database: XML files in which
// people publish what they measured of the distortion and shading of still lenses.
//
// [Read] reads a folder of it, [Database.Find] finds lenses by words, and [Database.Draft]
// makes of one what a catalogue takes. The database is read where the user has it; nothing
// of it is part of this program. Its data stand under a licence of their own, [Licence],
// which goes into the catalogue beside each figure.
//
// It says nothing of mass, closest focus, T-stop or thread, and holds hardly any cine lens.
package lenscorrection
