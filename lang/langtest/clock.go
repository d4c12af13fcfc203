package langtest

import "time"

// A Clock gives the time since some moment of the past.
type Clock func() time.Duration

var began = time.Now()

// Wall is the time that a person waits. It is the one for work on several processors and
// in other processes; other work on the machine makes it longer.
func Wall() time.Duration { return time.Since(began) }

// Time gives how long a function takes.
func (c Clock) Time(do func()) time.Duration {
	start := c()
	do()
	return c() - start
}
