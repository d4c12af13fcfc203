// Package parallel shares work out over processors.
package parallel

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// For calls do with every number from 0 up to n, shared out over as many workers, or one
// for each processor when workers is 0. The caller is one of them. It returns when all is done,
// or when the context has ended and what was begun is done, with the context's error. Where do
// writes to a place of its own for each number, the result does not depend on the workers. A panic of
// do, in whatever worker, goes on in the caller as a [Fault].
func For(ctx context.Context, n, workers int, do func(i int)) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var fault atomic.Pointer[Fault]
	work := func() {
		defer func() {
			if value := recover(); value != nil {
				next.Store(int64(n)) // nobody begins anything more
				fault.CompareAndSwap(nil, faultOf(value))
			}
		}()
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
	if f := fault.Load(); f != nil {
		panic(f)
	}
	return ctx.Err()
}

// A Fault is a panic in one of the workers, with the stack on which it came.
type Fault struct {
	Value any
	Stack []byte
}

// Error says what the panic said.
func (f *Fault) Error() string { return fmt.Sprint(f.Value) }

func faultOf(value any) *Fault {
	if f, ok := value.(*Fault); ok { // of work that was shared out by a worker
		return f
	}
	return &Fault{value, debug.Stack()}
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
		Roomy()
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
