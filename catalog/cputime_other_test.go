//go:build !unix

package catalog_test

import "time"

var started = time.Now()

// cpuTime gives the time on the clock, where the system does not tell a process's own.
func cpuTime() time.Duration { return time.Since(started) }
