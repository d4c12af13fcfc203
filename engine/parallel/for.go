// Package parallel shares work out over processors.
package parallel

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// For calls do with every number from 0 up to n, shared out over as many workers, or one
// for each processor when workers is 0. The caller is one of them. It returns when all is done,
// or when the context has ended and what was begun is done, with the context's error. Where do
// writes to a place of its own for each number, the result does not depend on the workers.
func For(ctx context.Context, n, workers int, do func(i int)) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	work := func() {
		for ctx.Err() == nil {
			i := int(next.Add(1)) - 1
			if i >= n {
				return
			}
			do(i)
		}
	}
	var group sync.WaitGroup
	for range min(workers, n) - 1 {
		group.Add(1)
		help(func() {
			defer group.Done()
			work()
		})
	}
	work()
	group.Wait()
	return ctx.Err()
}

// helpers are those that wait for work, by where they take it. The last to wait is the first to
// be asked: its stack has grown most, and its processor is the likeliest to be awake.
var helpers struct {
	sync.Mutex
	waiting []chan func()
}

// help has work done beside the caller. A helper stays for further work, because a new goroutine
// would have to grow its stack anew, which takes longer than many a piece of work.
func help(work func()) {
	helpers.Lock()
	defer helpers.Unlock()
	if last := len(helpers.waiting) - 1; last >= 0 {
		helpers.waiting[last] <- work
		helpers.waiting = helpers.waiting[:last]
		return
	}
	go func() {
		next := make(chan func(), 1)
		for {
			work()
			helpers.Lock()
			helpers.waiting = append(helpers.waiting, next)
			helpers.Unlock()
			work = <-next
		}
	}()
}
