package plan

import (
	"slices"

	"proofmass/jobs/study"
	"proofmass/sampling/marginal"
)

// guessed are the ways of knowing a number of which the width is no better known than the
// number itself.
var guessed = []string{"guess", "rule", "announced"}

// Guessed are the numbers among the drawn inputs of those whose width is a guess: it says so,
// or does not say how it is known, since a label that was forgotten must not make a verdict
// firm. Of the catalogue's, those that rest on judgement; the model's own error was measured.
func (p *Plan) Guessed() []int {
	var all []int
	for i := range p.Drawn {
		if in := &p.Drawn[i]; in.Choice == 0 && p.widthGuessed(&in.Input) {
			all = append(all, i)
		}
	}
	return all
}

func (p *Plan) widthGuessed(in *study.Input) bool {
	if !in.Default {
		return in.Free.HowKnown == "" || slices.Contains(guessed, in.Free.HowKnown)
	}
	q, _ := p.Study.Catalogue.Find(in.Quantity)
	return q.DefaultJudged
}

// Rests reports whether a claim's yes or no can depend on a drawn input.
func (p *Plan) Rests(c Claim, drawn int) bool { return p.Program.Reaches(drawn, c.Holds) }

// Tells reports whether a drawn input can depend on what was measured: then it may tell of
// claims that it does not reach.
func (p *Plan) Tells(drawn int) bool {
	for _, f := range p.Facts {
		if p.Program.Reaches(drawn, f.Output) {
			return true
		}
	}
	return false
}

// Widened is the plan with every guessed width times factor. Limits that the study or the
// catalogue states stay, and what is never below nil stays so. An input of which no such
// distribution can be made stays as it is; the second result are those that changed.
func (p *Plan) Widened(factor float64) (*Plan, []int) {
	q := *p
	q.Drawn = slices.Clone(p.Drawn)
	var changed []int
	for _, i := range p.Guessed() {
		in := &q.Drawn[i]
		if wide, ok := widened(&in.Input, factor); ok {
			in.Marginal = wide
			changed = append(changed, i)
		}
	}
	return &q, changed
}

func widened(in *study.Input, factor float64) (marginal.Marginal, bool) {
	wide, err := marginal.Widen(in.Marginal, factor)
	if err != nil {
		return nil, false
	}
	low, high := in.Low, in.High
	if from, _ := in.Marginal.Support(); from >= 0 {
		low = max(low, 0)
	}
	from, to := wide.Support()
	if from >= low && to <= high {
		return wide, true
	}
	cut, err := marginal.Truncate(wide, low, high)
	return cut, err == nil
}
