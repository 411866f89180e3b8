// Package run evaluates a plan: slices to workers, rows to files.
//
// What a slice gives is a function of the plan and the slice alone, and whatever
// is joined is joined in the order of the slices. So the numbers are the same for
// any number of workers and any order in which they finish.
//
// All goroutines of the work are started here, in Each and, for what waits for the disk, in
// Behind.
package run

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
)

// block is how many rows are evaluated at a time: a few hundred columns of it stay
// in the second-level cache.
const block = 512

// A Runner evaluates slices.
type Runner struct {
	Plan    *plan.Plan        // for Row and Trial; a step brings its own
	Workers int               // at least 1; 0 means one a processor
	Tick    func(runs int)    // told of model runs done; may be nil; called from workers
	Seen    func(Seen)        // told of what each slice saw, in their order; may be nil
	Folder  *result.Folder    // takes the files of the sample
	Meta    map[string]string // of those files
	After   *Tempered         // rows after what was measured, of which gains and figures are; nil: the sample's
}

func (r *Runner) tick(runs int) {
	if r.Tick != nil {
		r.Tick(runs)
	}
}
