package plan

import (
	"proofmass/sampling"
	"proofmass/sensitivity"
)

// Kind says what the rows of a round are for.
type Kind string

// The kinds of rounds. Draws of different kinds have nothing in common.
const (
	Sample Kind = "sample" // rows to be stored and summarised
	Index  Kind = "index"  // pairs of rows for variance-based indices
)

// A Round is a design cut into slices.
type Round struct {
	Number     int
	Kind       Kind
	Rows       int // in all replicates
	Replicates int
	Slices     []Slice

	FirstRow       int // rows of all rounds before it
	FirstReplicate int
}

// A Slice is rows [From, From+Rows) of one replicate.
type Slice struct {
	Number    int // in the round, from 0
	Replicate int
	From      int // in the replicate
	First     int // in the round
	Rows      int
}

// maxSlice keeps a worker's slice of 100 columns under 7 MB.
const maxSlice = 8192

func newRound(number int, kind Kind, rows, replicates int) Round {
	r := Round{Number: number, Kind: kind, Rows: rows, Replicates: replicates}
	for replicate := range replicates {
		first, end := r.Bound(replicate), r.Bound(replicate+1)
		for from := 0; from < end-first; from += maxSlice {
			r.Slices = append(r.Slices, Slice{Number: len(r.Slices), Replicate: replicate,
				From: from, First: first + from, Rows: min(maxSlice, end-first-from)})
		}
	}
	return r
}

// Bound is the first row of a replicate; Bound(Replicates) is the number of rows.
func (r Round) Bound(replicate int) int { return r.Rows * replicate / r.Replicates }

// Bounds are the Replicates+1 bounds of all replicates.
func (r Round) Bounds() []int {
	b := make([]int, r.Replicates+1)
	for i := range b {
		b[i] = r.Bound(i)
	}
	return b
}

// Indices is the plan of the variance-based sensitivity.
type Indices struct {
	Round
	Outputs []int           // program outputs asked for
	Swapped []int           // factors that reach one of them, by number
	Runs    int             // evaluations of the model in all
	Design  sampling.Design // nil without index rows
	Short   bool            // at_most leaves fewer rows than the half-width is predicted to need
}

// planIndices sizes the one round of index rows: base rows N cost N (d+2) runs.
func (p *Plan) planIndices(g *graph) error {
	outputs, err := p.askedOutputs(g)
	if err != nil {
		return err
	}
	p.Index.Outputs = outputs
	s := p.Study.Indices
	if s.None {
		return nil
	}
	for f, factor := range p.Factors {
		if p.reachesAny(factor, outputs) {
			p.Index.Swapped = append(p.Index.Swapped, f)
		}
	}
	if len(p.Index.Swapped) == 0 || len(outputs) == 0 {
		return nil
	}
	each := len(p.Index.Swapped) + 2
	need := p.roundIndexRows(sensitivity.PredictRows(s.HalfWidth, Replicates))
	rows := min(need, p.mostIndexRows(s.AtMost/each))
	p.Index.Short = rows < need
	if rows == 0 {
		return nil // at_most is too small for a row a replicate; Doubt says so
	}
	p.Index.Round = newRound(0, Index, rows, Replicates)
	p.Index.Runs = rows * each
	p.Index.Design, err = p.indexDesign(rows)
	return err
}

func (p *Plan) reachesAny(f Factor, outputs []int) bool {
	for _, output := range outputs {
		if p.Reaches(f, output) {
			return true
		}
	}
	return false
}

// Reaches reports whether the program's output can depend on the factor.
func (p *Plan) Reaches(f Factor, output int) bool {
	for _, input := range f.Inputs {
		if p.Program.Reaches(input, output) {
			return true
		}
	}
	return false
}
