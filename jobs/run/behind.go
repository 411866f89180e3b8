package run

import "sync"

// Behind does beside the workers what waits for the disk: several tasks at once, since a
// disk that flushes one file flushes others with it. The zero value is ready.
type Behind struct {
	once  sync.Once
	slots chan struct{}
	tasks sync.WaitGroup
	lock  sync.Mutex
	err   error
}

// mostBehind bounds the tasks, and so the files that they hold open.
const mostBehind = 16

func (b *Behind) ready() { b.once.Do(func() { b.slots = make(chan struct{}, mostBehind) }) }

// Do begins a task, once one of those that go on has ended if they are too many.
func (b *Behind) Do(task func() error) {
	b.ready()
	b.slots <- struct{}{}
	b.begin(task)
}

// Try begins a task unless too many go on.
func (b *Behind) Try(task func() error) bool {
	b.ready()
	select {
	case b.slots <- struct{}{}:
		b.begin(task)
		return true
	default:
		return false
	}
}

func (b *Behind) begin(task func() error) {
	b.tasks.Go(func() {
		defer func() { <-b.slots }()
		if err := task(); err != nil {
			b.lock.Lock()
			defer b.lock.Unlock()
			if b.err == nil {
				b.err = err
			}
		}
	})
}

// Err is the error of the first task that failed so far.
func (b *Behind) Err() error {
	b.lock.Lock()
	defer b.lock.Unlock()
	return b.err
}

// Wait waits for all tasks and returns the error of the first that failed. Nobody may
// begin one meanwhile.
func (b *Behind) Wait() error {
	b.tasks.Wait()
	return b.Err()
}
