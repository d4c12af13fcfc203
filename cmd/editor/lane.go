package editor

import "sync"

// A lane does one thing after the other, in a goroutine of its own while there is something.
type lane struct {
	mu   sync.Mutex
	list []func()
	busy bool
}

func (l *lane) do(work *sync.WaitGroup, f func()) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.list = append(l.list, f)
	if !l.busy {
		l.busy = true
		work.Go(l.run)
	}
}

func (l *lane) run() {
	for {
		l.mu.Lock()
		if len(l.list) == 0 {
			l.busy = false
			l.mu.Unlock()
			return
		}
		next := l.list[0]
		l.list = l.list[1:]
		l.mu.Unlock()
		next()
	}
}
