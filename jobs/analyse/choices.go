package analyse

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
	"proofmass/sensitivity/choose"
	"proofmass/sensitivity/estimate"
)

// choiceFiles are the files of one choice, and the bounds of its replicates.
type choiceFiles struct {
	paths  []string
	bounds []int
}

// addChoices joins a round to the samples of its choices.
func (a *Analyst) addChoices(round plan.Round, path func(plan.Slice) string) {
	if a.choices == nil {
		a.choices = make([]choiceFiles, a.Plan.Choosing.Count)
		if len(a.Plan.Choosing.Figures) > 0 {
			a.race = choose.NewRace(a.Plan.Choosing.Rules, a.Plan.Choosing.Count)
		}
	}
	last := 0
	for _, s := range round.Slices {
		c := &a.choices[s.Choice-1]
		c.paths = append(c.paths, path(s))
		if s.Choice == last {
			continue
		}
		if last = s.Choice; c.bounds == nil {
			c.bounds = []int{0}
		}
		for k := 1; k <= plan.Replicates; k++ {
			if b := round.FirstRow + round.Rows*k/plan.Replicates; b > c.bounds[len(c.bounds)-1] {
				c.bounds = append(c.bounds, b)
			}
		}
	}
}

// addFigures takes the figures of a slice into the race.
func (a *Analyst) addFigures(s plan.Slice, part run.Part) {
	if file, ok := part.(*run.File); ok && a.race != nil {
		for f, values := range file.Figures {
			a.race.Add(s.Choice-1, f, values)
		}
	}
}

// look sends away choices that are surely off, and tells which are left.
func (a *Analyst) look() []int {
	a.race.Look()
	in := a.race.In()
	for i := range in {
		in[i]++
	}
	return in
}

// OfChoice is an analyst of what one choice gave.
func (a *Analyst) OfChoice(choice int) *Analyst {
	files := &a.choices[choice-1]
	return &Analyst{Plan: a.Plan.ForChoice(choice), Workers: a.Workers, Context: a.Context, Tick: a.Tick, Budget: a.Budget,
		paths: files.paths, bounds: files.bounds, joined: joined{rounds: map[plan.Kind]int{plan.Sample: 1}, runs: map[plan.Kind]int{}}}
}

// A Chosen is what the table of choices says of one, with what it is made of.
type Chosen struct {
	Rows     int
	Standing choose.Standing
	Figures  []result.Estimate // of the plan's figures, in their order
	Claims   []result.Estimate // chances of the plan's claims
	Outputs  []result.Estimate // mean, p05, p50 and p95 of the outputs asked for
}

// Standing is how a choice stands in the race.
func (a *Analyst) Standing(choice int) choose.Standing {
	if a.race == nil {
		return choose.Standing{Best: choose.No, Front: choose.No}
	}
	return a.race.Standings()[choice-1]
}

// Choose makes the row of one choice from its tables.
func (a *Analyst) Choose(choice int, summary []result.SummaryRow, claims []result.ClaimRow) (Chosen, error) {
	files := &a.choices[choice-1]
	c := Chosen{Rows: files.bounds[len(files.bounds)-1], Standing: a.Standing(choice)}
	for f := range a.Plan.Choosing.Figures {
		e, err := a.chosenFigure(choice, f, summary, claims)
		if err != nil {
			return c, err
		}
		c.Figures = append(c.Figures, e)
	}
	for i := range claims {
		c.Claims = append(c.Claims, result.Estimate{Value: claims[i].Chance, Low: claims[i].ChanceLow, High: claims[i].ChanceHigh})
	}
	for _, o := range a.Plan.Index.Outputs {
		row := rowOf(summary, a.name(o))
		c.Outputs = append(c.Outputs, result.Estimate{Value: row.Mean, Low: row.MeanLow, High: row.MeanHigh}, result.Estimate{Value: row.P05, Low: row.P05Low, High: row.P05High},
			result.Estimate{Value: row.P50, Low: row.P50Low, High: row.P50High}, result.Estimate{Value: row.P95, Low: row.P95Low, High: row.P95High})
	}
	return c, nil
}

func rowOf(summary []result.SummaryRow, name string) *result.SummaryRow {
	return &summary[slices.IndexFunc(summary, func(r result.SummaryRow) bool { return r.Output == name })]
}

// chosenFigure is one of the figures that choices are compared by.
func (a *Analyst) chosenFigure(choice, number int, summary []result.SummaryRow, claims []result.ClaimRow) (result.Estimate, error) {
	f := &a.Plan.Choosing.Figures[number]
	if f.At == study.AtChance {
		row := &claims[slices.IndexFunc(claims, func(r result.ClaimRow) bool { return r.Claim == f.Of })]
		return result.Estimate{Value: row.Chance, Low: row.ChanceLow, High: row.ChanceHigh}, nil
	}
	row := rowOf(summary, f.Of)
	switch f.At {
	case study.AtMean:
		return result.Estimate{Value: row.Mean, Low: row.MeanLow, High: row.MeanHigh}, nil
	case "p05":
		return result.Estimate{Value: row.P05, Low: row.P05Low, High: row.P05High}, nil
	case "p50":
		return result.Estimate{Value: row.P50, Low: row.P50Low, High: row.P50High}, nil
	case "p95":
		return result.Estimate{Value: row.P95, Low: row.P95Low, High: row.P95High}, nil
	}
	e := result.Estimate{Value: map[string]float64{"p10": row.P10, "p25": row.P25, "p75": row.P75, "p90": row.P90}[f.At], Low: math.NaN(), High: math.NaN()}
	if a.Plan.Choosing.Rules.Figures[number].MayDecide() {
		half := estimate.HalfWidth(a.race.Values(choice-1, number), a.Plan.Study.Level)
		e.Low, e.High = e.Value-half, e.Value+half
		return e, nil
	}
	interval, err := a.OfChoice(choice).orderInterval(a.Plan.StoredColumns()[f.Stored].Name, f.Share())
	e.Low, e.High = interval.Low, interval.High
	return e, err
}

// orderInterval is the interval of a percentile of a column as if its rows were independent.
func (a *Analyst) orderInterval(stored string, p float64) (interval estimate.Interval, err error) {

	err = a.forEach(1, func(_ int, read reader, _ *estimate.Scratch) error {

		x, err := read(stored)
		if err != nil {
			return err
		}
		var values []float64
		err = x.Each(0, x.Rows(), func(piece []float64) error {
			for _, v := range piece {
				if v == v {
					values = append(values, v)
				}
			}
			return nil
		})
		slices.Sort(values)
		interval = estimate.OrderInterval(values, p, a.Plan.Study.Level)
		return err
	})
	return interval, err
}
