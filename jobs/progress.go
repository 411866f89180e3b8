package jobs

import (
	"sync"
	"time"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
)

// counter adds up for a progress function what is done: model runs, and what tables take in
// runs that take about as long. What there is to do may grow; what is told as done never goes
// beyond it, nor back, and both are equal at the end.
type counter struct {
	lock        sync.Mutex
	done, total int
	foreseen    int          // runs for sensitivity that total counts and that no step has announced
	later       [classes]int // rows and runs that half-widths foretell behind what total counts
	progress    func(done, of int)

	widened   int  // values of columns that take as long as a row whose guessed widths are halved and doubled
	cellsARun int  // values of columns that take about as long as a run of the model
	looks     bool // the model has figures beside what was asked
	pulled    int  // rows of vehicles by which gains and levers are told
	choices   int  // 1 without any
	analyst   *analyse.Analyst
	rows      int            // of the sample, as far as announced
	tables    map[string]int // runs that total counts for a stage of tables
	each      int            // of them, for a task of the stage that goes on
	left      int            // of the stage that goes on
	answer    int            // runs that writing what was found takes, which total does not count

	now   func() time.Time
	pacer pacer
	paced func(Pace) // may be nil
}

// ofClasses is what there is in all of each class of work.
func (c *counter) ofClasses() (all [classes]int) {
	all[drawing], all[summing], all[telling] = c.rows, c.tables["summary"], c.tables["sensitivity"]
	all[swapping] = max(0, c.total-c.rows-all[summing]-all[telling])
	if all[drawing] > 0 {
		all[summing] += int(float64(all[summing]) * float64(c.later[drawing]) / float64(all[drawing]))
	}
	all[drawing] += c.later[drawing]
	all[swapping] += c.later[swapping]
	all[showing] = c.answer
	if c.looks {
		all[looking] = all[summing] // it reads the columns again
		all[pulling] = c.pulled
	}
	return all
}

// pace is how far the run is in time.
func (c *counter) pace() Pace { return c.pacer.pace(c.ofClasses(), c.now()) }

// Values of columns that are summed, sorted or told apart in the time of one run of the
// model, with what it costs to sample and write it: seen on one machine, rough by a factor 2.
const cellsAFormula, cellsAVehicle, cellSeconds = 2, 32, 55e-9

// Rows of a vehicle by which its gains and levers are told: 256 of each replicate.
const pulledRows = 256 * plan.Replicates

func newCounter(p *plan.Plan, a *analyse.Analyst, progress func(done, of int)) *counter {
	c := &counter{now: time.Now, foreseen: p.FirstIndexRuns(), progress: progress, cellsARun: cellsAFormula, widened: cellsAFormula, analyst: a, tables: map[string]int{}}
	c.pacer.slowness = &ofFormulas
	if p.Study.Model == "vehicle" {
		c.cellsARun, c.looks, c.pacer.slowness = cellsAVehicle, true, &ofVehicles
		c.widened = 6 * cellsAVehicle
		c.pulled = pulledRows * len(p.Study.Vehicles)
	}
	c.pacer.unit = cellSeconds * float64(c.cellsARun)
	rows := p.Sample.Rows
	if c.choices = 1; p.Choosing != nil {
		c.choices = p.Choosing.Count
		rows *= c.choices
	}
	c.total = rows + c.foreseen
	c.later[swapping] = p.LikelyIndexRuns() - c.foreseen
	c.foreseeTables(rows)
	return c
}

// work is what a stage of tables takes.
func (c *counter) work(stage string, rows int) (tasks, runs int) {
	cells := 0
	switch stage {
	case "summary":
		tasks, cells = c.analyst.SummaryWork(rows)
		tasks *= c.choices // rows are those of all
		widths, accounts := c.analyst.Plan.Beside()
		cells += c.widened * (widths + accounts) / 2
	case "sensitivity":
		w := analyse.CountWork(c.analyst.Plan, rows/c.choices)
		ticked, _ := w.Seconds()
		tasks, cells = w.Tasks, int(ticked/cellSeconds)
	case "answer":
		_, rest := analyse.CountWork(c.analyst.Plan, rows/c.choices).Seconds()
		cells = int(rest / cellSeconds)
	}
	return tasks, cells / c.cellsARun
}

// foreseeTables counts what the tables of a sample of so many more rows take.
func (c *counter) foreseeTables(more int) {
	c.rows += more
	for _, stage := range []string{"summary", "sensitivity"} {
		_, runs := c.work(stage, c.rows)
		c.total += runs - c.tables[stage]
		c.tables[stage] = runs
	}
	_, c.answer = c.work("answer", c.rows)
}

// only forgets all but one stage of tables, of that many rows.
func (c *counter) only(rows int, stage string) {
	_, runs := c.work(stage, rows)
	c.rows, c.foreseen, c.done, c.total, c.tables = rows, 0, 0, runs, map[string]int{stage: runs}
}

// begin begins a stage: of tables, if they were counted for it.
func (c *counter) begin(stage string) {
	tasks, _ := c.work(stage, c.rows)
	c.lock.Lock()
	defer c.lock.Unlock()
	c.pacer.turn(stage, c.now())
	c.left = c.tables[stage]
	c.each = c.left / max(1, tasks)
	if stage == "answer" && c.paced != nil {
		c.paced(c.pace())
	}
}

// task counts one task of the stage of tables that goes on, if one does.
func (c *counter) task() {
	c.lock.Lock()
	defer c.lock.Unlock()
	if share := min(c.each, c.left); share > 0 {
		c.left -= share
		c.tell(share)
	}
}

// end counts what is left of the stage.
func (c *counter) end() {
	c.lock.Lock()
	defer c.lock.Unlock()
	switch c.pacer.doing {
	case "inside":
		c.pacer.done[looking] = c.ofClasses()[looking]
	case "causes":
		c.pacer.done[pulling] = c.ofClasses()[pulling] * 2 / 5 // levers take longer
	case "levers":
		c.pacer.done[pulling] = c.ofClasses()[pulling]
	}
	c.tell(c.left)
	c.left, c.each = 0, 0
}

// announce counts what the step is about to do.
func (c *counter) announce(step *plan.Step) {
	c.lock.Lock()
	defer c.lock.Unlock()
	c.pacer.turn(string(step.Kind), c.now())
	more := step.Runs()
	switch step.Kind {
	case plan.Sample:
		c.later[drawing] = step.Later
	case plan.Index, plan.Shapley, plan.Pairs:
		if c.later[swapping] = step.Later; step.Kind == plan.Index && step.Rounds[0].Number == 0 {
			c.later[swapping] = max(0, step.Plan.LikelyIndexRuns()-step.Plan.FirstIndexRuns())
		}
	}
	switch {
	case step.Kind == plan.Sample && step.Rounds[0].Number == 0:
		more = 0 // counted from the beginning
	case step.Kind == plan.Sample:
		c.foreseeTables(more)
	case step.Kind == plan.Index && step.Rounds[0].Number == 0:
		c.foresee(step.Plan.FirstIndexRuns() - step.Plan.Index.Screening.Spent())
		fallthrough
	case step.Kind == plan.Screen, step.Kind == plan.Shapley:
		known := min(more, c.foreseen)
		c.foreseen -= known
		more -= known
	}
	c.total += more
}

// foresee counts so many runs for sensitivity as still to come.
func (c *counter) foresee(runs int) {
	if runs == 0 {
		c.later = [classes]int{}
	}
	c.total += runs - c.foreseen
	c.foreseen = runs
}

// tick counts runs of the model.
func (c *counter) tick(runs int) {
	c.lock.Lock()
	defer c.lock.Unlock()
	c.tell(runs)
}

func (c *counter) tell(runs int) {
	c.pacer.done[c.pacer.class()] += runs
	if c.paced != nil && runs > 0 && c.pacer.knows(c.ofClasses()) {
		c.paced(c.pace())
	}
	if c.done += runs; c.progress != nil {
		c.progress(c.done, c.total)
	}
}
