//go:build unix

package langtest

import (
	"syscall"
	"time"
)

// Processor is the time that this process has had of all processors, which other work on
// the machine hardly changes.
func Processor() time.Duration {
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		panic(err)
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
