// Package run evaluates a plan: slices to workers, rows to files.
//
// What a slice gives is a function of the plan and the slice alone, and whatever
// is joined is joined in the order of the slices. So the numbers are the same for
// any number of workers and any order in which they finish.
//
// All goroutines of the program are started here.
package run

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"proofmass/jobs/plan"
)

// block is how many rows are evaluated at a time: a few hundred columns of it stay
// in the second-level cache.
const block = 512

// A Runner evaluates the rounds of one plan.
type Runner struct {
	Plan    *plan.Plan
	Workers int             // at least 1; 0 means one a processor
	Tick    func(share int) // told of model runs done; may be nil; called from workers
}

func (r *Runner) workers(slices int) int {
	n := r.Workers
	if n <= 0 {
		n = runtime.GOMAXPROCS(0)
	}
	return max(1, min(n, slices))
}

func (r *Runner) tick(runs int) {
	if r.Tick != nil {
		r.Tick(runs)
	}
}

// each hands the slices to workers, each with a task of its own made by start,
// and returns the error of the earliest slice that failed. It stops handing out
// when the context ends or a slice has failed.
func (r *Runner) each(ctx context.Context, slices []plan.Slice, start func() (task, error)) error {
	var (
		next   atomic.Int64
		failed atomic.Bool
		count  = r.workers(len(slices))
		errs   = make([]error, len(slices)+count) // a slice's, then those of workers that could not start
		done   sync.WaitGroup
	)
	for worker := range count {
		done.Go(func() {
			work, err := start()
			if err != nil {
				failed.Store(true)
				errs[len(slices)+worker] = err
				return
			}
			for !failed.Load() && ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(slices) {
					return
				}
				if errs[i] = work(slices[i]); errs[i] != nil {
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

// task evaluates one slice.
type task func(plan.Slice) error

// summed evaluates slices to sums, with a function of each worker's own, and joins
// them in the order of the slices.
func summed[S any](ctx context.Context, r *Runner, slices []plan.Slice, start func() func(plan.Slice) S, join func(plan.Slice, S)) error {
	sums := make([]S, len(slices))
	err := r.each(ctx, slices, func() (task, error) {
		evaluate := start()
		return func(s plan.Slice) error {
			sums[s.Number] = evaluate(s)
			return nil
		}, nil
	})
	if err != nil {
		return err
	}
	for i, s := range slices {
		join(s, sums[i])
	}
	return nil
}
