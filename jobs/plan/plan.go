// Package plan turns a study into what has to be evaluated: the program, the
// columns that are stored, and rounds of slices.
//
// A round is a list of slices and a pure function of the study; how many there are
// depends on the joined results of earlier ones. A slice is a fixed range of rows of one
// replicate, the same whatever the number of workers; it is the unit of work, of
// retry and of storage.
//
// The package draws nothing, evaluates nothing and writes no file.
package plan

import (
	"strings"

	"proofmass/jobs/study"
	"proofmass/model"
	"proofmass/model/unit"
	"proofmass/sampling/design"
)

// A Plan is all that a run needs to know of a study. It is read-only.
type Plan struct {
	Study   *study.Study
	Program *model.Program
	Design  design.Design // of the sample
	Sample  Round         // its first round; the others are SampleRound
	Index   Indices

	Columns  []Column // stored by samples, in order
	Claims   []Claim
	Facts    []Fact    // what was measured; without, every draw counts alike
	Drawn    []Drawn   // the program's inputs, in its order
	Choosing *Choosing // nil without choices
	Choice   int       // of which this is the plan, see ForChoice; 0: of none
	Ties     []Tie     // no input stands in two
	Factors  []Factor  // what sensitivity shows as one input, in the study's order

	Defaults []study.Input // catalogue defaults in use
	LeftOut  []LeftOut

	Reduction Reduction // of the schedules that cars are driven over; nil: none

	Contradictions []Contradiction // of an inspected plan
	Slips          []Slip          // of an inspected plan

	odd    []string // what an inspection found to be of no usual size
	never  []bool   // of an output of the program: no draw of an inspection has it
	unread []string // stated inputs that nothing asked for reads
	order  []int    // the drawn inputs in the order of the study

	inGroup []bool // of a drawn input
	dear    []dear // schedules that the program goes over
}

// A Column is one stored quantity.
type Column struct {
	Name     string // full name, "bonded.kerb_mass"
	Output   int    // its number among the program's outputs
	Quantity model.Quantity
	Input    *study.Input // nil for what the model computes
	Aside    bool         // stored because all is kept, or to show a default; nobody asked for it
}

// Stored is the column's name in samples.
func (c Column) Stored() string { return strings.ReplaceAll(c.Name, ".", "_") }

// Role says what the column is: constant, input (drawn), formula, output or
// intermediate.
func (c Column) Role() string {
	switch {
	case c.Input == nil && c.Aside:
		return "intermediate"
	case c.Input == nil:
		return "output"
	}
	return [...]string{study.Constant: "constant", study.Uncertain: "input", study.Formula: "formula"}[c.Input.Kind]
}

// Split returns the vehicle of a full name ("" where it belongs to none) and the
// quantity.
func Split(name string) (vehicle, quantity string) {
	if v, q, found := strings.Cut(name, "."); found {
		return v, q
	}
	return "", name
}

// A Claim is one condition to test, or all of them together.
type Claim struct {
	Name, Text string
	Holds      int // program output: 1, 0 or NaN
	Margin     int // program output, -1 where there is none
	Unit       unit.Unit

	Of       string // that was announced, "" for a condition
	Readings []ReadClaim
}

// A ReadClaim is another reading of a claim.
type ReadClaim struct {
	Of, Text string
	Holds    int // program output
}

// Drawn is one sampled input of the program.
type Drawn struct {
	study.Input
}

// A Factor is what sensitivity treats as one input: a sampled input, or several
// that are only drawn together.
type Factor struct {
	Name   string
	Inputs []int  // numbers of the program's inputs
	Show   string // stored column whose values stand for the factor's own

	// Shift says how far each input goes when the factor goes to one of its ends: its
	// normal score over the factor's.
	Shift   []float64
	Columns []string // as which samples store its inputs
}

// LeftOut is an output that nobody can have, and why.
type LeftOut struct {
	Output string `json:"output"`
	Why    string `json:"why"`
}

// Replicates is the number of independent repetitions of a design from which
// intervals are made (sampling design with replicates: common practice, 10 to 32).
const Replicates = design.Replicates

// New makes the plan of a study.
func New(s *study.Study) (*Plan, error) {
	p := &Plan{Study: s}
	g := newGraph(s)
	if err := g.compile(p); err != nil {
		return nil, err
	}
	if err := p.planFacts(); err != nil {
		return nil, err
	}
	p.addFactors(g)
	if err := p.addTies(g); err != nil {
		return nil, err
	}
	if err := p.planSample(); err != nil {
		return nil, err
	}
	if err := p.planChoices(); err != nil {
		return nil, err
	}
	return p, p.planIndices(g)
}
