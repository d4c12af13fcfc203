package show

import (
	"io"
	"os"
	"strconv"

	"golang.org/x/term"
)

const (
	MinWidth      = 40 // of a table that can still be read
	MaxWidth      = 400
	narrowWidth   = 60  // that no table needs more than
	plainWidth    = 80  // of what is no terminal, so that a result is the same everywhere
	terminalWidth = 100 // of a terminal that does not say
)

// WidthOf gives the cells that text may take on a stream: by COLUMNS, then by the terminal.
func WidthOf(stream io.Writer) int {
	if columns, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && columns > 0 {
		return min(max(columns, MinWidth), MaxWidth)
	}
	if !IsTerminal(stream) {
		return plainWidth
	}
	// Some pseudo-terminals give a width of 0 and no error.
	if width, _, err := term.GetSize(int(stream.(*os.File).Fd())); err == nil && width > 0 {
		return min(max(width, MinWidth), MaxWidth)
	}
	return terminalWidth
}
