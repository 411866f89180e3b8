package plan

import (
	"math"
	"slices"

	"proofmass/model"
	"proofmass/model/traction"
	"proofmass/model/vehicle"
)

// reduceFrom is how many evaluations of one schedule are worth a reduced one: making it
// takes as long as some 80,000 evaluations of all steps in vector registers.
const reduceFrom = 200_000

// A Reduction is the reduced schedules of a plan.
type Reduction interface {
	Saving() model.Saving  // for the workers of one goroutine
	Made() []traction.Made // what is known of each list
}

// dear is a schedule that rules of the program go over, and what each of them reads.
type dear struct {
	over  string
	needs [][]string
}

// addDear notes a rule of the program that goes over a schedule.
func (p *Plan) addDear(r model.Rule) {
	if r.Over == "" {
		return
	}
	at := slices.IndexFunc(p.dear, func(d dear) bool { return d.over == r.Over })
	if at < 0 {
		at = len(p.dear)
		p.dear = append(p.dear, dear{over: r.Over})
	}
	p.dear[at].needs = append(p.dear[at].needs, r.Needs)
}

// mostRuns is how many runs of the model the study asks for at most.
func (p *Plan) mostRuns() int {
	runs := max(p.MostRounds()*p.Sample.Rows, p.ChoiceRows())
	if p.Index.Rows > 0 {
		runs += p.indexRuns(p.Index.Most)
	}
	return runs
}

// reducible are the schedules that are evaluated often enough. It is decided here alone, by
// what the study asks for: never by a processor, or by what is done so far.
func (p *Plan) reducible() []dear {
	var often []dear
	for _, d := range p.dear {
		if !p.Study.Exact && p.mostRuns()*len(d.needs) > reduceFrom {
			often = append(often, d)
		}
	}
	return often
}

// A Pilot is what is looked at in some draws before a run, to find between which numbers the
// cars lie that are driven over schedules.
type Pilot struct {
	Program *model.Program
	Inputs  []int // of each input of the program: its number among the plan's drawn ones

	dear []dear
}

// Pilot says what to look at; nil where no schedule is to be reduced.
func (p *Plan) Pilot() (*Pilot, error) {
	x := &Pilot{dear: p.reducible()}
	if len(x.dear) == 0 {
		return nil, nil
	}
	var wanted []string
	for _, d := range x.dear {
		for _, needs := range d.needs {
			wanted = append(wanted, needs...)
		}
	}
	var err error
	if x.Program, err = model.Compile(wanted, newGraph(p.Study).Rule); err != nil {
		return nil, err
	}
	for _, name := range x.Program.Inputs() {
		x.Inputs = append(x.Inputs, slices.Index(p.Program.Inputs(), name))
	}
	return x, nil
}

// beyond is by how much of what was seen the box of a schedule reaches further: 4000 draws
// of a normal input leave one in 10,000 outside.
const beyond = 0.05

// Reduced is the plan whose workers drive cars over reduced schedules, given the lowest and
// the highest value of each output of the pilot's program.
func (p *Plan) Reduced(x *Pilot, lowest, highest []float64) *Plan {
	var boxes []vehicle.Box
	for _, d := range x.dear {
		b := vehicle.Box{Over: d.over}
		for range d.needs[0] {
			b.Columns = append(b.Columns, []float64{math.Inf(1), math.Inf(-1)})
		}
		for _, needs := range d.needs {
			for j, column := range b.Columns {
				column[0], column[1] = min(column[0], lowest[j]), max(column[1], highest[j])
			}
			lowest, highest = lowest[len(needs):], highest[len(needs):]
		}
		for _, column := range b.Columns {
			widen(column)
		}
		boxes = append(boxes, b)
	}
	q := *p
	q.Reduction = p.Study.Catalogue.Reduce(boxes)
	return &q
}

// widen makes a box wider in what differs from row to row, on the same side of nil.
func widen(column []float64) {
	room := float64(beyond * (column[1] - column[0])) // the same box on every machine
	if !(room > 0) || math.IsInf(room, 1) {
		return
	}
	low := column[0] - room
	if column[0] >= 0 {
		low = max(0, low)
	}
	column[0], column[1] = low, column[1]+room
}
