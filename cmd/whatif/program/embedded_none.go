//go:build !withengine

package program

// embedded is the engine within this program: none, for it was not built as a release.
var embedded []byte
