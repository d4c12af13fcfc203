package cmd

import (
	"path/filepath"
	"time"

	"github.com/fsnotify/fsnotify"
)

// settleTime is how long after a change files are left to settle: editors write a file in
// several steps.
const settleTime = 80 * time.Millisecond

// saves tells when one of some files is saved. It watches folders, since many editors put
// a new file in the place of the old one.
type saves struct {
	watcher *fsnotify.Watcher
	follows chan map[string]bool
	saved   chan struct{}
}

func newSaves() (*saves, error) {
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	s := &saves{watcher: watcher, follows: make(chan map[string]bool), saved: make(chan struct{}, 1)}
	go s.run(watcher.Events, watcher.Errors)
	return s, nil
}

// follow sets the files to look out for, which need not exist.
func (s *saves) follow(paths []string) {
	names := map[string]bool{}
	for _, path := range paths {
		if absolute, err := filepath.Abs(path); err == nil {
			names[absolute] = true
			// A folder that is not there cannot be watched; what names it is, and will change.
			_ = s.watcher.Add(filepath.Dir(absolute))
		}
	}
	s.follows <- names
}

// Saved receives after each save of a file that is followed, however many steps it took.
func (s *saves) Saved() <-chan struct{} { return s.saved }

// Close ends it.
func (s *saves) Close() error { return s.watcher.Close() }

func (s *saves) run(events <-chan fsnotify.Event, lost <-chan error) {
	var follow map[string]bool
	settled := time.NewTimer(settleTime)
	settled.Stop()
	for {
		select {
		case follow = <-s.follows:
		case event, ok := <-events:
			if !ok {
				return
			}
			if follow[event.Name] && event.Op != fsnotify.Chmod {
				settled.Reset(settleTime)
			}
		case _, ok := <-lost: // events were lost
			if !ok {
				return
			}
			settled.Reset(settleTime)
		case <-settled.C:
			select {
			case s.saved <- struct{}{}:
			default: // one is waiting to be looked at
			}
		}
	}
}
