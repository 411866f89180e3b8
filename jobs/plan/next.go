package plan

import (
	"math"
	"slices"

	"proofmass/sensitivity"
)

// A Step is what can be evaluated before anything more has to be decided: rounds of one
// kind, and what was decided for them.
type Step struct {
	Kind   Kind
	Rounds []Round
	Plan   *Plan // with what screening has decided
	Swaps  []Swap
	Pairs  []Pair // of the swaps of a step of pairs, in their order
	Slots  int    // how many replicates are told apart, of swapped rows and of walks

	// Later is how many rows of the sample, or runs for sensitivity, half-widths that are
	// known foretell behind this step: as the square root of the rows promises.
	Later int

	PairsLeftOut int // wanted, and no runs were left for them

	Climbs []Climb // of a step of climbs, where they are
	Moves  int     // of each row of it, or of a step of tempering; 0: it is drawn

	Tempering *Tempering // of a step towards what was measured, where it is
}

// Joined is what the joined rounds say, as far as what comes next depends on it.
type Joined struct {
	Rounds map[Kind]int // how many were joined

	// Of a sample that grows: the largest half-widths, NaN where one is not known yet.
	Chance, Percentiles float64

	Climbs     []Climb              // towards rare claims, once the sample is joined
	Tempering  *Tempering           // towards what was measured, once the sample is joined; nil: weights do
	In         []int                // the choices that are still compared, from 1
	Negligible []bool               // of the factors screened
	Shares     [][]sensitivity.Pair // what each target owes to each swap, from the index rounds
}

// Next is the step that follows what is joined, without rounds when all is done. It is a
// function of the plan and of j alone: every rule that stops a run stands here. It is asked
// only when all rounds of the step before are joined. Few steps, since a half-width that is
// looked at often is by chance small at one of the looks.
func (p *Plan) Next(j *Joined) (*Step, error) {
	if p.Choosing != nil && p.Choice == 0 {
		if s := p.nextChoices(j); s != nil {
			return s, nil
		}
		return &Step{Plan: p}, nil
	}
	if more := p.moreSample(j); more > 0 {
		s := p.step(Sample, j.Rounds[Sample], more, p.SampleRound)
		s.Later = p.Sample.Rows * roundsLater(j.Rounds[Sample], more, p.MostRounds(), p.sampleTimes(j), 0)
		return s, nil
	}
	if s := p.nextClimbs(j); s != nil {
		return s, nil
	}
	if s := p.nextTempering(j); s != nil {
		return s, nil
	}
	x := &p.Index
	switch {
	case len(x.Targets) == 0:
		return &Step{Plan: p}, nil
	case j.Rounds[Tornado] == 0:
		return p.step(Tornado, 0, 1, p.tornadoRound), nil
	case x.FirstRounds() == 0:
		return &Step{Plan: p}, nil
	case x.Screening.Rows > 0 && j.Rounds[Screen] == 0:
		return p.step(Screen, 0, 1, func(int) Round { return x.Screening.Round }), nil
	}
	return p.nextSwaps(j)
}

// nextSwaps are the steps behind screening.
func (p *Plan) nextSwaps(j *Joined) (*Step, error) {
	if p.Index.Screening.Rows > 0 {
		var err error
		if p, err = p.Screened(j.Negligible); err != nil {
			return nil, err
		}
	}
	done := j.Rounds[Index]
	if more := p.moreIndices(j); more > 0 {
		s := p.step(Index, done, more, p.IndexRound)
		s.Swaps, s.Slots = p.Index.Swaps, p.swapSlots()
		if done > 0 {
			s.Later = p.Index.Rows * p.rowRuns() * roundsLater(done, more, p.Index.Most, p.indexTimes(j), indexReserve)
		}
		return s, nil
	}
	if len(p.Index.Players) > 0 && j.Rounds[Shapley] == 0 {
		s := p.step(Shapley, 0, done, p.IndexRound)
		s.Slots = min(sensitivity.MostSlots, done*p.Index.Replicates)
		return s, nil
	}
	if j.Rounds[Pairs] > 0 {
		return &Step{Plan: p}, nil
	}
	rows := done * p.Index.Rows
	pairs, left := p.choosePairs(j.Shares, rows, p.Study.Indices.AtMost-p.indexRuns(done))
	if len(pairs) == 0 {
		return &Step{Plan: p, PairsLeftOut: left}, nil
	}
	s := p.step(Pairs, 0, done, p.IndexRound)
	s.Pairs, s.Swaps, s.Slots, s.PairsLeftOut = pairs, p.pairSwaps(pairs), p.swapSlots(), left
	return s, nil
}

// step is rounds from the given number on.
func (p *Plan) step(kind Kind, from, count int, round func(int) Round) *Step {
	s := &Step{Kind: kind, Plan: p}
	for k := range count {
		r := round(from + k)
		r.Kind = kind
		if p.Choice > 0 {
			r.Slices = slices.Clone(r.Slices)
			for i := range r.Slices {
				r.Slices[i].Choice = p.Choice
			}
		}
		s.Rounds = append(s.Rounds, r)
	}
	return s
}

// Each is how many runs of the model a row of the step takes.
func (s *Step) Each() int {
	switch s.Kind {
	case Rare, Temper:
		return max(1, s.Moves)
	case Index, Pairs:
		return 2*len(s.Swaps) + 2
	case Shapley:
		return s.Plan.ShapleyEach()
	case Screen:
		return s.Plan.Index.Screening.Each()
	}
	return 1
}

// Runs is how many runs of the model the step takes.
func (s *Step) Runs() int {
	rows := 0
	for _, r := range s.Rounds {
		rows += r.All()
	}
	return rows * s.Each()
}

// moreSample is how many rounds of the sample to add.
func (p *Plan) moreSample(j *Joined) int {
	done := j.Rounds[Sample]
	switch {
	case p.Choosing != nil:
		return 0
	case done == 0:
		return 1
	case p.Study.Stopping.AtMost == 0:
		return 0
	}
	return sensitivity.MoreRounds(done, p.MostRounds(), p.sampleTimes(j), 0)
}

// sampleTimes is how many times as wide as asked the widest half-width of the sample is.
func (p *Plan) sampleTimes(j *Joined) float64 {
	asked := p.Study.Stopping
	return max(times(j.Chance, asked.Chance), times(j.Percentiles, asked.Percentiles))
}

// moreIndices is how many rounds of index rows to add.
func (p *Plan) moreIndices(j *Joined) int {
	if j.Rounds[Index] == 0 {
		return p.Index.FirstRounds()
	}
	return sensitivity.MoreRounds(j.Rounds[Index], p.Index.Most, p.indexTimes(j), indexReserve)
}

// indexTimes is the same of the indices.
func (p *Plan) indexTimes(j *Joined) float64 { return p.Widest(j.Shares) / p.Study.Indices.HalfWidth }

// roundsLater is how many rounds are likely to follow those done and the next ones, where
// the widest half-width is wide times the one asked for. One that is not known tells nothing.
func roundsLater(done, more, most int, wide, reserve float64) int {
	if done == 0 || !(wide > 1) || math.IsInf(wide, 0) {
		return 0
	}
	need := math.Min(float64(most), math.Ceil((1+reserve)*float64(done)*wide*wide))
	return max(0, int(need)-done-more)
}

// indexReserve is what index rounds add to what the square root of the rows promises,
// so that mostly one look less is needed.
const indexReserve = 0.1

// times is how many times as wide as asked a half-width is: 0 where nothing is
// asked, infinite where it is not known.
func times(half, asked float64) float64 {
	switch {
	case asked == 0:
		return 0
	case half != half:
		return math.Inf(1)
	}
	return half / asked
}

// Widest is the largest half-width of first-order and total index of the outputs asked
// for and of each factor; not of groups, nor of what an output that never varies owes. An
// interval that is missing counts as infinite.
func (p *Plan) Widest(shares [][]sensitivity.Pair) float64 {
	widest := 0.0
	for t, target := range p.Index.Targets {
		if target.Of != OfOutput {
			continue
		}
		for i, s := range p.Index.Swaps {
			pair := &shares[t][i]
			if s.Number < 0 || pair.Constant {
				continue
			}
			for _, half := range []float64{pair.First.High - pair.First.Low, pair.Total.High - pair.Total.Low} {
				if half != half {
					return math.Inf(1)
				}
				widest = max(widest, half/2)
			}
		}
	}
	return widest
}

// indexRuns is how many runs of the model that many index rounds take, with screening and
// the walks over their rows.
func (p *Plan) indexRuns(rounds int) int {
	return rounds*p.Index.Rows*p.rowRuns() + p.Index.Screening.Spent()
}
