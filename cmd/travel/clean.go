package travel

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"glassbrief/lang"
)

// CleanJSON writes each character of a document that steers a terminal as its number, which means the
// same to whoever reads the document as JSON.
func CleanJSON(document []byte) []byte {
	if !bytes.ContainsFunc(document, isForeign) {
		return document
	}
	var b bytes.Buffer
	for _, c := range string(document) {
		if isForeign(c) && lang.Steers(c) {
			fmt.Fprintf(&b, `\u%04x`, c)
		} else {
			b.WriteRune(c)
		}
	}
	return b.Bytes()
}

// isForeign reports whether a character may be one that steers: JSON escapes those below a blank itself.
func isForeign(c rune) bool { return c == 0x7f || c >= utf8.RuneSelf }
