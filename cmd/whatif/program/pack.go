package program

import (
	"bytes"
	"compress/gzip"
)

// packing names the way in which a program is packed, which unpack.js reads.
const packing = "gzip"

// pack packs a program for a page.
func pack(wasm []byte) []byte {
	var packed bytes.Buffer
	w, _ := gzip.NewWriterLevel(&packed, gzip.BestCompression) // the level exists
	_, _ = w.Write(wasm)                                       // a buffer takes all
	_ = w.Close()                                              // as above
	return packed.Bytes()
}
