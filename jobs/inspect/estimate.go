package inspect

import (
	"fmt"
	"runtime"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/run"
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

// size is what the counts of a plan say of its tables.
type size struct {
	targets, reached, unreached int   // unreached and reached: pairs of a factor and a target
	rows                        int64 // of indices.parquet
}

func sizeOf(p *plan.Plan) size {
	s := size{targets: len(p.Index.Targets)}
	for _, f := range p.Factors {
		for _, t := range p.Index.Targets {
			if p.Reaches(f, t.Output) {
				s.reached++
			} else {
				s.unreached++
			}
		}
	}
	orders := 6 // first and total; what the sample's own rows tell
	if p.Index.Screening.Rows > 0 {
		orders += 3
	}
	s.rows = int64(orders) * int64(s.reached)
	if p.Index.Rows > 0 {
		s.rows += 2 * int64(s.unreached)
	}
	return s
}

// estimate fills in time, memory and disk. All are rough. Constants were fitted to runs of
// 8 to 1000 stored columns, 10,000 to 1.6 million rows and 1 to 8 workers, on two
// processors of one machine.
func (f *Forecast) estimate(p *plan.Plan, workers int) {
	if workers < 1 {
		workers = runtime.GOMAXPROCS(0)
	}
	s := sizeOf(p)
	f.Seconds = seconds(p, s, f.Runs, workers)
	f.Memory = memory(p, s, workers)
	f.Disk = jobs.SampleBytes(p) + tableBytes(p, s)
}

// seconds are from one block of rows evaluated here and now, and from the counts of what is
// stored, summarised and told.
func seconds(p *plan.Plan, s size, runs, workers int) float64 {
	const (
		rows     = 512
		value    = 600e-9 // of a sample: encoded, flushed to the disk; read, sorted, summed
		indexRow = 4e-6   // made, encoded, read again for the answer
		pairing  = 1e-3   // a pair that is reached: means, intervals, distances
		least    = 0.1
	)
	r := run.Runner{Plan: p}
	r.Trial(rows) // the first fills the caches
	began := time.Now()
	r.Trial(rows)
	each := time.Since(began).Seconds() / rows
	values := float64(p.Sample.Rows) * float64(len(p.StoredColumns()))
	shared := each*float64(runs) + values*value + pairing*float64(min(s.reached, 20_000))
	return least + shared/float64(min(workers, runtime.GOMAXPROCS(0))) + indexRow*float64(s.rows)
}

// memory is that of the greatest stage, with half of the others', which the collector has
// not given back.
func memory(p *plan.Plan, s size, workers int) int64 {
	const (
		program   = 28 << 20
		block     = 512
		indexRow  = 660 // as it is made, put together and encoded
		pair      = 56  // sums of a slot
		screened  = 112
		mostRead  = 4_000_000 // rows times pairs that the sample's own rows tell of
		mostKept  = 4 << 20   // rows times targets
		leastRead = 4096
	)
	stored := int64(len(p.StoredColumns()))
	slice := int64(0)
	for _, x := range p.Sample.Slices {
		slice = max(slice, int64(x.Rows))
	}
	w := int64(workers)
	sample := w * 8 * stored * (2*slice + 4*block)
	summary := analyse.Memory(p.Sample.Rows, workers, int(stored))
	read := min(p.Sample.Rows, max(leastRead, min(mostRead/max(1, s.reached), mostKept/max(1, s.targets))))
	told := 2*8*int64(s.targets)*int64(read) + indexRow*s.rows
	if p.Index.Rows > 0 {
		told += 2 * 32 * pair * int64(s.reached)
	}
	if p.Index.Screening.Rows > 0 {
		told += 2 * 16 * screened * int64(s.reached)
	}
	most := max(sample, summary, told)
	return program + most + (sample+summary+told-most)/2
}

// tableBytes is the room of all that lies beside samples/.
func tableBytes(p *plan.Plan, s size) int64 {
	const (
		page, column  = 200_000, 1800 // a column's place on the page and in the summary
		indexRow      = 94
		curve, points = 900, 280 // of a pair that is reached
	)
	bytes := page + column*int64(len(p.Columns)) + indexRow*s.rows
	if s.targets > 0 {
		bytes += (curve + points) * int64(min(s.reached, 20_000))
	}
	for _, f := range p.Study.Files {
		bytes += int64(len(f.Data))
	}
	return bytes
}
