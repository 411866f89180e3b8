// Package analyse turns what a run evaluated into the result tables: columns into
// statistics, pairs of rows into indices, points into a tornado, claims into
// chances.
//
// It reads samples back from the folder, a column a worker at a time, so that
// memory does not grow with the number of columns, and always joins in the order
// of the rows. The statistics themselves live in package sensitivity and below.
package analyse

import (
	"fmt"
	"math"
	"runtime"
	"sync"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/estimate"
)

// An Analyst makes tables of one plan from the files of the rounds that were added.
type Analyst struct {
	Plan    *plan.Plan
	Workers int // 0 means one a processor

	paths  []string
	bounds []int // of the replicates of all rounds

	// of stored columns, once summarised: p95 - p05, and the standard deviation
	spreads, deviations map[string]float64
}

func (a *Analyst) design() estimate.Design {
	return estimate.Design{Bounds: a.bounds, Independent: a.Plan.Study.Design == "random"}
}

func (a *Analyst) options() estimate.Options {
	return estimate.Options{Level: a.Plan.Study.Level, Coverage: a.Plan.Study.Coverage}
}

// forEach calls work for 0..n-1 on a few workers; each has a buffer of its own
// behind read. The earliest error counts.
func (a *Analyst) forEach(n int, work func(i int, read func(name string) ([]float64, error), scratch *estimate.Scratch) error) error {
	slices, err := result.OpenSlices(a.paths)
	if err != nil {
		return err
	}
	workers := a.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var (
		next int
		lock sync.Mutex
		errs = make([]error, n)
		done sync.WaitGroup
	)
	take := func() int {
		lock.Lock()
		defer lock.Unlock()
		next++
		return next - 1
	}
	for range min(workers, n) {
		done.Go(func() {
			var buffer []float64
			var scratch estimate.Scratch
			read := func(name string) (x []float64, err error) {
				buffer, err = slices.Read(name, buffer[:0])
				return buffer, err
			}
			for i := take(); i < n; i = take() {
				errs[i] = work(i, read, &scratch)
			}
		})
	}
	done.Wait()
	for _, err := range errs {
		if err != nil {
			return fmt.Errorf("analyse: %w", err)
		}
	}
	return nil
}

// table collects a table's rows by column name; the order of the columns is that
// of their first use.
type table struct {
	columns []result.Column
	index   map[string]int
}

func newTable() *table { return &table{index: map[string]int{}} }

func (t *table) column(name, unit, meaning string) *result.Column {
	i, ok := t.index[name]
	if !ok {
		i = len(t.columns)
		t.index[name] = i
		t.columns = append(t.columns, result.Column{Name: name, Unit: unit, Meaning: meaning})
	}
	return &t.columns[i]
}

func (t *table) text(name, value, meaning string) {
	c := t.column(name, "", meaning)
	c.Texts = append(c.Texts, value)
}

func (t *table) count(name string, value int, meaning string) {
	c := t.column(name, "", meaning)
	c.Ints = append(c.Ints, int64(value))
}

// number appends a value; NaN and infinities, which no table holds, become null.
func (t *table) number(name, unit string, value float64, meaning string) {
	if math.IsInf(value, 0) {
		value = math.NaN()
	}
	c := t.column(name, unit, meaning)
	c.Nullable = true
	c.Floats = append(c.Floats, value)
}

func (t *table) table(meta map[string]string) *result.Table {
	return &result.Table{Columns: t.columns, Meta: meta}
}

// unlessEmpty is nil for a table without a row.
func (t *table) unlessEmpty() *result.Table {
	if len(t.columns) == 0 {
		return nil
	}
	return t.table(nil)
}
