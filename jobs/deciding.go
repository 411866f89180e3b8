package jobs

import (
	"context"
	"slices"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// sensitivity makes the tables of what decides each output and claim: what the sample's own
// rows tell, the tornado's points, what the rounds of swapped rows tell.
func (j *job) sensitivity(ctx context.Context) error {
	switch {
	case j.plan.Choosing != nil:
		return j.sensitivityOfChoices(ctx)
	case len(j.plan.Index.Targets) == 0:
		return nil
	}
	var found deciding
	if err := j.view.decide(&found); err != nil {
		return err
	}
	return j.writeDeciding(&found)
}

// A deciding is the rows of the tables of what decides each output and claim, of all choices
// of which it is told.
type deciding struct {
	bars    []result.BarRow
	curves  []result.CurveRow
	regions []result.RegionRow
	require []result.RequiredRow
	measure []result.MeasureRow
	indices []result.IndexRow
	leftOut []string // which figures the budget left out, in words
}

// decide adds the rows of one view.
func (v view) decide(d *deciding) error {
	swapped, indices := v.analyst.NewIndices(), v.analyst.NewIndices()
	swapped.AddRounds()
	given, err := v.analyst.GivenData()
	if err != nil {
		return err
	}
	given.Add(indices)
	if err := given.Regress(indices); err != nil {
		return err
	}
	measure, err := given.MeasureNext()
	if err != nil {
		return err
	}
	required, err := given.Requires()
	if err != nil {
		return err
	}
	d.require, d.measure = append(d.require, required...), append(d.measure, measure...)
	d.bars = append(d.bars, v.analyst.Tornado(given)...)
	d.curves = append(d.curves, given.Curves()...)
	d.regions = append(d.regions, given.Regions()...)
	d.indices = slices.Concat(d.indices, indices.Rows(), swapped.Rows())
	for _, left := range given.LeftOut() {
		if !slices.Contains(d.leftOut, left) {
			d.leftOut = append(d.leftOut, left)
		}
	}
	return nil
}

// writeDeciding writes the tables in their order; but for indices, of what there is nothing
// to tell there is none.
func (j *job) writeDeciding(d *deciding) error {
	var meta map[string]string
	if len(d.leftOut) > 0 {
		meta = map[string]string{report.MetaFiguresLeftOut: encode(d.leftOut)}
	}
	err := writeRows(j, result.Tornado, d.bars)
	if err == nil {
		err = writeRows(j, result.Curves, d.curves)
	}
	if err == nil {
		err = writeRows(j, result.Regions, d.regions)
	}
	if err == nil {
		err = writeRows(j, result.Requires, d.require)
	}
	if err == nil {
		err = writeRows(j, result.Measure, d.measure)
	}
	if err != nil {
		return err
	}
	return j.write(result.IndicesTable, result.Indices.Make(d.indices, meta))
}
