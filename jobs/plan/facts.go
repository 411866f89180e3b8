package plan

import (
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/study"
	"proofmass/model/unit"
)

// A Fact is what was measured, with where a run has what it is of.
type Fact struct {
	*study.Fact
	Output int    // of the program
	Stored string // column of samples
}

// LogLikelihoodColumn is the name under which samples store how likely a draw is after the
// facts.
const LogLikelihoodColumn = "log_likelihood"

// Likelihood stands for the output of the program that a stored column has, where that is
// made of the facts.
const Likelihood = -1

// planFacts finds what each fact is of.
func (p *Plan) planFacts() error {
	for i := range p.Study.Facts {
		f := &p.Study.Facts[i]
		k := slices.IndexFunc(p.Columns, func(c Column) bool { return c.Name == f.Of })
		if k < 0 {
			return fmt.Errorf("plan: measured: %s is drawn for other quantities and has no column of its own: measure one of those", f.Of)
		}
		p.Facts = append(p.Facts, Fact{Fact: f, Output: p.Columns[k].Output, Stored: p.Columns[k].Stored()})
	}
	return nil
}

// storedLikelihood is the column of how likely a draw is; none without facts.
func (p *Plan) storedLikelihood() []Stored {
	if len(p.Facts) == 0 {
		return nil
	}
	return []Stored{{Name: LogLikelihoodColumn, Output: Likelihood, Unit: unit.SI(unit.One),
		Meaning: "natural logarithm of the likelihood of what was measured, were the draw true: densities in SI, of rounded readings their chances; null where it is nil"}}
}

// expected are the chances that readings lie outside, beyond which a fact contradicts the
// inputs. Common practice, no source.
const expectedFrom, expectedTo = 0.005, 0.995

// Contradicts reports whether a reading that lies so among those to be expected contradicts
// what is believed.
func Contradicts(percentile float64) bool {
	return percentile < expectedFrom || percentile > expectedTo
}

// lookAtFacts says what is odd about the facts, by a few draws of the program's outputs.
func (p *Plan) lookAtFacts(kept [][]float64) (w []string) {
	for _, f := range p.Facts {
		sum, n := 0.0, 0
		for _, x := range kept[f.Output] {
			if x == x {
				sum += f.Below(x)
				n++
			}
		}
		if n == 0 {
			w = append(w, fmt.Sprintf("Measured: %s is infeasible in every draw that was looked at, so that no draw can have what was measured.", f.Of))
			continue
		}
		if at := sum / float64(n); Contradicts(at) {
			far := "above"
			if at < 0.5 {
				far = "below"
			}
			w = append(w, fmt.Sprintf("Measured: %s, %s, lies %s nearly all that the inputs make likely (beyond %s of 100 of the draws that were looked at): one of the two is wrong, or known less well than stated.",
				f.Of, f.Text, far, percentOf(max(at, 1-at))))
		}
	}
	return w
}

func percentOf(share float64) string {
	return fmt.Sprintf("%.1f", math.Floor(1000*share)/10)
}

// factsTwice are facts that may count what the inputs were stated by.
func (p *Plan) factsTwice() (w []string) {
	for _, f := range p.Facts {
		if in, ok := p.Study.Graph.Input(f.Of); ok && in.Kind == study.Uncertain && !in.Default {
			w = append(w, fmt.Sprintf("Measured: %s is an input itself. A second measurement belongs here; the one by which the input is stated would count twice.", f.Of))
			continue
		}
		reach := p.Study.Graph.Reach(f.Of)
		for _, in := range p.Study.Inputs {
			same := f.Free.Source != "" && in.Free.Source == f.Free.Source || f.Free.Link != "" && in.Free.Link == f.Free.Link
			if same && in.Kind == study.Uncertain && reach[in.Name] {
				w = append(w, fmt.Sprintf("Measured: %s has the source of %s, from which it is computed: what one measurement says would count twice.", f.Of, in.Name))
			}
		}
	}
	return w
}
