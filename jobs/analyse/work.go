package analyse

import "proofmass/jobs/plan"

// Work is what the tables of sensitivity take beside the runs of the model, as far as a plan
// tells.
type Work struct {
	RowCounts
	Tasks   int // pieces that are ticked
	Read    int // values of columns that are read
	Means   int // rows times pairs of an input and a target: put in classes, with intervals
	Glanced int // the same of the first look at too many pairs
	Learnt  int // rows times pairs of what could be measured and a claim
	Apart   int // pairs whose distances are told
	Rows    int // by which they are
	Claims  int // rows times claims for which what to measure in pairs, and what must be true, is sought
	Steps   int // of the regression
}

// mostSought rows are about what a search looks at.
const mostSought = 32_768

// CountWork counts it for a sample of so many rows, by the usual budget.
func CountWork(p *plan.Plan, rows int) Work {
	var b Budget
	w := Work{RowCounts: CountRows(p)}
	inputs, targets, claims, learnt := len(p.StoredInputs()), len(p.Index.Targets), 0, 0
	if targets == 0 {
		return w
	}
	for _, t := range p.Index.Targets {
		if t.Of != plan.OfHolds {
			continue
		}
		claims++
		for _, f := range p.Factors {
			if p.Reaches(f, t.Output) {
				learnt++
			}
		}
	}
	atMost := func(most int) int { return min(rows, max(fewestRows, most)) }
	w.Means = w.Told * atMost(min(mostPairRows/max(1, w.Told), mostKept/targets))
	columns := targets + inputs + inputs + inputs + targets // means, distances, regression
	if w.Reached > w.Told {
		w.Glanced = w.Reached * min(rows, lookedRows)
		columns += targets + inputs
	}
	if learnt > 0 {
		w.Learnt = learnt * atMost(min(mostRead, mostLearnt/learnt))
		columns += 2*claims + inputs
	}
	w.Apart, w.Rows = min(b.distances(), w.Told), min(rows, mostDistanceRows)
	w.Claims = claims * min(rows, mostSought)
	w.Tasks, w.Read = columns+claims, columns*rows
	once, each := steps(inputs)
	w.Steps = once + each*min(b.fitted(inputs), targets-claims)
	return w
}

// Seconds is about how long it takes one worker, and what of it no other can share, as seen on
// one machine.
func (w Work) Seconds() (shared, alone float64) {
	const (
		read    = 3e-9
		placed  = 55e-9
		glanced = 30e-9
		learnt  = 110e-9
		step    = 1.2e-9
		sought  = 3e-6
		apart   = 1e-3
		inRow   = 350e-9
		row     = 7e-6 // made, encoded, read again for the answer
	)
	shared = read*float64(w.Read) + placed*float64(w.Means) + glanced*float64(w.Glanced) + learnt*float64(w.Learnt) + sought*float64(w.Claims) +
		float64(w.Apart)*(apart+inRow*float64(w.Rows))
	return shared, step*float64(w.Steps) + row*float64(w.Indices+w.Bars)
}
