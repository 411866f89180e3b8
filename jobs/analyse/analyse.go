// Package analyse turns what a run evaluated into the result tables: columns into
// statistics, pairs of rows into indices, points into a tornado, claims into
// chances.
//
// It reads samples back from the folder, a column a worker and a file at a time, so that
// memory grows neither with the number of columns nor with that of rows, and always joins
// in the order of the rows. The statistics themselves live in package sensitivity and below.
package analyse

import (
	"context"
	"fmt"
	"sync"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/sensitivity/choose"
	"proofmass/sensitivity/estimate"
)

// An Analyst makes tables of one plan from the files of the rounds that were added.
type Analyst struct {
	Plan     *plan.Plan
	Workers  int              // 0 means one a processor
	Context  context.Context  // its end ends all work on columns; nil: nothing does
	Tick     func()           // if not nil, called after each task on columns, from several goroutines
	Widths   *Widths          // what other widths of guesses do to the chances of claims; nil: nothing
	rareRows []result.RareRow // of rare.parquet

	Budget Budget // of what is told from the sample's own rows; never changes a run of the model

	choices []choiceFiles // of a study with choices, each its own
	race    *choose.Race  // nil where nothing is compared

	joined joined
	paths  []string
	slices *result.Slices // of paths, once a pass has opened them
	bounds []int          // of the replicates of all rounds

	earlier  bool      // of the rows before what was measured
	measured *measured // what weights the rows have after it; nil: not read, or all alike

	named   sync.Once
	columns map[string]*plan.Column // by name

	// of stored columns, once summarised: p95 - p05, and the standard deviation
	spreads    map[string]float64
	deviations map[string]deviation
	middles    map[string][2]float64 // p05 and p95
}

// A deviation is a standard deviation with its interval.
type deviation struct {
	sd float64
	estimate.Interval
}

func (a *Analyst) design() estimate.Rows {
	return estimate.Rows{Bounds: a.bounds, Independent: a.independent()}
}

// independent reports whether each row is a draw of its own: of moved ones none is.
func (a *Analyst) independent() bool {
	return a.Plan.Study.Design == "random" && (a.measured == nil || !a.measured.moved)
}

// weighted is the design with the weights of the rows, read by a reader.
func (a *Analyst) weighted(read reader) (estimate.Rows, error) {
	d := a.design()
	var err error
	if a.measured != nil {
		d.Weights, err = a.measured.weights(read)
	}
	return d, err
}

func (a *Analyst) options() estimate.Options {
	return estimate.Options{Level: a.Plan.Study.Level, Coverage: a.Plan.Study.Coverage}
}

// A reader finds a stored column, which may be read while others are.
type reader func(name string) (estimate.Column, error)

// A stoppable column ends its reading soon after the context does.
type stoppable struct {
	estimate.Column
	ctx context.Context
}

func (s stoppable) Each(from, to int, f func(piece []float64) error) error {
	return s.Column.Each(from, to, func(piece []float64) error {
		if err := s.ctx.Err(); err != nil {
			return err
		}
		return f(piece)
	})
}

// forEach calls work for 0..n-1 on a few workers; each has buffers of its own
// behind read. The earliest error counts.
func (a *Analyst) forEach(n int, work func(i int, read reader, scratch *estimate.Scratch) error) error {
	if a.slices == nil {
		opened, err := result.OpenSlices(a.paths)
		if err != nil {
			return err
		}
		a.slices = opened
	}
	ctx := a.Context
	if ctx == nil {
		ctx = context.Background()
	}
	err := run.Each(ctx, a.Workers, n, func() (func(int) error, error) {
		var scratch estimate.Scratch
		var readers []*result.SliceReader // as many as a task has columns open
		open := 0
		read := func(name string) (estimate.Column, error) {
			if open == len(readers) {
				readers = append(readers, a.slices.Reader())
			}
			open++
			c, err := readers[open-1].Column(name)
			return stoppable{c, ctx}, err
		}
		return func(i int) error {
			open = 0
			err := work(i, read, &scratch)
			if err == nil && a.Tick != nil {
				a.Tick()
			}
			return err
		}, nil
	})
	if err != nil {
		return fmt.Errorf("analyse: %w", err)
	}
	return nil
}
