//go:build unix

package cmd

import (
	"os"
	"syscall"

	"golang.org/x/sys/unix"
)

// unblocked keeps a pipe that nobody writes to from holding up whoever opens it.
const unblocked = syscall.O_NONBLOCK

// isClosed reports whether a stream was closed when the program began. The runtime opens the null
// device for it then, for reading and writing. Programs that start others and want none of their output
// open it the same way, so that counts only where a shell started this run: a shell that is told to
// discard opens the device for writing alone.
func isClosed(stream *os.File) bool {
	flags, err := unix.FcntlInt(stream.Fd(), unix.F_GETFL, 0)
	if err != nil {
		return true
	}
	info, err := stream.Stat()
	null, nullErr := os.Stat(os.DevNull)
	return err == nil && nullErr == nil && os.SameFile(info, null) && flags&unix.O_ACCMODE == unix.O_RDWR && byShell()
}

// byShell reports whether a shell started this run: most of them say in a variable of its environment
// which command they start.
func byShell() bool {
	own, err := os.Executable()
	if err != nil {
		return false
	}
	program, err := os.Stat(own)
	named, namedErr := os.Stat(os.Getenv("_"))
	return err == nil && namedErr == nil && os.SameFile(program, named)
}
