package parallel

import (
	"runtime"
	"slices"
	"sync"
)

// A job is work in which helpers may take part while its caller does it.
type job struct {
	work   func() // returns when there is nothing left to begin
	wanted int    // helpers that may still join
	joined sync.WaitGroup
}

// pool holds the jobs that want helpers, and the helpers that wait for one: there is one for each processor
// but that of the caller. They stay, because a new goroutine would have to grow its stack anew, which takes
// longer than many a piece of work. Where all are busy a caller does its work alone until one is free,
// so that work within work costs nothing. The last job is the first to be helped, and the last helper to wait the
// first to be asked: what they use is the likeliest to be in the cache.
var pool struct {
	sync.Mutex
	jobs    []*job
	helpers int
	waiting []chan struct{}
}

// share lets helpers join the work, until it is ended.
func share(work func(), helpers int) *job {
	j := &job{work: work, wanted: helpers}
	if helpers < 1 {
		return j
	}
	pool.Lock()
	defer pool.Unlock()
	pool.jobs = append(pool.jobs, j)
	for range helpers {
		switch last := len(pool.waiting) - 1; {
		case last >= 0:
			pool.waiting[last] <- struct{}{}
			pool.waiting = pool.waiting[:last]
		case pool.helpers < runtime.GOMAXPROCS(0)-1:
			pool.helpers++
			go help()
		default:
			return j
		}
	}
	return j
}

// end lets nobody join any more, and waits for those who have.
func (j *job) end() {
	pool.Lock()
	if i := slices.Index(pool.jobs, j); i >= 0 {
		pool.jobs = slices.Delete(pool.jobs, i, i+1)
	}
	pool.Unlock()
	j.joined.Wait()
}

// next gives the last job that wants a helper, and joins it; nil for none, and the channel is then told
// of the next one.
func next(told chan struct{}) *job {
	pool.Lock()
	defer pool.Unlock()
	last := len(pool.jobs) - 1
	if last < 0 {
		pool.waiting = append(pool.waiting, told)
		return nil
	}
	j := pool.jobs[last]
	j.joined.Add(1)
	if j.wanted--; j.wanted == 0 {
		pool.jobs = slices.Delete(pool.jobs, last, last+1)
	}
	return j
}

// help joins one job after another.
func help() {
	Roomy()
	told := make(chan struct{}, 1)
	for {
		j := next(told)
		if j == nil {
			<-told
			continue
		}
		j.work()
		j.joined.Done()
	}
}
