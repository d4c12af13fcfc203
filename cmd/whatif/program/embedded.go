//go:build withengine

package program

import _ "embed"

// Made by "bash .ci/engine cmd/whatif/program/embedded"; nothing that is built is committed.
//
//go:embed embedded/engine
var embedded []byte
