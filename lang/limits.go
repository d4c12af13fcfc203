package lang

import "io"

// Limits on what is read. They are far above any honest file and keep hostile ones
// from costing time, memory or stack: blocks and expressions are read by recursion,
// and a Go stack overflow cannot be recovered from.
const (
	// MaxFileBytes bounds one source text. A catalogue of 20,000 lenses takes about 8 MB.
	MaxFileBytes = 16 << 20
	// MaxNamedBytes bounds all files together that one scenario names.
	MaxNamedBytes = 4 * MaxFileBytes
	// maxLines bounds the lines of one source: a line costs a hundred times its bytes in memory.
	maxLines = 1 << 20
	// maxLineBytes bounds one line; a line is one fact, and a terminal shows 80 cells.
	maxLineBytes = 16 << 10
	// maxNesting bounds open blocks. The deepest of the language is 2.
	maxNesting = 32
	// MaxExpressionBytes bounds the text of one expression.
	MaxExpressionBytes = 4 << 10
	// MaxExpressionNesting bounds brackets and prefix operators inside one expression.
	MaxExpressionNesting = 50
	// MaxReported bounds the diagnostics that are printed; the rest are counted.
	MaxReported = 20
	// MaxRecorded bounds the diagnostics kept while reading one source, so that a file
	// that is wrong on every line costs no more than one that is wrong on some.
	MaxRecorded = 1000
)

// ReadLimited reads all of r, but no more than one byte past [MaxFileBytes]: enough for
// [NewSource] to see that there is too much.
func ReadLimited(r io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(r, MaxFileBytes+1))
}
