package run

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Each does tasks 0 to n-1 on several workers (0: one a processor), each with a function
// of its own made by start, and returns the error of the earliest task that failed. It
// hands out no further one when the context ends or a task has failed.
func Each(ctx context.Context, workers, n int, start func() (func(int) error, error)) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = max(1, min(workers, n))
	var (
		next   atomic.Int64
		failed atomic.Bool
		errs   = make([]error, n+workers) // a task's, then those of workers that could not start
		done   sync.WaitGroup
	)
	for worker := range workers {
		done.Go(func() {
			work, err := start()
			if err != nil {
				failed.Store(true)
				errs[n+worker] = err
				return
			}
			for !failed.Load() && ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if errs[i] = work(i); errs[i] != nil {
					failed.Store(true)
				}
			}
		})
	}
	done.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}
