// Package lock keeps other runs from what one run changes, by a file that is there only so long.
package lock

import (
	"context"
	"os"
	"time"

	"github.com/gofrs/flock"
)

// Take makes a file and locks it until it is released. While another run holds it, it looks again after
// each pause. The system lets go of the lock of a process that ends, however it does, and the file that
// such a one left is taken like any other. Take fails with the error of a context that ends, or with the
// system's reason where the file cannot be locked.
func Take(ctx context.Context, name string, pause time.Duration) (release func(), err error) {
	for {
		l := flock.New(name)
		ok, err := l.TryLock()
		switch {
		case err != nil:
			return nil, err
		case ok && isNow(l, name):
			return func() {
				os.Remove(name) // first, so that nobody locks a file that is about to go
				_ = l.Unlock()  // nothing is left to let go of when it fails
			}, nil
		case ok: // whoever had it last has removed the file that was opened here
			_ = l.Unlock() // as above
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(pause):
		}
	}
}

// isNow reports whether a name still leads to the file that a lock holds.
func isNow(l *flock.Flock, name string) bool {
	ours, err := l.Stat()
	if err != nil {
		return false
	}
	now, err := os.Stat(name)
	return err == nil && os.SameFile(ours, now)
}
