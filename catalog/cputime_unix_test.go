//go:build unix

package catalog_test

import (
	"syscall"
	"time"
)

// cpuTime gives the time that this process has had of the processors, which work beside it
// does not lengthen as it does the time on the clock.
func cpuTime() time.Duration {
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		panic(err)
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
