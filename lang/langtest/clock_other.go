//go:build !unix

package langtest

import "time"

// Processor is the time on the wall where the system does not tell that of a process.
func Processor() time.Duration { return Wall() }
