package page

import (
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// mostPoints is how many draws a cloud shows, fewPoints where each has a shape to be told.
const mostPoints, fewPoints = 900, 400

// every is read of draws that may be missing: nothing where they can't be read.
func (d *data) every(most int, names ...string) (columns [][]float64, step int) {
	columns, step, err := d.read(most, names...)
	if err != nil {
		return nil, 0
	}
	return columns, step
}

// read reads each step-th draw of stored columns, the step such that at most so many remain:
// a column a name, NaN where a draw has no value. Nothing where the draws were not kept.
func (d *data) read(most int, names ...string) (columns [][]float64, step int, err error) {
	if d.samples == nil {
		if d.samples, err = result.OpenSlices(d.slicePaths()); err != nil {
			return nil, 0, err
		}
	}
	if d.samples.Rows() == 0 {
		return nil, 0, nil
	}
	reader := d.samples.Reader()
	if d.Evidence != nil {
		return d.readCounted(most, reader, names)
	}
	step = (d.samples.Rows() + most - 1) / most
	for _, name := range names {
		column, err := reader.Column(strings.ReplaceAll(name, ".", "_"))
		if err != nil {
			return nil, 0, err
		}
		kept := make([]float64, 0, (d.samples.Rows()+step-1)/step)
		row := 0
		err = column.Each(0, column.Rows(), func(piece []float64) error {
			for i := (step - row%step) % step; i < len(piece); i += step {
				kept = append(kept, piece[i])
			}
			row += len(piece)
			return nil
		})
		if err != nil {
			return nil, 0, err
		}
		columns = append(columns, d.inShown(name, kept))
	}
	return columns, step, nil
}

// inShown turns a column of the samples into the unit in which it is shown.
func (d *data) inShown(name string, x []float64) []float64 {
	if c, ok := d.units.Of(name, d.stored[name]); ok {
		for i := range x {
			x[i] = c.Value(x[i])
		}
	}
	return x
}

// mostInCurve is how many draws a curve and a density are made of: more are no smoother, and
// all of ten million took more memory than the run.
const mostInCurve = 1 << 17

// A drawn is what draws give of one quantity.
type drawn struct {
	sorted     []float64 // feasible ones, in order
	rows, step int       // each step-th draw, so many with those that have no value
}

// drawsOf are the draws of the announced quantity in the announcement's unit; none where the
// samples were not kept.
func (d *data) drawsOf(c *report.Claim) (drawn, error) {
	columns, step, err := d.read(mostInCurve, c.Of)
	if step == 0 || err != nil {
		return drawn{}, err
	}
	return drawn{sortedFinite(scaled(columns[0], d.inAnnounced(c))), len(columns[0]), step}, nil
}

// sortedFinite are the values that there are, in order.
func sortedFinite(x []float64) []float64 {
	sorted := slices.DeleteFunc(slices.Clone(x), func(v float64) bool { return v != v })
	slices.Sort(sorted)
	return sorted
}

// ends are the lowest and highest value of a column; where a few draws lie very far out, those
// between which 98 in 100 lie, so that they do not press all others together.
func ends(x []float64) []float64 {
	sorted := sortedFinite(x)
	if len(sorted) == 0 {
		return nil
	}
	last := len(sorted) - 1
	low, high := sorted[last/100], sorted[last-last/100]
	if whole := sorted[last] - sorted[0]; high > low && whole > 3*(high-low) {
		return []float64{low, high}
	}
	return []float64{sorted[0], sorted[last]}
}

// inAnnounced turns what a table holds of the announced quantity into the announcement's
// unit.
func (d *data) inAnnounced(c *report.Claim) func(float64) float64 {
	return announcedIn(c, d.rows[c.Of])
}

func announcedIn(c *report.Claim, row *result.SummaryRow) func(float64) float64 {
	factor := (*c.Seen.P95 - *c.Seen.P05) / (row.P95 - row.P05)
	return func(v float64) float64 { return *c.Seen.P05 + factor*(v-row.P05) }
}

// scaled applies a change of unit to a column.
func scaled(x []float64, in func(float64) float64) []float64 {
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = in(v)
	}
	return y
}
