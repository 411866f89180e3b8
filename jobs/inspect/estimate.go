package inspect

import (
	"fmt"
	"runtime"

	"proofmass/jobs"
	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
)

// manyRows are more than a study usually needs. Common practice, no source.
const manyRows = 100_000_000

// tooLarge says what more rows take than a study usually needs.
func (f *Forecast) tooLarge() []string {
	if rows := max(f.Rows, f.AtMost); rows > manyRows {
		return []string{fmt.Sprintf("%d rows are more than a study usually needs: the run begins with about %d MB of memory and %d MB on the disk.",
			rows, f.Memory>>20+1, f.Disk>>20+1)}
	}
	return nil
}

// estimate fills in time, memory and disk. All are rough. Constants were fitted to runs of
// 8 to 1000 stored columns, 10,000 to 1.6 million rows and 1 to 8 workers, on two
// processors of one machine.
func (f *Forecast) estimate(p *plan.Plan, workers int) {
	if workers < 1 {
		workers = runtime.GOMAXPROCS(0)
	}
	c := analyse.CountRows(p)
	f.Seconds = seconds(p, workers)
	f.Memory = memory(p, c, workers)
	f.Disk = jobs.SampleBytes(p) + tableBytes(p, c)
}

// memory is that of the greatest stage, with half of the others', which the collector has
// not given back. Whole processes of a study of two inputs, two outputs and a claim, without
// and with a fact, in MiB, foretold and found:
//
//	rows       workers   no fact     a fact
//	  100,000     2       49   51
//	1,000,000     2      125  120   129  136
//	1,000,000     8      155  128   159  146
//	4,000,000     2                 144  130
//	4,000,000     8      246  235   249  223
//	10,000,000    2      144  126
//	10,000,000    8      267  266
//
// and of the demonstration, 100,000 rows: 2 workers 68 and 65, 8 workers 128 and 130.
func memory(p *plan.Plan, c analyse.RowCounts, workers int) int64 {
	const (
		program   = 30 << 20
		vehicles  = 8 << 20 // the catalogue, levers, gains, the figures of the page
		block     = 512
		indexRow  = 680       // as it is made, put together and encoded
		pair      = 56        // sums of a slot
		found     = 1600      // what is found of a pair, until it is a row
		screened  = 112       // the same of screening, of a worker's slice and of all replicates
		kept      = 56        // of each replicate
		mostRead  = 4_000_000 // rows times pairs that the sample's own rows tell of
		mostKept  = 4 << 20   // rows times targets
		leastRead = 4096
		column    = 24 // a row of a target that is read: value and rank, half as much for the collector
		weight    = 8  // of a row that is read
		ordered   = 36 // a row that is read of an input, put in order and in its class
	)
	stored := int64(len(p.StoredColumns()))
	slice := int64(0)
	for _, x := range p.Sample.Slices {
		slice = max(slice, int64(x.Rows))
	}
	if n := p.ChoiceSlices(); n > 0 {
		slice = int64(p.ChoiceRows() / n)
	}
	w := int64(workers)
	sample := w * 8 * stored * (3*slice/2 + 4*block) // a slice, its pages, and what the collector has not given back
	summary := analyse.Memory(p.Sample.Rows, workers, len(p.Columns)+len(p.StoredClaims()))
	targets := len(p.Index.Targets)
	read := min(p.Sample.Rows, max(leastRead, min(mostRead/max(1, c.Told), mostKept/max(1, targets))))
	told, whole := int64(0), int64(program)
	if targets > 0 {
		if len(p.Facts) > 0 {
			told = weight
		}
		told = (told+column*int64(targets)+ordered*min(w, int64(len(p.StoredInputs()))))*int64(read) + indexRow*int64(c.Indices+c.Bars) + found*int64(c.Reached)
		if p.Study.Model == "vehicle" {
			whole += vehicles
		}
	}
	sums := int64(0)
	if p.Index.Rows > 0 {
		sums += plan.Replicates * pair * int64(c.Reached)
	}
	if p.Index.Screening.Rows > 0 {
		sums = max(sums, (plan.Replicates*kept+(1+w)*screened)*int64(c.Reached))
	}
	if _, accounts := p.Beside(); accounts > 0 { // their columns, and one of them all mixed
		whole += 8 * int64(accounts) * int64(p.AccountColumns()+8)
	}
	most := max(sample, summary, told, sums)
	return whole + most + (sample+summary+told+sums-most)/2
}

// tableBytes is the room of all that lies beside samples/.
func tableBytes(p *plan.Plan, c analyse.RowCounts) int64 {
	const (
		page, column        = 200_000, 1800 // a column's place on the page and in the summary
		index, bar, inCurve = 100, 125, 100
	)
	bytes := page + column*int64(len(p.Columns)) + jobs.ChoiceBytes(p) + index*int64(c.Indices) + bar*int64(c.Bars) + inCurve*int64(c.Curves)
	for _, f := range p.Study.Files {
		bytes += int64(len(f.Data))
	}
	return bytes
}
