package cmd

import (
	"io"
	"os"
	"strconv"

	"golang.org/x/term"
)

const (
	plainWidth    = 80  // of what is no terminal, so that a result is the same everywhere
	terminalWidth = 100 // of a terminal that does not say
)

// textWidth gives the cells that text may take on a stream: by --width or its setting,
// then COLUMNS, then the terminal.
func (a *app) textWidth(stream io.Writer) int {
	if a.settings != nil && a.settings.Width > 0 {
		return a.settings.Width
	}
	if columns, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && columns > 0 {
		return min(max(columns, minWidth), maxWidth)
	}
	if !isTerminal(stream) {
		return plainWidth
	}
	// Some pseudo-terminals give a width of 0 and no error.
	if width, _, err := term.GetSize(int(stream.(*os.File).Fd())); err == nil && width > 0 {
		return min(max(width, minWidth), maxWidth)
	}
	return terminalWidth
}
