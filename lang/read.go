package lang

import "io"

// ReadLimited reads all of r, but no more than one byte past [MaxFileBytes]: enough for
// [NewSource] to see that there is too much.
func ReadLimited(r io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(r, MaxFileBytes+1))
}
