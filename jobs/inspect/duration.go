package inspect

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"time"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/run"
)

// seconds are from blocks of rows and swaps evaluated here and now, and from the counts of
// what is stored, summed up and told, whose times are of one machine.
func seconds(p *plan.Plan, workers int) float64 {
	const (
		patience = 50 * time.Millisecond
		value    = 100e-9 // of the sample: encoded, flushed to the disk; read, put in order, summed
		column   = 500e-6 // of the statistics, of each choice
		effect   = 20e-6  // elementary effects of a pair: intervals
		begins   = 0.03
		shown    = 60e-6 // a column on the page
		vehicles = 0.6   // their programs, gains, levers, the figures of the page

		searched = 1500                      // rows that a search evaluates, where there are so many
		pulled   = 8 * 256 * plan.Replicates // by which gains and levers are told
	)
	t := (&run.Runner{Plan: p}).Try(patience, spent)
	k := slowness()
	rows, columns, choices, claims := float64(max(p.Sample.Rows, p.ChoiceRows())), float64(len(p.StoredColumns())), 1.0, float64(len(p.Claims))
	if p.Choosing != nil {
		choices = float64(p.Choosing.Count)
	}
	w := analyse.CountWork(p, p.Sample.Rows)
	told, alone := w.Seconds()
	told += value*rows*columns + column*columns*choices
	alone += begins + shown*columns
	evaluated := math.Min(searched, rows) * claims
	widths, accounts := p.Beside()
	evaluated += float64(widths + accounts)
	if p.Study.Model == "vehicle" && len(p.Index.Targets) > 0 {
		alone += vehicles
		evaluated += math.Min(pulled, 2*rows)
	}
	if p.Index.Screening.Rows > 0 {
		alone += effect * float64(w.Reached)
	}
	runs := t.Row*rows + t.Swap*float64(p.LikelyIndexRuns()) + t.Eval*evaluated
	return (runs+k*told)/float64(min(workers, runtime.GOMAXPROCS(0))) + k*alone
}

// loaded is when the program began.
var loaded = time.Now()

// since is the time that has passed.
func since() time.Duration { return time.Since(loaded) }

// slowness is how many times as long as the machine whose times are known this one takes to
// put numbers in order, as it is loaded now.
func slowness() float64 {
	const (
		known  = 0.26e-3
		values = 4096
		tries  = 20
	)
	draw := rand.New(rand.NewPCG(1, 2))
	x, y := make([]float64, values), make([]float64, values)
	for i := range x {
		x[i] = draw.Float64()
	}
	took := make([]float64, tries)
	for n := range tries {
		copy(y, x)
		began := spent()
		slices.Sort(y)
		took[n] = (spent() - began).Seconds()
	}
	slices.Sort(took)
	return took[tries/2] / known
}
