// Package parallel shares work out over processors.
package parallel

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync/atomic"
)

// For calls do with every number from 0 up to n, shared out over as many workers, or one
// for each processor when workers is 0. The caller is one of them, and there are no more than processors. It returns when all is done,
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
	shared := share(work, min(workers, n)-1)
	work()
	shared.end()
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
