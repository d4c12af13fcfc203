package parallel

import (
	"bytes"
	"context"
	"errors"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"
)

func TestForDoesAllOnce(t *testing.T) {
	for _, workers := range []int{0, 1, 3, 100} {
		for _, n := range []int{0, 1, 50} {
			counts := make([]int, n)
			if err := For(context.Background(), n, workers, func(i int) { counts[i]++ }); err != nil {
				t.Fatal(err)
			}
			if slices.ContainsFunc(counts, func(count int) bool { return count != 1 }) {
				t.Errorf("%d workers did %v, want each once", workers, counts)
			}
		}
	}
}

func TestForEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	var done atomic.Int64
	err := For(ctx, 1_000_000, 2, func(int) {
		if done.Add(1) >= 10 { // by whichever worker, so that none goes on while the other is held up
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || done.Load() > 11 {
		t.Errorf("got %v after %d, want an end after 10, and one that the other worker had begun", err, done.Load())
	}
}

// A panic of a worker is one of the caller, and the workers go on to serve others.
func TestForPanicsInTheCaller(t *testing.T) {
	for range 20 {
		func() {
			defer func() {
				fault, ok := recover().(*Fault)
				if !ok || fault.Error() != "boom" || !bytes.Contains(fault.Stack, []byte("TestForPanicsInTheCaller")) {
					t.Errorf("got %v, want the fault of the worker with its stack", fault)
				}
			}()
			_ = For(t.Context(), 100, 4, func(i int) {
				if i == 50 {
					_ = For(t.Context(), 10, 2, func(k int) {
						if k == 7 {
							panic("boom")
						}
					})
				}
			})
		}()
	}
	var done atomic.Int64
	if err := For(t.Context(), 100, 4, func(int) { done.Add(1) }); err != nil || done.Load() != 100 {
		t.Errorf("%d of 100 are done, %v", done.Load(), err)
	}
}

// Work within work, and work beside it, ends with every number done once, however busy the helpers are.
func TestWorkWithinWork(t *testing.T) {
	pool.Lock()
	most := max(pool.helpers, runtime.GOMAXPROCS(0)-1)
	pool.Unlock()
	var done atomic.Int64
	begun := make([]func() (int64, error), 8)
	for i := range begun {
		begun[i] = Ahead(func() (int64, error) {
			err := For(t.Context(), 20, 3, func(int) {
				_ = For(t.Context(), 20, 0, func(int) { done.Add(1) })
			})
			return done.Load(), err
		})
	}
	for _, wait := range begun {
		if _, err := wait(); err != nil {
			t.Fatal(err)
		}
	}
	if got := done.Load(); got != 8*20*20 {
		t.Errorf("%d are done, want %d", got, 8*20*20)
	}
	pool.Lock()
	defer pool.Unlock()
	if len(pool.jobs) != 0 || pool.helpers > most {
		t.Errorf("%d jobs are left, and there are %d helpers, want none and at most %d", len(pool.jobs), pool.helpers, most)
	}
}

// What began ahead and failed says so to whoever asks for it, however often.
func TestAheadPanicsInTheCaller(t *testing.T) {
	wait := Ahead(func() (int, error) { panic("boom") })
	for range 2 {
		func() {
			defer func() {
				if fault, ok := recover().(*Fault); !ok || fault.Error() != "boom" {
					t.Errorf("got %v, want the fault of the work", fault)
				}
			}()
			_, _ = wait()
		}()
	}
	if got, err := Ahead(func() (int, error) { return 3, errors.New("late") })(); got != 3 || err == nil || err.Error() != "late" {
		t.Errorf("got %d and %v, want 3 and the error", got, err)
	}
}
