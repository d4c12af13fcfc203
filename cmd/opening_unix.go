//go:build unix

package cmd

import (
	"os"
	"syscall"

	"golang.org/x/sys/unix"
)

// unblocked keeps a pipe that nobody writes to from holding up whoever opens it.
const unblocked = syscall.O_NONBLOCK

// isClosed reports whether a stream was closed when the program began: the runtime opens the null
// device for it then, for reading and writing, as hardly anybody else does.
func isClosed(stream *os.File) bool {
	flags, err := unix.FcntlInt(stream.Fd(), unix.F_GETFL, 0)
	if err != nil {
		return true
	}
	info, err := stream.Stat()
	null, nullErr := os.Stat(os.DevNull)
	return err == nil && nullErr == nil && os.SameFile(info, null) && flags&unix.O_ACCMODE == unix.O_RDWR
}
