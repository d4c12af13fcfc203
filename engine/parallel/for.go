// Package parallel shares work out over processors.
package parallel

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// For calls do with every number from 0 up to n, shared out over as many workers, or one
// for each processor when workers is 0. It returns when all is done, or when the context
// has ended and what was begun is done, with the context's error. Where do writes to a
// place of its own for each number, the result does not depend on the workers.
func For(ctx context.Context, n, workers int, do func(i int)) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(workers, n) {
		group.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				do(i)
			}
		})
	}
	group.Wait()
	return ctx.Err()
}
