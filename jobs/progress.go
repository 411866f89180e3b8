package jobs

import (
	"sync/atomic"

	"proofmass/jobs/plan"
)

// counter adds up model runs for a progress function. What there is to do may grow; what
// is told as done never goes beyond it.
type counter struct {
	done, total atomic.Int64
	foreseen    int // runs for sensitivity that total counts and that no step has announced
	progress    func(done, of int)
}

func newCounter(p *plan.Plan, progress func(done, of int)) *counter {
	c := &counter{foreseen: p.FirstIndexRuns(), progress: progress}
	c.total.Store(int64(p.Sample.Rows + c.foreseen))
	return c
}

// announce counts what the step is about to do.
func (c *counter) announce(step *plan.Step) {
	more := step.Runs()
	switch {
	case step.Kind == plan.Sample && step.Rounds[0].Number == 0:
		more = 0 // counted from the beginning
	case step.Kind == plan.Index && step.Rounds[0].Number == 0:
		c.foresee(step.Plan.FirstIndexRuns() - step.Plan.Index.Screening.Spent())
		fallthrough
	case step.Kind == plan.Screen, step.Kind == plan.Shapley:
		known := min(more, c.foreseen)
		c.foreseen -= known
		more -= known
	}
	c.total.Add(int64(more))
}

// foresee counts so many runs for sensitivity as still to come.
func (c *counter) foresee(runs int) {
	c.total.Add(int64(runs - c.foreseen))
	c.foreseen = runs
}

func (c *counter) tick(runs int) {
	if done := c.done.Add(int64(runs)); c.progress != nil {
		c.progress(int(done), int(c.total.Load()))
	}
}
